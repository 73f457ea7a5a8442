package visit

// signsOfAlgae are the signs of algae and growths.
var signsOfAlgae = []SignDef{
	{"brown_dust_on_surfaces", SignAlgae, OnAlgae, "Brown dusty film"},
	{"green_dust_on_glass", SignAlgae, OnAlgae, "Green dusty film on the glass"},
	{"hard_green_spots_on_glass", SignAlgae, OnAlgae, "Hard green dots on the glass"},
	{"hard_green_spots_on_old_leaves", SignAlgae, OnAlgae, "Hard green dots on old leaves"},
	{"long_green_threads", SignAlgae, OnAlgae, "Green threads, finger-long"},
	{"green_fuzz_on_plants", SignAlgae, OnAlgae, "Short green fur on plants"},
	{"dark_tufts_on_leaf_edges", SignAlgae, OnAlgae, "Black tufts along leaf edges"},
	{"dark_tufts_on_outlet", SignAlgae, OnAlgae, "Black tufts on the outlet, wood or stone"},
	{"grey_branching_tufts", SignAlgae, OnAlgae, "Grey tufts, branched"},
	{"tufts_turn_red_in_alcohol", SignAlgae, OnAlgae, "Tufts go red in alcohol"},
	{"blue_green_film", SignAlgae, OnAlgae, "Slimy blue-green film"},
	{"film_peels_in_sheets", SignAlgae, OnAlgae, "Film comes off in sheets"},
	{"algae_wipe_off_easily", SignAlgae, OnAlgae, "Wipes off with a finger"},
	{"algae_return_within_days", SignAlgae, OnAlgae, "Back a few days after cleaning"},
	{"white_fluff_on_new_wood", SignAlgae, OnAlgae, "White fluff on fresh wood"},
}
