package care

// PauseDose leaves a part out of the dosing plan; its subject is the ion.
const PauseDose = "pause_dose"

// Action describes one thing that can be done, for the planner. Its words are
// in the catalogue of words under "action." and its id.
type Action struct {
	ID      string
	Order   int // place among tasks of one urgency and rank
	Minutes int
	Wet     bool   // hands or gear go into the water
	Never   bool   // refused as advice, whoever wishes it
	Test    bool   // only looks, changes nothing
	Helps   bool   // ought to make signs go away, by which it is judged next time
	Told    bool   // nothing for hands: the customer is told, or it is left alone
	Alters  string // light, co2, nutrients: one of these at a time, where cause and effect must be seen
	Family  string // of one family only one stands
	Share   string // what a customer must do to be asked: feeds, tops_up, doses, changes_water, leaves_out; "" never
	Bring   []string
	Caution []string
}

// actions in the order in which they are done.
var actions = func() []Action {
	as := []Action{
		{ID: "leave_room_ventilate", Minutes: 1},
		{ID: "call_emergency_services", Minutes: 2},
		{ID: "keep_others_out", Minutes: 1},
		{ID: "isolate_power", Minutes: 2, Caution: []string{"dry_hands", "breaker_first"}},
		{ID: "shut_valve_if_safe", Minutes: 1, Caution: []string{"no_gas_breathed"}},
		{ID: "electrician", Minutes: 5, Caution: []string{"licensed_trade"}},
		{ID: "co2_off_now", Minutes: 1, Family: "co2"},
		{ID: "aerate_now", Minutes: 5, Bring: []string{"air_pump"}},
		{ID: "keep_water_sample", Minutes: 3, Bring: []string{"clean_bottle"}},
		{ID: "dechlorinate", Minutes: 3, Bring: []string{"dechlorinator"}},
		{ID: "tell_owner_urgent", Minutes: 5},
		{ID: PhoneCustomer, Minutes: 5},
		{ID: "test_nh3_no2", Minutes: 8, Test: true, Bring: []string{"kit_tan_no2"}},
		{ID: "predict_nh3_before_change", Minutes: 3, Test: true, Bring: []string{"kit_kh"}},
		{ID: "wc_50_repeat", Minutes: 45, Wet: true, Family: "change", Share: "changes_water", Bring: []string{"hose"}, Caution: []string{"heater_off_first"}},
		{ID: "wc_30_50", Minutes: 35, Wet: true, Family: "change", Share: "changes_water", Bring: []string{"hose"}, Caution: []string{"heater_off_first"}},
		{ID: "wc_many_small", Minutes: 20, Wet: true, Family: "change", Share: "changes_water", Bring: []string{"hose"}, Caution: []string{"heater_off_first"}},
		{ID: "wc_20", Minutes: 25, Wet: true, Family: "change", Share: "changes_water", Bring: []string{"hose"}, Caution: []string{"heater_off_first"}},
		{ID: "wc_large_once", Minutes: 60, Wet: true, Family: "change", Bring: []string{"hose"}, Caution: []string{"heater_off_first"}},
		{ID: "wc_matched", Minutes: 5, Bring: []string{"thermometer"}},
		{ID: "rinse_stagnant_filter_before_restart", Minutes: 20, Wet: true, Caution: []string{"unplug_filter"}},
		{ID: "find_cause_before_co2_restart", Minutes: 10},
		{ID: "check_timer", Minutes: 5, Test: true},
		{ID: "check_heater", Minutes: 5, Test: true, Caution: []string{"unplug_heater"}},
		{ID: "weigh_cylinder", Minutes: 3, Test: true, Bring: []string{"scale"}},
		{ID: "swap_cylinder", Minutes: 15, Bring: []string{"full_cylinder", "spanner"}, Caution: []string{"ventilate_room", "cylinder_upright", "pressure_off", "soap_test", "cylinder_low_room"}},
		{ID: "fix_cylinder", Minutes: 10, Bring: []string{"strap"}, Caution: []string{"cylinder_upright"}},
		{ID: "remove_source_cu", Minutes: 30},
		{ID: "carbon", Minutes: 10, Wet: true, Bring: []string{"carbon"}},
		{ID: "remove_debris", Minutes: 10, Wet: true},
		{ID: "heat_slow", Minutes: 5},
		{ID: "cool_slow", Minutes: 10},
		{ID: "no_feed", Share: "feeds", Family: "feed"},
		{ID: "feed_less", Share: "feeds", Family: "feed"},
		{ID: "no_new_animals", Told: true, Share: "any"},
		{ID: "quarantine_new_animals", Minutes: 5},
		{ID: "disinfect_tools", Minutes: 10, Bring: []string{"own_net"}},
		{ID: "vet", Minutes: 5, Caution: []string{"vet_decides"}},
		{ID: "seed_biofilter", Minutes: 10, Wet: true, Bring: []string{"mature_media"}, Caution: []string{"clean_tank_only"}},
		{ID: "acclimate_drip", Minutes: 60, Bring: []string{"drip_line"}},
		{ID: "salt_nacl", Minutes: 10, Family: "chloride", Bring: []string{"scale"}, Caution: []string{"dissolve_first"}},
		{ID: "add_chloride_ca", Minutes: 10, Family: "chloride", Bring: []string{"scale"}, Caution: []string{"dissolve_first", "salt_gets_hot"}},
		{ID: "ro_blend", Minutes: 10, Bring: []string{"ro_water"}},
		{ID: "use_unsoftened", Minutes: 5},
		{ID: "topoff_ro", Minutes: 5, Share: "tops_up", Bring: []string{"ro_water"}},
		{ID: "gh_change_slow", Minutes: 5},
		{ID: "kh_up_slow", Minutes: 10, Bring: []string{"scale"}, Caution: []string{"dissolve_first"}},
		{ID: "filter_clean_gentle", Helps: true, Minutes: 20, Wet: true, Caution: []string{"unplug_filter", "tank_water_only"}},
		{ID: "improve_flow", Helps: true, Minutes: 10, Wet: true},
		{ID: "remove_adsorber", Helps: true, Minutes: 10, Wet: true, Caution: []string{"unplug_filter"}},
		{ID: "reduce_organics", Helps: true, Minutes: 15, Wet: true},
		{ID: "manual_removal", Minutes: 15, Wet: true},
		{ID: "trim_old", Minutes: 15, Wet: true, Bring: []string{"scissors"}},
		{ID: "co2_down", Minutes: 5, Family: "co2", Alters: "co2"},
		{ID: "co2_start_earlier_steady", Helps: true, Minutes: 5, Alters: "co2"},
		{ID: "co2_retune_slow", Helps: true, Minutes: 5, Family: "co2", Alters: "co2"},
		{ID: "co2_up", Minutes: 5, Family: "co2", Alters: "co2"},
		{ID: "light_down", Helps: true, Minutes: 5, Family: "light", Alters: "light"},
		{ID: "light_up", Helps: true, Minutes: 5, Family: "light", Alters: "light"},
		{ID: PauseDose, Minutes: 3, Share: "leaves_out"},
		{ID: "dose_no3", Helps: true, Minutes: 5, Alters: "nutrients", Share: "doses", Bring: []string{"scale"}},
		{ID: "dose_po4", Helps: true, Minutes: 5, Alters: "nutrients", Share: "doses", Bring: []string{"scale"}},
		{ID: "dose_k", Helps: true, Minutes: 5, Alters: "nutrients", Share: "doses", Bring: []string{"scale"}},
		{ID: "dose_mg", Helps: true, Minutes: 5, Alters: "nutrients", Share: "doses", Bring: []string{"scale"}},
		{ID: "dose_ca", Helps: true, Minutes: 5, Alters: "nutrients", Bring: []string{"scale"}},
		{ID: "dose_fe", Helps: true, Minutes: 5, Alters: "nutrients", Share: "doses"},
		{ID: "dose_micro", Helps: true, Minutes: 5, Alters: "nutrients", Share: "doses"},
		{ID: "feed_roots", Helps: true, Minutes: 10, Wet: true},
		{ID: "raise_plant_mass", Helps: true, Minutes: 20, Wet: true},
		{ID: "replant", Minutes: 30, Wet: true, Bring: []string{"tweezers"}},
		{ID: "retest", Minutes: 8, Test: true, Bring: []string{"fresh_kit"}},
		{ID: "check_meter", Minutes: 8, Test: true, Bring: []string{"calibration_solution"}},
		{ID: "check_doser", Minutes: 8, Test: true, Bring: []string{"measuring_cylinder"}},
		{ID: "measure_late", Minutes: 5, Test: true},
		{ID: "measure_dawn_o2", Minutes: 5, Test: true},
		{ID: "test_source", Minutes: 8, Test: true},
		{ID: "report_units", Minutes: 3, Test: true},
		{ID: "explain_normal", Told: true, Minutes: 3, Share: "any"},
		{ID: "wait", Told: true},
		{ID: "do_nothing_else", Told: true},
		{ID: "finish_leave_list", Minutes: 5},
		{ID: "extra_visit"},
		// What the product never advises. Each is here so that it can be refused.
		{ID: "acid", Never: true},
		{ID: "add_animals", Never: true},
		{ID: "antibiotic", Never: true},
		{ID: "blackout", Never: true, Caution: []string{"only_as_a_bundle"}},
		{ID: "dose_aldehyde", Never: true},
		{ID: "dose_copper", Never: true},
		{ID: "dose_nh4", Never: true},
		{ID: "dose_peroxide", Never: true},
		{ID: "filter_and_substrate_same_day", Never: true},
		{ID: "heat_fast", Never: true},
		{ID: "kh_up_fast", Never: true},
		{ID: "media_replace_all", Never: true},
		{ID: "media_rinse_tap", Never: true},
		{ID: "more_of_all", Never: true},
		{ID: "touch_water", Never: true},
	}
	for i := range as {
		as[i].Order = i
	}
	return as
}()

var actionByID = func() map[string]*Action {
	m := make(map[string]*Action, len(actions))
	for i := range actions {
		m[actions[i].ID] = &actions[i]
	}
	return m
}()

// Actions lists every action in the order of work. The caller must not change
// the slice.
func Actions() []Action { return actions }

// ActionOf describes an action; one that nobody knows comes last and is never
// advised.
func ActionOf(id string) Action {
	if a, ok := actionByID[id]; ok {
		return *a
	}
	return Action{ID: id, Order: len(actions), Never: true}
}
