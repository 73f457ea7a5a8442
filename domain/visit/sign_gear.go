package visit

// signsOfGear are the signs of the gear.
var signsOfGear = []SignDef{
	{"filter_not_running", SignGear, OnGear, "Filter standing still"},
	{"filter_leaks", SignGear, OnGear, "Filter dripping"},
	{"light_strong", SignGear, OnGear, "Light strong for these plants"},
	{"lamp_part_dark", SignGear, OnGear, "Lamp partly dark or flickering"},
	{"timer_clock_wrong", SignGear, OnGear, "Timer clock wrong"},
	{"solenoid_sticks", SignGear, OnGear, "Solenoid sticking"},
	{"bubble_rate_changed", SignGear, OnGear, "Bubble rate not as last time"},
	{"bubble_rate_never_adjusted", SignGear, OnGear, "Bubble rate never set since the build"},
	{"diffuser_clogged", SignGear, OnGear, "Diffuser clogged"},
	{"diffuser_clean", SignGear, OnGear, "Diffuser clean"},
	{"cylinder_not_fixed", SignGear, OnGear, "Cylinder loose"},
	{"heater_light_never_on", SignGear, OnGear, "Heater lamp off though the water is cold"},
	{"heater_light_on_above_setpoint", SignGear, OnGear, "Heater lamp on though the water is warm"},
	{"heater_tube_cracked", SignGear, OnGear, "Heater glass cracked"},
	{"doser_tube_empty", SignGear, OnGear, "Dosing tube run dry"},
	{"doser_bottle_full", SignGear, OnGear, "Dosing bottle fuller than it ought to be"},
	{"phosphate_binder_in_filter", SignGear, OnGear, "Phosphate binder in the filter"},
	{"iron_product_edta", SignGear, OnGear, "Iron in use is bound to EDTA"},
	{"kit_expired", SignGear, OnGear, "Test kit out of date or long open"},
	{"meter_not_calibrated", SignGear, OnGear, "Meter not calibrated for long"},
	{"breaker_tripped", SignGear, OnGear, "Breaker tripped"},
	{"no_residual_current_device", SignGear, OnGear, "Socket without residual-current protection"},
}
