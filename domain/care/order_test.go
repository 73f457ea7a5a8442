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

func taskOf(a care.Assessment, action string) (care.Task, int) {
	i := slices.IndexFunc(a.Tasks, func(t care.Task) bool { return t.Action == action })
	if i < 0 {
		return care.Task{}, i
	}
	return a.Tasks[i], i
}

func text(s say.Sentence) string { return say.Render(s, say.MetricUnits) }

// Where KH is gone and nobody read the ammonia: the test first, then so little
// water that KH rises by half a degree at most (0.5 of 8-0.2, 6.4 L of 100), the
// owner is asked for another visit, and nothing says to match a higher KH.
func TestLostKHWithAmmoniaUnknown(t *testing.T) {
	a := care.Assess(made(animals("community"), rd("kh", 0.2), rd("no3", 90), rd("temp", 24), source(tank.Tap, "kh", 8.0, "gh", 12.0)))
	_, test := taskOf(a, "test_nh3_no2")
	change, at := taskOf(a, "wc_many_small")
	if test < 0 || at < test {
		t.Fatalf("the list: %v", actionsOf(a))
	}
	if w := change.Amount; len(w) != 1 || w[0].Value < 6.4 || w[0].Value > 6.42 || !strings.HasPrefix(text(change.Say), "First read ammonia. Without ammonia: 6.4 L a day at most") {
		t.Errorf("%v, %q", w, text(change.Say))
	}
	if x, i := taskOf(a, "extra_visit"); i < 0 || x.Who != care.Owner {
		t.Errorf("nobody asks the owner: %v", actionsOf(a))
	}
	if slices.Contains(actionsOf(a), "wc_matched") {
		t.Error("the new water is to be matched in KH")
	}
	for _, w := range a.Recipe.Weigh {
		if w.What == "salt.khco3" {
			t.Errorf("KH is lifted: %v", a.Recipe.Weigh)
		}
	}
	if l := a.Recipe.Litres; !l.OK || l.V > 6.5 {
		t.Errorf("the recipe takes %v", l)
	}
}

// KH 0.2, TAN 3, source KH 8: even 10 % of the source passes 0.02 mg/L NH3-N, so the
// water is blended down; with KH 0.5 it stays below (see the view's tests).
func TestChangeUnderAmmoniaSaysItsLitres(t *testing.T) {
	a := care.Assess(made(animals("community"), rd("kh", 0.2), rd("ph", 5.2), rd("tan", 3.0), rd("temp", 25), source(tank.Tap, "kh", 8.0)))
	change, _ := taskOf(a, "wc_many_small")
	blend, _ := taskOf(a, "ro_blend")
	if len(change.Amount) != 1 || change.Amount[0].Value != 10 || !strings.Contains(text(change.Say), "blended to KH") {
		t.Errorf("%v, %q", change.Amount, text(change.Say))
	}
	if len(blend.Amount) != 1 || blend.Amount[0].Value < 5 || blend.Amount[0].Value >= 10 {
		t.Errorf("pure water: %v", blend.Amount)
	}
}

// "Please do this today" is for what is due today.
func TestTodayIsForToday(t *testing.T) {
	feeds := setup(func(s *tank.Setup) { s.Share.Feeds = true })
	if a := care.Assess(made(feeds, plants("swords"), signs("old_leaves_clean_edged_holes", "grazers_seen_at_night"))); a.Status == care.PleaseDo || len(a.Customer) == 0 {
		t.Errorf("nothing needs doing: %s, %v", text(a.Top), a.Customer)
	}
	if a := care.Assess(made(feeds, animals("livebearers"), signs("owner_feeds_several_times_a_day", "snails_numerous"))); text(a.Top) != "Please keep to these lines until we are back." {
		t.Errorf("less food from now on: %s", text(a.Top))
	}
	if a := care.Assess(made(feeds, animals("tetras"), rd("tan", 2.0), rd("ph", 8.2))); text(a.Top) != "Please do this today." {
		t.Errorf("no food, today: %s", text(a.Top))
	}
}

// The day of the next visit is not the day on which animals may come; in a
// starting tank the gate's own condition is told, and its readings are held
// against the gate.
func TestNoDayReleasesAnimals(t *testing.T) {
	agreed := setup(func(s *tank.Setup) { s.Agreement = tank.Agreement{EveryDays: q.Some(7)} })
	a := care.Assess(made(agreed, weeks(3), rd("tan", 0.5), rd("no2", 0.5), func(c *care.Case) {
		c.Profile.Bands = []tank.Band{{Kind: q.TAN, Hi: q.Some(1.0)}, {Kind: q.Nitrite, Hi: q.Some(1.0)}}
	}))
	if len(a.Donts) == 0 || !strings.Contains(text(a.Donts[0].Say), "at two of our visits at least five days apart") {
		t.Errorf("%v", a.Donts)
	}
	for _, s := range a.Strips {
		if (s.Kind == q.TAN || s.Kind == q.Nitrite) && s.State != care.High {
			t.Errorf("%s 0.5 under the gate is %s", s.Kind, s.State)
		}
	}
	a = care.Assess(made(agreed, animals("tetras"), rd("no3", 70)))
	if len(a.Donts) == 0 || text(a.Donts[0].Say) != "No new animals before we say so." {
		t.Errorf("%v", a.Donts)
	}
}

func TestHardnessIsSettledBeforeAnimalsCome(t *testing.T) {
	a := care.Assess(made(weeks(3), rd("kh", 12), func(c *care.Case) { c.Profile.Bands = []tank.Band{{Kind: q.KH, Lo: q.Some(1.0), Hi: q.Some(8.0)}} }))
	if !slices.ContainsFunc(a.Findings, func(f care.Finding) bool { return f.Say.ID == "find.hardness.early.high" }) {
		t.Errorf("%v", a.Findings)
	}
}

// The animals' guide goes before the plan: where the plan gives nitrate, it is
// left out.
func TestNitrateIsLeftOutOfThePlan(t *testing.T) {
	plan := func(by string) opt {
		return func(c *care.Case) {
			c.Plan.Lines = []tank.DosingLine{{Solute: q.Nitrate, PerDose: 500, Weekdays: 0b1010101, ByWhom: by}, {Solute: q.Phosphate, PerDose: 50, Weekdays: 1}}
			c.Setup.Share.Doses = by == "customer"
		}
	}
	a := care.Assess(made(animals("tetras"), rd("no3", 60), plan("customer")))
	x, i := taskOf(a, care.PauseDose)
	if i < 0 || x.Subject != "no3" || x.Who != care.Customer || text(x.Say) != "Leave NO3 out of the dose until it reads below 30 mg/L." {
		t.Errorf("%+v", x)
	}
	if !slices.ContainsFunc(a.Customer, func(l care.Line) bool {
		return strings.HasPrefix(text(l.Say), "No nitrate for now")
	}) {
		t.Errorf("the customer is told %v", a.Customer)
	}
	if x, i := taskOf(care.Assess(made(animals("tetras"), rd("no3", 60), plan("device"))), care.PauseDose); i < 0 || x.Who != care.Technician {
		t.Errorf("a doser is set by us: %+v", x)
	}
	if _, i := taskOf(care.Assess(made(animals("tetras"), rd("no3", 20), plan("customer"))), care.PauseDose); i >= 0 {
		t.Error("20 is below the guide")
	}
	if _, i := taskOf(care.Assess(made(animals("tetras"), rd("no3", 60))), care.PauseDose); i >= 0 {
		t.Error("nobody doses nitrate here")
	}
}
