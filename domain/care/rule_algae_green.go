package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

var ruleAlgaeGreen = Rule{
	Meta: Meta{
		ID: "algae_green", Title: "Green algae and light", System: Light, Evidence: "C",
		Why:    "Dust is left to run its course, then wiped; hard spots are scraped, and phosphate is looked at; threads are taken out by hand. Less light is the correction that hurts nobody.",
		Source: "Gladyshev and Gubelit 2019 for threads; practice",
	},
	Applies: looks("", groups(visit.SignAlgae, visit.SignWater)),
	Decide: func(v *View) []Finding {
		light := v.believed("light_excess")
		seen := v.Has("green_dust_on_glass", "hard_green_spots_on_glass", "hard_green_spots_on_old_leaves", "long_green_threads", "green_fuzz_on_plants", "water_green")
		if !light && !seen {
			return nil
		}
		f := Finding{State: Seen, Urgency: Routine, Say: say.S("find.algae_green")}
		if light {
			f.State, f.Say = High, say.S("find.algae_green.light")
			if v.Has("lamp_replaced_recently") {
				f.Urgency = ThisVisit // a jump of light; what is seen for weeks waits its turn
			}
		}
		green := v.Has("water_green")
		f.Wishes = all(
			when((light || green || v.believed("direct_sun")) && (green || !v.Fact("tan_present")), do(RankPlants, "light_down")),
			when(green && v.Animals, do(RankAnimals, "test_nh3_no2")),
			when(v.Has("long_green_threads", "green_fuzz_on_plants", "hard_green_spots_on_glass"), do(RankLooks, "manual_removal")),
			when(v.Has("hard_green_spots_on_old_leaves"), do(RankLooks, "trim_old")),
			when(v.spotsWithoutPhosphate(), []Wish{v.phosphateWish()}),
			when(v.Has("green_dust_on_glass") && !green, do(RankLooks, "wait")),
			when(v.Has("long_green_threads") && !v.Fact("dense"), do(RankPlants, "raise_plant_mass")),
			ban(RankPlants, "why.light_feeds_algae", "light_up"),
			ban(RankAnimals, "why.not_a_cure", "dose_aldehyde", "dose_peroxide", "dose_copper"), ban(RankAnimals, "why.dark_rots", "blackout"),
			ban(RankAnimals, "why.animals_first", "add_animals"),
		)
		return v.caused("light_excess", f)
	},
}

// spotsWithoutPhosphate reports hard green spots over water that reads no
// phosphate: less light and some phosphate are one remedy.
func (v *View) spotsWithoutPhosphate() bool {
	po4 := v.Value(q.Phosphate)
	return v.Plants && po4.OK && po4.V < leastPhosphate && v.Has("hard_green_spots_on_glass", "hard_green_spots_on_old_leaves")
}

// leastPhosphate is the PO4 in mg/L below which a kit shows nothing.
const leastPhosphate = 0.05
