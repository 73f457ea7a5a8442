package care_test

import (
	"slices"
	"strings"
	"testing"

	"scaperound/domain/care"
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/tank"
)

// The sheet's first sentence neither calls a pressing thing "in hand" nor says
// that all is well above something that is not.
func TestFirstSentenceFitsTheList(t *testing.T) {
	for name, c := range map[string]struct {
		opts []opt
		says string
	}{
		"gasping":             {[]opt{animals("tetras"), signs("fish_at_surface_all_day")}, "We are seeing to "},
		"old leaves":          {[]opt{animals("tetras"), plants("stems"), fine, signs("stems_leggy"), rd("ppfd", 12)}, "Nothing pressing; we are looking after "},
		"a kit past its date": {[]opt{animals("tetras"), plants("stems"), fine, signs("kit_expired"), rd("no3", 12)}, "All in hand; one test is repeated next time."},
		"a figure beside its target": {[]opt{animals("tetras"), plants("stems"), fine, rd("kh", 12), func(c *care.Case) {
			c.Profile.Bands = []tank.Band{{Kind: q.KH, Lo: q.Some(3.0), Hi: q.Some(6.0)}}
		}}, "Nothing pressing; we are looking after the water."},
		"nothing the matter": {[]opt{animals("tetras"), plants("stems"), fine, rd("temp", 25)}, "All is well."},
	} {
		if s := sheetOf(made(c.opts...), say.MetricUnits); !strings.HasPrefix(s.Top, c.says) {
			t.Errorf("%s: %q, want %q", name, s.Top, c.says)
		}
	}
}

func recipeText(a care.Assessment) string {
	var all []string
	for _, s := range a.Recipe.Steps {
		all = append(all, say.Render(s, say.MetricUnits))
	}
	return strings.Join(all, "\n")
}

// While animals gasp, nobody is handed the usual change; one that is called for
// has its recipe.
func TestUsualChangeWaitsForTheAnimals(t *testing.T) {
	gasping := care.Assess(made(animals("tetras"), signs("fish_at_surface_all_day", "surface_not_moving"), rd("temp", 30)))
	if slices.Contains(actionsOf(gasping), "wc_30_50") || gasping.Recipe.Litres.OK {
		t.Errorf("%v with the recipe %q", actionsOf(gasping), recipeText(gasping))
	}
	poisoned := care.Assess(made(animals("tetras"), signs("fish_at_surface_all_day"), rd("temp", 25), rd("no2", 2), rd("ph", 7.2)))
	if !poisoned.Recipe.Litres.OK {
		t.Errorf("%v without a recipe", actionsOf(poisoned))
	}
}

// What a softener's water would need is not weighed into water from before it.
func TestNothingIsWeighedForUnknownWater(t *testing.T) {
	a := care.Assess(made(animals("livebearers"), rd("gh", 1), signs("softener_in_house"), source("softened_tap", "gh", 0.0, "kh", 8.0)))
	if !slices.Contains(actionsOf(a), "use_unsoftened") || len(a.Recipe.Weigh) > 0 || !strings.Contains(recipeText(a), "before the softener") {
		t.Errorf("%v, weighed %v, %q", actionsOf(a), a.Recipe.Weigh, recipeText(a))
	}
}

// A salt that the new water gets is not weighed a second time for the tank.
func TestASaltIsWeighedOnce(t *testing.T) {
	a := care.Assess(made(animals("tetras"), plants("demanding_stems"), signs("stem_tips_twisted", "young_leaves_cupped", "stem_tips_die", "pure_ro_without_salts"), rd("gh", 0.5), source(tank.RO)))
	weighed := slices.ContainsFunc(a.Recipe.Weigh, func(x care.Amount) bool { return x.What == "salt.gypsum" })
	i := slices.IndexFunc(a.Tasks, func(x care.Task) bool { return x.Action == "dose_ca" })
	if !weighed || i < 0 {
		t.Fatalf("the case does not ask for both: %v, %v", actionsOf(a), a.Recipe.Weigh)
	}
	if len(a.Tasks[i].Amount) > 0 || !strings.Contains(care.TaskText(a.Tasks[i], say.MetricUnits), "With the new water") {
		t.Errorf("%+v %q", a.Tasks[i].Amount, say.Render(a.Tasks[i].Say, say.MetricUnits))
	}
}

// Where ammonia is about, matching never means lifting KH.
func TestMatchedWaterLiftsNoKHBesideAmmonia(t *testing.T) {
	for name, kh := range map[string][]opt{"read": {rd("kh", 6)}, "unread": nil} {
		a := care.Assess(made(append([]opt{animals("tetras"), signs("fish_at_surface_all_day"), rd("temp", 25), rd("tan", 1), rd("ph", 7.2), rd("no2", 1)}, kh...)...))
		i := slices.IndexFunc(a.Tasks, func(x care.Task) bool { return x.Action == "wc_matched" })
		if i < 0 {
			t.Fatalf("%s: %v", name, actionsOf(a))
		}
		if s := say.Render(a.Tasks[i].Say, say.MetricUnits); !strings.Contains(s, "at most") && !strings.Contains(s, "no higher") {
			t.Errorf("%s: %q", name, s)
		}
	}
}

// The sheet shows no figure that nobody judged, and calls CO2 that is surely
// above its target high though it may be below what animals bear.
func TestFiguresOfCO2(t *testing.T) {
	figures := func(phase string) (out []care.Figure) {
		c := made(animals("tetras"), plants("stems"), fine, rd("ph."+phase, 6.65), rd("kh", 5), rd("temp", 25), setup(func(s *tank.Setup) { s.CO2.Injected = true }),
			func(c *care.Case) {
				c.Profile.Bands = append(slices.DeleteFunc(slices.Clone(c.Profile.Bands), func(b tank.Band) bool { return b.Kind == q.CO2 }), tank.Band{Kind: q.CO2, Lo: q.Some(15.0), Hi: q.Some(25.0)})
			})
		for _, f := range sheetOf(c, say.MetricUnits).Figures {
			if f.Kind == q.CO2 || f.Kind == q.Acidity {
				out = append(out, f)
			}
		}
		return out
	}
	for _, f := range figures("late") {
		if f.Kind == q.CO2 && f.StateText != "on the high side" {
			t.Errorf("CO2 %s (%v to %v) against 15 to 25 is %q", f.Text, f.Lo, f.Hi, f.StateText)
		}
	}
	if len(figures("late")) == 0 {
		t.Error("nothing is shown where it was judged")
	}
	for _, f := range figures("before") {
		if f.State == care.NotJudged {
			t.Errorf("%s is shown though it was not judged", f.Title)
		}
	}
}

// A heater that is stuck is unplugged; beside a fault of the electrics the
// breaker stays the first word.
func TestBreakerOutranksThePlug(t *testing.T) {
	first := func(ids ...string) string {
		a := care.Assess(made(animals("tetras"), signs(ids...), rd("temp", 33), setup(func(s *tank.Setup) { s.Heater.Target = q.Some(q.Celsius(25)) })))
		i := slices.IndexFunc(a.Tasks, func(x care.Task) bool { return x.Action == "isolate_power" })
		if i < 0 {
			t.Fatalf("%v: %v", ids, actionsOf(a))
		}
		return care.TaskText(a.Tasks[i], say.MetricUnits)
	}
	if s := first("heater_light_on_above_setpoint"); !strings.Contains(s, "plug") {
		t.Errorf("a stuck heater: %q", s)
	}
	if s := first("heater_light_on_above_setpoint", "breaker_tripped"); !strings.Contains(s, "breaker") || strings.Contains(s, "plug") {
		t.Errorf("with a breaker that trips: %q", s)
	}
}
