package say

// englishPlan are the planner's sentences: why a task stands, waits or is struck
// out, the recipe of a change, what to test next.
var englishPlan = map[string]string{
	"plan.outranks": "kept, because it is for the {rank} and the objection is not", "plan.people_first": "set aside until nobody is in danger",
	"plan.merged": "two rules ask for the same", "plan.other_chosen": "“{action}” covers it", "plan.other_work": "something is being changed, so this says nothing",
	"plan.one_change": "one change at a time, so that we see what it does", "plan.ceiling": "a list of {n} is as long as gets done; this one waits",
	"plan.renewed": "still called for", "plan.rest_of_change": "a part of it was done at this visit", "plan.done_now": "done at this visit; the readings are from before", "plan.done_wished_again": "done, and the readings still ask for it",
	"plan.declined": "the customer declined it", "plan.did_not_help": "it was done and did not help; the next cause is tried", "plan.not_needed": "found not to be needed", "plan.no_co2": "no CO2 is injected here any more", "plan.banned_now": "what was read or seen now speaks against it",
	"plan.settled":       "looked again; no longer called for",
	"plan.visit_is_near": "the agreed visit is as near",
	"task.do":            "{action}.", "task.leave_list": "Left open, to be finished now: {item}.",
	"refused.never": "not something that this product advises",

	"state.in_band": "in band", "state.low": "low", "state.high": "high", "state.borderline": "borderline", "state.retest": "retest", "state.not_due": "not due",
	"state.not_judged": "not judged", "state.not_measured": "not measured", "state.seen": "seen", "state.due": "due", "state.fine": "fine", "state.internal": "not worked out",
	"system.fine": "{system}: fine", "system.not_measured": "{system}: nothing read or looked at this time",
	"system.unsaid":          "{system}: something was seen, and no sign says what",
	"system.co2_meaningless": "CO2: with so little KH, or such a pH, the two say nothing of it; an indicator with a solution of its own does",
	"system.figure":          "{system}: {what} at {value} is beside its target",
	"system.no_co2":          "no CO2 is injected", "system.last_looked": "Last looked at on {day}.",
	"sure.read": "Measured; what a kit or a scale can mean is counted in.", "sure.eye": "By eye.", "sure.ahead": "Reckoned from what this tank has done so far.", "sure.kit_cannot_tell": "This kit cannot tell.",
	"sure.cause":      "Most likely {cause}, at {share}.",
	"sure.cause_open": "Likeliest so far: {cause}; that is not clear yet.", "since": "So since {day} at the least.",
	"change.below": "{what} below {limit} would change this.", "change.above": "{what} above {limit} would change this.",
	"separate.sign": "To look for: “{sign}” would speak for {cause}, rather than {other}.", "separate.read": "To read: {what} would tell {cause} from {other}.",
	"finding.internal": "The rule “{rule}” could not be worked out for this visit; the others stand.",
	"evidence.sign":    "{sign}",

	"recipe.heater_off": "Heater off first.", "recipe.drain": "Take out {litres}.", "recipe.drain_to": "Drain {line}: {litres}.", "recipe.ro": "{litres} of the new water is RO water.",
	"recipe.dechlorinate": "Treat {litres} of new water against chlorine.", "recipe.weigh": "Weigh {amount} of {what} into the new water, dissolved first.",
	"recipe.reach": "The new water then has GH {gh} and KH {kh}.", "recipe.reach_gh": "The new water then has GH {gh}.",
	"recipe.unsoftened": "Draw it from before the softener. Test its GH and KH before anything is weighed.", "task.by_unsoftened": "The water from before the softener does it; nothing is weighed before that is tested.", "task.in_new_water": "With the new water, as it is weighed there.",
	"recipe.match": "New water at {temp}, no more than 2 °C off for the tank as a whole.", "recipe.cold_mains": "Cold mains water holds too much gas once it is warm: let it stand, stir and warm it before it goes in.",
	"recipe.heater_on": "Heater on last; see its lamp.",

	"due.doubt": "the last reading is in doubt", "due.tan": "ammonia can still come up here", "due.tan_spot": "not read for long; it would hurt most", "due.no2": "nitrite follows ammonia",
	"due.ph_late": "CO2 is judged late in the light", "due.kh": "CO2 and pH hang on it", "due.kh_plain": "the filter uses it up",
	"due.moves": "it moves from visit to visit", "due.stale": "last read on {day}; nothing is less sure here", "due.never": "not read so far",
	"due.ph_late_visit": "CO2 is judged late in the light, and our visits come before: one visit late in the light, or an indicator that the customer photographs then", "due.cleaned": "the filter was cleaned and not measured after",
	"due.kh_lost": "it was gone when it was last read", "due.paused": "it is left out of the dose until it reads lower", "due.follow": "it shows whether what we did has worked", "due.separates": "it tells {cause} from {other}", "due.asked": "it was asked for and is not read yet",
	"due.temp": "at every visit",

	"done.water_change": "Water changed", "done.water_change_litres": "{litres} of water changed", "done.filter_clean": "Filter cleaned", "done.trim": "Plants trimmed",
	"done.glass": "Panes cleaned", "done.vacuum": "Ground vacuumed", "done.plants_in": "Plants put in", "done.plants_out": "Plants taken out", "done.cylinder_swap": "CO2 cylinder swapped",
	"done.co2_set": "CO2 set", "done.light_set": "Light set", "done.heater_set": "Heater set", "done.doser_refill": "Dosing bottles filled", "done.top_off": "Topped up", "done.part_fitted": "Part fitted",

	"next.on": "We come again on {day}.", "next.open": "We will call to agree the next visit.",
}
