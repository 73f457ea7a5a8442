package care_test

import (
	"slices"
	"testing"

	"scaperound/domain/care"
	"scaperound/domain/visit"
)

// suffering are the signs of the animals that no good reading and no growing
// plant may talk away.
var suffering = []string{
	"fish_at_surface", "fish_at_surface_late", "fish_at_surface_all_day", "fish_at_surface_before_lights", "fish_at_inlet", "fish_rapid_gill_beat",
	"fish_on_bottom", "fish_darting", "fish_rubbing", "fish_shimmying", "fish_not_eating", "fins_clamped", "gills_brown", "gills_mucus",
	"white_spots_on_fish", "cottony_patches_on_fish", "shrimp_hiding", "shrimp_twitching", "shrimp_climb_out", "shrimp_stuck_in_moult", "snails_climb_out",
	"dead_animal_found_recently", "deaths_one_by_one", "deaths_of_new_arrivals", "deaths_after_each_change", "deaths_within_an_hour_of_change", "deaths_within_a_day_of_change", "shrimp_deaths",
}

func TestSufferingIsNeverExplainedAway(t *testing.T) {
	good := []opt{rd("tan", 0), rd("no2", 0), rd("no3", 15), rd("ph", 7.2), rd("kh", 5), rd("temp", 25)}
	for _, sign := range suffering {
		if d, ok := visit.SignOf(sign); !ok || d.Group != visit.SignAnimals {
			t.Fatalf("%s is no sign of the animals", sign)
		}
		for name, readings := range map[string][]opt{"with good readings": good, "without readings": nil} {
			a := care.Assess(made(append([]opt{animals("tetras", "shrimp", "snails"), plants("stems"), signs(sign, "plants_growing")}, readings...)...))
			if len(a.Causes) > 0 && (a.Causes[0].ID == "nothing_wrong" || a.Causes[0].ID == "senescence" || a.Causes[0].ID == "supersat_normal") {
				t.Errorf("%s %s: the first cause is %s", sign, name, a.Causes[0].ID)
			}
			done := actionsOf(a)
			if len(done) == 0 || slices.Contains(done, "explain_normal") || slices.Contains(done, "do_nothing_else") {
				t.Errorf("%s %s: %v", sign, name, done)
			}
			if a.Urgency == care.Routine || a.Status == care.AllWell {
				t.Errorf("%s %s: %s, %s", sign, name, a.Urgency, a.Status)
			}
			for _, l := range a.Customer {
				if l.Action == "explain_normal" {
					t.Errorf("%s %s: the customer reads that nothing needs doing", sign, name)
				}
			}
		}
	}
}

// One fish that rubs has the water read first; spots, a second sign, or water that
// is in order are for a vet.
func TestWhenAVetIsAsked(t *testing.T) {
	for _, c := range []struct {
		name string
		with []opt
		vet  bool
	}{
		{"one weak sign, nothing read", []opt{signs("fins_clamped")}, false},
		{"the same with the water in order", []opt{signs("fins_clamped"), rd("tan", 0), rd("no2", 0), rd("ph", 7.2), rd("temp", 25)}, true},
		{"two signs", []opt{signs("fins_clamped", "fish_shimmying")}, true},
		{"spots", []opt{signs("white_spots_on_fish")}, true},
	} {
		a := care.Assess(made(append([]opt{animals("tetras")}, c.with...)...))
		done := actionsOf(a)
		if slices.Contains(done, "vet") != c.vet {
			t.Errorf("%s: %v", c.name, done)
		}
		if !c.vet && !slices.Contains(done, "test_nh3_no2") {
			t.Errorf("%s: nobody reads the water: %v", c.name, done)
		}
	}
}

// Nobody straps a cylinder in a room that nobody may enter.
func TestNoWorkInARoomFullOfGas(t *testing.T) {
	gas := []opt{co2, charged, signs("cylinder_not_fixed", "person_headache"), rd("co2_air.room", 12000)}
	for _, x := range care.Assess(made(gas...)).Tasks {
		if x.Action == "fix_cylinder" || x.Action == "weigh_cylinder" || x.Action == "swap_cylinder" {
			t.Errorf("%s at 12 000 ppm", x.Action)
		}
	}
	loose := care.Assess(made(co2, charged, signs("cylinder_not_fixed")))
	if !slices.Contains(actionsOf(loose), "fix_cylinder") {
		t.Errorf("a loose cylinder is left loose: %v", actionsOf(loose))
	}
}

// What animals died of is told by the owner.
func TestCausesOfDeathStayInTheShop(t *testing.T) {
	a := care.Assess(made(animals("dwarf_shrimp"), signs("shrimp_deaths", "shrimp_stuck_in_moult", "shrimp_white_ring"), rd("gh", 1.8)))
	if len(a.Findings) == 0 {
		t.Fatal("nothing was found")
	}
	for _, f := range a.Findings {
		if f.Audience != care.ForShop && len(f.For) > 0 {
			t.Errorf("%s is told to the customer: %s", f.Rule, text(f.Say))
		}
	}
}
