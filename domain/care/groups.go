package care

// evidenceGroup puts signs and facts of one thing together, so that they are
// not counted as if they were independent. What stands alone is its own group.
var evidenceGroup = func() map[string]string {
	m := map[string]string{}
	for group, members := range map[string][]string{
		"breath":         {"fish_at_surface", "fish_at_surface_late", "fish_at_surface_all_day", "fish_at_surface_before_lights", "fish_rapid_gill_beat", "fish_at_inlet", "gills_brown"},
		"leaving_water":  {"shrimp_climb_out", "snails_climb_out"},
		"skin":           {"fish_rubbing", "fins_clamped", "gills_mucus", "fish_shimmying"},
		"spots":          {"white_spots_on_fish", "cottony_patches_on_fish"},
		"unwell":         {"fish_on_bottom", "fish_darting", "fish_not_eating", "shrimp_twitching", "shrimp_hiding"},
		"loss":           {"fish_missing", "fish_found_on_floor", "fins_torn"},
		"death":          {"dead_animal_found_recently", "deaths_one_by_one", "deaths_of_new_arrivals", "deaths_after_each_change", "deaths_within_an_hour_of_change", "deaths_within_a_day_of_change", "shrimp_deaths", "since_died"},
		"moult":          {"shrimp_stuck_in_moult", "shrimp_white_ring", "shrimp_lose_eggs"},
		"shells":         {"snail_shells_pitted_white", "snail_shells_thin", "shell_oldest_whorls_worst"},
		"old_leaves":     {"old_leaves_yellow_evenly", "old_leaves_dark_dull", "old_leaves_purple_tinge", "old_leaves_drop", "old_leaves_yellow_between_green_veins"},
		"leaf_holes":     {"old_leaves_yellow_margins", "old_leaves_pinholes", "holes_start_as_dots"},
		"shade":          {"lower_leaves_yellow_in_shade", "lower_stems_bare", "stems_leggy"},
		"young_leaves":   {"young_leaves_pale_between_green_veins", "young_leaves_pale_all_over"},
		"tips":           {"young_leaves_cupped", "stem_tips_twisted", "stem_tips_die", "young_leaves_scorched_edges"},
		"growth":         {"growth_stopped", "growth_slow_dark", "plants_dull", "pearling_stopped"},
		"melt":           {"rosette_leaves_melt", "strap_leaves_dissolve", "moss_dissolves", "stems_rot_at_base"},
		"tufts":          {"dark_tufts_on_leaf_edges", "dark_tufts_on_outlet", "tufts_turn_red_in_alcohol", "grey_branching_tufts"},
		"green_film":     {"green_dust_on_glass", "algae_wipe_off_easily"},
		"green_spots":    {"hard_green_spots_on_glass", "hard_green_spots_on_old_leaves"},
		"threads":        {"long_green_threads", "green_fuzz_on_plants"},
		"blue_green":     {"blue_green_film", "film_peels_in_sheets"},
		"brown":          {"brown_dust_on_surfaces"},
		"green_water":    {"water_green", "back_glass_not_visible"},
		"smell":          {"smell_of_decay", "smell_musty", "smell_rotten_eggs"},
		"still":          {"surface_not_moving", "far_plants_not_moving", "eye_not", "eye_little", "mulm_in_corners", "leaves_dusty"},
		"flow":           {"flow_low", "flow_fine"},
		"person":         {"person_dizzy", "person_headache", "person_fast_breathing"},
		"shock":          {"tingle_in_water"},
		"co2_number":     {"co2_alarm", "co2_watch", "co2_fine", "co2_low", "co2_low_any"},
		"co2_history":    {"co2_varies_day_to_day", "cylinder_empty_for_a_week", "co2_swing", "bubble_rate_changed", "co2_switched_off_recently"},
		"cylinder":       {"cylinder_low", "cylinder_fine", "gauge_falling"},
		"oxygen":         {"o2_over", "o2_enough", "o2_short"},
		"gas":            {"gas_over", "gas_fine", "gas_beads_after_change", "bubbles_in_fins"},
		"tan":            {"tan_present", "tan_zero", "tan_old", "nh3_guide", "nh3_harm", "nh3_low"},
		"nitrite":        {"no2_present", "no2_harm", "no2_zero", "no2_old"},
		"nitrate":        {"no3_over", "no3_fine", "no3_low", "no3_enough", "no3_alone_low"},
		"potassium":      {"k_low", "k_enough", "k_excess", "k_very_high"},
		"feeding":        {"heavy_feeding_recently", "owner_feeds_several_times_a_day", "feed_over", "since_fed", "fed_by_somebody_else"},
		"changes":        {"changes_small_and_rare", "changes_stopped"},
		"cold_change":    {"hose_straight_from_tap", "winter_cold_tap"},
		"temperature":    {"temp_high", "temp_low", "temp_fine", "below_set_point", "above_set_point", "temp_fell"},
		"heater":         {"heater_light_never_on", "heater_light_on_above_setpoint", "heater_small"},
		"light":          {"light_short", "light_fine", "light_much", "light_strong"},
		"day":            {"long_day", "no_dark", "short_day"},
		"age":            {"young_tank", "old_tank", "diatom_age", "past_diatoms", "first_weeks", "fresh_soil"},
		"kh":             {"kh_gone", "kh_fine", "ph_crashed"},
		"power":          {"power_off_recently", "since_power", "breaker_tripped"},
		"filter_stopped": {"filter_not_running", "filter_stood_still_recently"},
		"filter_washed":  {"media_washed_hot_tap", "filter_cleaned_thoroughly_recently"},
		"chlorine":       {"chlorine_in_tank", "chlorine_zero", "chlorine_in_source", "source_chlorine_zero", "conditioner_forgotten", "utility_announced_chloramine"},
		"metal":          {"metal", "metal_zero", "metal_source", "new_metal_pipework"},
		"doser":          {"doser_tube_empty", "doser_bottle_full", "dosing_doser", "dose_in_vain"},
		"nothing_given":  {"nothing_dosed", "dosing_none", "doses_missed"},
		"harder":         {"hardness_rises_each_visit", "harder_than_source", "owner_tops_off_with_tap", "topoff_tap"},
		"soft_water":     {"pure_ro_without_salts", "source_ro_pure", "gh_low"},
		"softener":       {"softener_in_house", "softened", "sodium_high", "kh_over_gh"},
		"units":          {"units_explain", "units_possible"},
		"kit":            {"kit_expired", "meter_not_calibrated"},
		"grazers":        {"grazers_seen_at_night", "no_grazers_seen_at_night"},
		"arrivals":       {"new_animals_without_quarantine", "poured_in_without_drip", "since_new_animals"},
	} {
		for _, x := range members {
			m[x] = group
		}
	}
	return m
}()

func groupOf(what string) string {
	if g, ok := evidenceGroup[what]; ok {
		return g
	}
	return what
}

// troubling are groups of signs that something is wrong.
var troubling = set("breath", "leaving_water", "skin", "spots", "unwell", "loss", "death", "moult", "shells", "old_leaves", "leaf_holes",
	"old_leaves_clean_edged_holes", "shade", "young_leaves", "tips", "growth", "melt", "tufts", "green_film", "green_spots", "threads", "blue_green",
	"brown", "green_water", "water_cloudy_white", "smell", "surface_film", "still", "person", "shock", "co2_history",
	"gas", "filter_stopped", "filter_washed", "filter_leaks", "power", "heater", "doser", "hissing_at_cylinder", "room_sprayed", "algicide_overdosed",
	"double_dose_given", "carpet_lifts_off", "fish_thin", "red_colours_fading", "white_crust_on_leaves", "algae_return_within_days",
	"harder", "timer_clock_wrong", "solenoid_sticks", "diffuser_clogged", "lamp_part_dark", "heater_tube_cracked", "roots_brown_soft",
	"snails_numerous", "young_leaves_small_green", "kit", "chlorine", "metal", "floating_plants_shade_tank")

// distress are the groups of signs that animals suffer.
var distress = set("breath", "leaving_water", "skin", "spots", "unwell", "death", "moult")

// troublingFacts are readings that are out by themselves.
var troublingFacts = set("co2_alarm", "nh3_guide", "nh3_harm", "tan_present", "no2_present", "no3_over", "temp_high", "temp_low", "temp_fell", "o2_short",
	"gas_over", "flow_low", "cylinder_low", "kh_gone", "metal", "room_co2", "ec_contradicts", "gas_contradicts", "reading_slipped", "units_explain", "chlorine_in_tank", "cylinder_missing",
	"co2_low", "harder_than_source", "reading_jumped", "bag_salts_differ", "k_excess", "source_moved")

// reassuring is what speaks for nothing being wrong.
var reassuring = map[string]float64{
	"animals_normal": 2, "plants_growing": 2, "bubbles_on_leaves": 1.5, "nutrients_fine": 1.5, "co2_fine": 1.5,
	"shrimp_berried": 2, "white_fluff_on_new_wood": 3, "owner_asks_for_ammonium": 2, "owner_wants_redder_plants": 1.5,
	"owner_wants_more_of_everything": 2, "owner_asks_for_new_media": 1.5, "owner_worried_by_a_reading": 1.2, "owner_asks_for_antibiotic": 1.2,
}

func set(names ...string) map[string]bool {
	m := make(map[string]bool, len(names))
	for _, n := range names {
		m[n] = true
	}
	return m
}
