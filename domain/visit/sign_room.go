package visit

// signsOfRoom are the signs of the room and the people in it.
var signsOfRoom = []SignDef{
	{"person_dizzy", SignRoom, OnPerson, "Somebody dizzy"},
	{"person_headache", SignRoom, OnPerson, "Somebody with a headache"},
	{"person_fast_breathing", SignRoom, OnPerson, "Somebody breathing fast"},
	{"tingle_in_water", SignRoom, OnPerson, "Tingling from the water"},
	{"hissing_at_cylinder", SignRoom, OnRoom, "Hissing at the cylinder"},
	{"room_below_ground", SignRoom, OnRoom, "Cellar, or no window"},
	{"room_sprayed", SignRoom, OnRoom, "Something sprayed or painted nearby"},
	{"sunlight_on_tank", SignRoom, OnRoom, "Sun on the tank"},
	{"radiator_beside_tank", SignRoom, OnRoom, "Radiator or oven next to it"},
	{"heat_wave", SignRoom, OnRoom, "Hot spell"},
	{"winter_cold_tap", SignRoom, OnRoom, "Tap water winter-cold"},
}
