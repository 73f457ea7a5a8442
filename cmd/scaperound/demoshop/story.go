package demoshop

import (
	"strconv"

	"scaperound/domain/care"
)

// tale is what real life does to one tank beside the rule of mass balance: day
// by day (days before today) and visit by visit (visits before the last).
type tale struct {
	day   func(w *world, ago int, d *day)
	visit func(w *world, left int, p *post)
	// answer says what the technician did with an open task; empty: leave it to habit.
	answer func(left int, t care.Task) (state, reason, words string)
	// cannotEnter says that nobody could get in at this visit, and why.
	cannotEnter func(left int) string
}

var tales = map[string]tale{
	// Two weeks of doses missed, said so; then another time nobody knows.
	"missed_doses": {
		day: func(_ *world, ago int, d *day) {
			if ago > 60 && ago <= 74 || ago > 17 && ago <= 24 {
				d.no3, d.po4, d.k, d.fe = 0, 0, 0, 0
			}
		},
		visit: func(_ *world, left int, p *post) {
			switch left {
			case 8, 9:
				p.set("dosed", "some_missed")
				p.set("dosed.missed", "6")
			case 2:
				p.set("dosed", "not_known")
			}
		},
	},
	// The cylinder ran empty between two visits; plants and pH tell.
	"dead_cylinder": {
		day: func(w *world, ago int, _ *day) {
			if ago == 38 {
				w.pool.cylinder = 0
			}
		},
		visit: func(_ *world, left int, p *post) {
			if left == 2 {
				p.set("look.plants", "trouble")
				p.set("sign.pearling_stopped", "seen")
				p.set("sign.cylinder_empty_for_a_week", "seen")
				p.set("look.gear", "trouble")
				p.set("work.cylinder_swap", "on")
				p.set("note.inside", "Bottle empty, gauge at nought. Swapped for the spare from the van.")
			}
		},
	},
	"no_entry": {
		cannotEnter: func(left int) string {
			if left == 4 {
				return "Kitchen closed for a fire drill; nobody would open."
			}
			return ""
		},
	},
	"evaporation": {},
	"filter_slows": {
		day: func(_ *world, ago int, d *day) {
			if ago < 70 {
				d.slowing *= 1.9
			}
		},
		visit: func(_ *world, left int, p *post) {
			if left <= 1 {
				p.set("flow.eye", "little")
				p.set("sign.mulm_in_corners", "seen")
			}
		},
	},
	"declined": {
		answer: func(left int, t care.Task) (string, string, string) {
			if left == 2 && t.Action == "check_timer" {
				return "declined", "", "Nobody behind the desk before the board meeting, please."
			}
			return "", "", ""
		},
	},
	"old_kit": {
		visit: func(_ *world, left int, p *post) {
			if left == 0 {
				p.set("sign.kit_expired", "seen")
			}
		},
	},
	"light_changed": {
		visit: func(_ *world, left int, p *post) {
			if left == 6 {
				p.set("since", "altered")
				p.set("since.altered.note", "The porter turned the lamp up for a wedding and left it.")
				p.set("sign.light_strong", "seen")
			}
			if left >= 3 && left <= 5 {
				p.set("look.algae", "trouble")
				p.set("sign.hard_green_spots_on_glass", "seen")
			}
		},
	},
	"overfed": {
		day: func(_ *world, _ int, d *day) { d.feed *= 1.3 },
		visit: func(_ *world, left int, p *post) {
			if left%2 == 0 {
				p.set("sign.owner_feeds_several_times_a_day", "seen")
			}
			if left == 0 {
				p.set("look.algae", "trouble")
				p.set("sign.long_green_threads", "seen")
			}
		},
	},
	"holidays": {
		day: func(_ *world, ago int, d *day) {
			if ago > 90 && ago < 140 {
				d.feed = 0
			}
		},
		visit: func(_ *world, left int, p *post) {
			if left == 8 {
				p.set("since", "fed_by_others")
				p.set("since.fed_by_others.note", "The caretaker, with packets.")
			}
		},
	},
	"algae": {
		visit: func(_ *world, left int, p *post) {
			if left <= 5 {
				p.set("look.algae", "trouble")
				p.set("sign.dark_tufts_on_leaf_edges", "seen")
				if left > 2 {
					p.set("sign.co2_varies_day_to_day", "seen")
				}
			}
		},
	},
	"cycling": {
		visit: func(_ *world, left int, p *post) {
			if left <= 9 && left >= 4 {
				p.set("look.algae", "trouble")
				p.set("sign.brown_dust_on_surfaces", "seen")
			}
			if left <= 2 {
				p.set("sign.owner_wants_animals_now", "seen")
			}
		},
	},
	"death": {
		visit: func(_ *world, left int, p *post) {
			if left == 1 {
				p.set("since", "died")
				p.set("since.died.note", "One of the catfish, found at noon on the ground. Gills pale, skin whole, curled. Others eat.")
				p.set("look.animals", "trouble")
				p.set("sign.dead_animal_found_recently", "seen")
				p.set("moved.1.group", "catfish")
				p.set("moved.1.n", "1")
				p.set("moved.1.reason", "died")
			}
		},
	},
	"heat": {
		day: func(_ *world, ago int, d *day) {
			if ago > 110 && ago < 124 {
				d.room = 30
			}
		},
		visit: func(_ *world, left int, p *post) {
			if left == 16 || left == 17 {
				p.set("sign.heat_wave", "seen")
			}
		},
	},
}

func whole(n int) string { return strconv.Itoa(n) }
