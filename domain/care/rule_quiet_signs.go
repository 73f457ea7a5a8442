package care

import (
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

// quietSigns are what happened, or is seen, without harm as yet: a look or a test
// settles what came of it. They wish nothing that alters the tank.
var quietSigns = []struct {
	sign   string
	animal bool // matters where there are animals
	wishes func(v *View) []Wish
}{
	{"water_cloudy_white", false, (*View).testNitrogen},
	{"medicine_used_recently", true, (*View).testNitrogen},
	{"substrate_disturbed_recently", true, (*View).testNitrogen},
	{"heavy_feeding_recently", true, func(v *View) []Wish { return all(v.testNitrogen(), do(RankAnimals, "feed_less")) }},
	{"new_animals_without_quarantine", true, func(v *View) []Wish { return do(RankAnimals, "quarantine_new_animals") }},
	{"salt_added_recently", false, func(*View) []Wish { return do(RankAnimals, "retest") }},
	{"pure_ro_without_salts", false, func(*View) []Wish { return do(RankAnimals, "test_source") }},
	{"hose_straight_from_tap", true, func(*View) []Wish { return do(RankAnimals, "test_source") }},
	{"bubble_rate_changed", false, func(v *View) []Wish { return when(v.Injected, do(RankPlants, "measure_late")) }},
	{"lamp_part_dark", false, func(*View) []Wish { return do(RankPlants, "check_timer") }},
}

var ruleQuietSigns = Rule{
	Meta: Meta{
		ID: "quiet_signs", Title: "What a look or a test settles", System: Water, Evidence: "C",
		Why:    "Medicine, stirred-up ground, much food, new animals, cloudy water: often nothing comes of it, and a test in time tells.",
		Source: "Practice",
	},
	Applies: looks("", groups(visit.SignHistory, visit.SignWater, visit.SignGear, visit.SignAnimals)),
	Decide: func(v *View) []Finding {
		f := Finding{State: Seen, Audience: ForShop, Say: say.S("find.quiet_signs")}
		for _, q := range quietSigns {
			if v.Has(q.sign) && (v.Animals || !q.animal) {
				f.Wishes = append(f.Wishes, q.wishes(v)...)
			}
		}
		if len(f.Wishes) == 0 {
			return nil
		}
		return found(f)
	},
}
