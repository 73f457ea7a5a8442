package visit

// signsOfWater are the signs of the water.
var signsOfWater = []SignDef{
	{"water_green", SignWater, OnWater, "Green"},
	{"water_cloudy_white", SignWater, OnWater, "Milky"},
	{"water_tinted_yellow", SignWater, OnWater, "Yellow or like tea"},
	{"back_glass_not_visible", SignWater, OnWater, "Back pane out of sight"},
	{"surface_film", SignWater, OnWater, "Skin on the surface"},
	{"surface_not_moving", SignWater, OnWater, "Surface still"},
	{"far_plants_not_moving", SignWater, OnWater, "Far-end plants do not stir"},
	{"mulm_in_corners", SignWater, OnWater, "Mulm in still corners"},
	{"gas_beads_after_change", SignWater, OnWater, "Fine gas beads after a change"},
	{"smell_musty", SignWater, OnWater, "Smells musty"},
	{"smell_of_decay", SignWater, OnWater, "Smells of rot"},
	{"smell_rotten_eggs", SignWater, OnWater, "Smells of rotten eggs"},
}
