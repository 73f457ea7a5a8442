package web

import (
	"slices"

	"scaperound/domain/visit"
	"scaperound/web/view"
)

// Each look shows at once the signs that are seen most, and the rest behind a
// tap.
var looks = []struct {
	id            visit.Look
	title         string
	fine, trouble string
	groups        []visit.SignGroup
	common        []string
}{
	{visit.LookAnimals, "Animals", "Well", "Not well", []visit.SignGroup{visit.SignAnimals},
		[]string{"fish_rapid_gill_beat", "fish_at_surface", "fish_not_eating", "fish_missing", "dead_animal_found_recently", "fish_rubbing", "shrimp_hiding", "shrimp_deaths"}},
	{visit.LookPlants, "Plants", "Well", "Not well", []visit.SignGroup{visit.SignPlants},
		[]string{"growth_stopped", "old_leaves_yellow_evenly", "old_leaves_pinholes", "young_leaves_pale_between_green_veins", "stem_tips_twisted", "leaves_dusty", "rosette_leaves_melt", "pearling_stopped"}},
	{visit.LookAlgae, "Algae", "None, or as usual", "More than usual", []visit.SignGroup{visit.SignAlgae},
		[]string{"green_dust_on_glass", "hard_green_spots_on_glass", "dark_tufts_on_leaf_edges", "long_green_threads", "brown_dust_on_surfaces", "blue_green_film", "green_fuzz_on_plants", "grey_branching_tufts"}},
	{visit.LookGear, "Gear, water and room", "Fine", "Something is wrong", []visit.SignGroup{visit.SignGear, visit.SignWater, visit.SignRoom},
		[]string{"filter_not_running", "filter_leaks", "timer_clock_wrong", "diffuser_clogged", "water_cloudy_white", "surface_film", "far_plants_not_moving", "tingle_in_water", "hissing_at_cylinder"}},
}

func looksOf(k visit.Kind) []view.VisitLook {
	var out []view.VisitLook
	for _, l := range looks {
		if k == visit.GearOnly && l.id != visit.LookGear {
			continue
		}
		v := view.VisitLook{ID: string(l.id), Title: l.title, Fine: l.fine, Trouble: l.trouble}
		for _, id := range l.common {
			if d, ok := visit.SignOf(id); ok {
				v.Common = append(v.Common, signOf(d))
			}
		}
		for _, g := range l.groups {
			for _, d := range visit.SignsIn(g) {
				if !slices.Contains(l.common, d.ID) {
					v.Rest = append(v.Rest, signOf(d))
				}
			}
		}
		out = append(out, v)
	}
	return out
}

func signOf(d visit.SignDef) view.VisitSign {
	plain := d.Group == visit.SignHistory || d.Group == visit.SignOwner || d.Group == visit.SignRoom
	return view.VisitSign{ID: d.ID, Label: d.Title, Plain: plain}
}

// toldSigns are what people tell: the past, and what the owner asks.
func toldSigns() []view.VisitSign {
	var out []view.VisitSign
	for _, g := range []visit.SignGroup{visit.SignHistory, visit.SignOwner} {
		for _, d := range visit.SignsIn(g) {
			out = append(out, signOf(d))
		}
	}
	return out
}
