package care_test

import (
	"strings"
	"testing"

	"scaperound/domain/care"
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
)

func sheetOf(c care.Case, u say.Units) care.Sheet {
	return care.MakeSheet(care.Assess(c), c.Now, care.SheetFor{Shop: "Fernweir Aquascapes", Phone: "+353 1 555 0123", Tank: "Reed tank", By: "Ilo Vance", Units: u, Figures: true})
}

func TestSheetOfAQuietVisit(t *testing.T) {
	c := made(animals("tetras"), plants("stems"), fine, rd("temp", 25), rd("no3", 12), setup(func(s *tank.Setup) {
		s.Agreement = tank.Agreement{EveryDays: q.Some(14)}
	}), record(func(r *visit.Record) {
		r.Work = []visit.Work{{Kind: visit.WaterChange, Litres: q.Some(q.Litre(40))}, {Kind: visit.Trim}}
		r.NoteCustomer = "New stems by the wood."
	}))
	s := sheetOf(c, say.MetricUnits)
	if s.Version != care.SheetVersion || s.Status != care.AllWell || s.Top != "All is well." || len(s.Lines) != 0 || len(s.Donts) != 0 {
		t.Errorf("%+v", s)
	}
	if len(s.Done) != 2 || s.Done[0] != "40 L of water changed" || s.Note != "New stems by the wood." {
		t.Errorf("done %q, note %q", s.Done, s.Note)
	}
	if !s.Next.OK || s.Next.V != caseDay+14 || s.NextText != "We come again on Tuesday 17 March." {
		t.Errorf("next %v %q", s.Next, s.NextText)
	}
	if len(s.Figures) != 2 || s.Figures[0].Text != "25.0 °C" || s.Figures[0].StateText != "as it should be" || s.Figures[0].BandHi.V != 26 {
		t.Errorf("figures %+v", s.Figures)
	}
	us := sheetOf(c, say.Units{System: say.US, Decimal: '.'})
	if f := us.Figures[0]; f.Value != 77 || f.Unit != "°F" || f.BandHi.V != 78.8 {
		t.Errorf("in US units %+v", f)
	}
}

// A customer is asked only for what this customer does, and never told a cause
// of death.
func TestSheetStaysWithinWhatTheCustomerDoes(t *testing.T) {
	opts := []opt{animals("livebearers"), signs("heavy_feeding_recently", "snails_numerous"), setup(func(s *tank.Setup) {
		s.Agreement = tank.Agreement{EveryDays: q.Some(7)}
	})}
	none := sheetOf(made(opts...), say.MetricUnits)
	if len(none.Lines) != 0 || none.Status == care.PleaseDo {
		t.Errorf("a customer who does nothing is asked %+v", none.Lines)
	}
	feeds := sheetOf(made(append(opts, setup(func(s *tank.Setup) { s.Share.Feeds = true }))...), say.MetricUnits)
	if len(feeds.Lines) != 1 || feeds.Status != care.PleaseDo || !strings.Contains(feeds.Lines[0].Text, "Tuesday 10 March") {
		t.Errorf("a customer who feeds: %s, %+v", feeds.Status, feeds.Lines)
	}
	// Whoever is seen to feed does feed, whatever was agreed.
	seen := sheetOf(made(append(opts, signs("owner_feeds_several_times_a_day"))...), say.MetricUnits)
	if len(seen.Lines) != 1 || seen.Status != care.PleaseDo {
		t.Errorf("a customer who was seen to feed: %s, %+v", seen.Status, seen.Lines)
	}
}

func TestADeathIsReleasedByTheOwner(t *testing.T) {
	a := care.Assess(made(animals("tetras"), signs("dead_animal_found_recently", "hose_straight_from_tap")))
	if a.HoldFor != "death" || !a.NeedsOwner() {
		t.Errorf("held for %q", a.HoldFor)
	}
	for _, f := range a.Findings {
		if f.Rule == "death" && f.Audience != care.ForShop {
			t.Error("the finding of a death is for the shop")
		}
	}
}

func TestOpenTasksAreFollowedUp(t *testing.T) {
	flow := care.Task{ID: "t1", Action: "filter_clean_gentle", Who: care.Technician, Urgency: care.ThisVisit, Rank: care.RankPlants, Opened: q.Some(caseDay - 14), Why: []care.Reason{{Rule: "flow"}}}
	with := func(task care.Task, opts ...opt) care.Assessment {
		return care.Assess(made(append(opts, func(c *care.Case) { c.Open = []care.Task{task} })...))
	}
	find := func(a care.Assessment) *care.Task {
		for i := range a.Tasks {
			if a.Tasks[i].Action == "filter_clean_gentle" {
				return &a.Tasks[i]
			}
		}
		return nil
	}
	if x := find(with(flow, rd("flow_share", 45))); x == nil || x.ID != "t1" || !x.Renewed || x.Opened.V != caseDay-14 {
		t.Errorf("still called for: %+v", x)
	}
	if a := with(flow, rd("flow_share", 90)); find(a) != nil || len(a.Withdrawn) != 1 {
		t.Errorf("the flow is back: %v, withdrawn %v", actionsOf(a), a.Withdrawn)
	}
	if x := find(with(flow)); x == nil || x.ID != "t1" {
		t.Error("nobody looked, so it stays")
	}
	said := func(state string) opt {
		return record(func(r *visit.Record) { r.Tasks = []visit.TaskAnswer{{Task: "t1", State: state, Reason: "no_time"}} })
	}
	if a := with(flow, rd("flow_share", 45), said("done")); find(a) != nil {
		t.Error("it was done at this visit")
	}
	if a := with(flow, rd("flow_share", 45), said("declined")); find(a) != nil {
		t.Error("the customer declined")
	}
	if x := find(with(flow, rd("flow_share", 45), said("skipped"))); x == nil || x.Skips != 1 {
		t.Errorf("skipped once: %+v", x)
	}
}

// The recipe says litres of the net volume, matched to the tank, heater first
// and last.
func TestRecipe(t *testing.T) {
	a := care.Assess(made(animals("tetras"), rd("no3", 70), rd("temp", 24.5), source(tank.Tap, "kh", 5.0, "gh", 8.0), setup(func(s *tank.Setup) { s.CanLitres = q.Some(q.Litre(10)) })))
	r := a.Recipe
	if !r.Litres.OK || r.Litres.V != 40 || r.Cans.V != 4 || r.Temp.V != 24.5 {
		t.Errorf("%+v", r)
	}
	text := func(i int) string { return say.Render(r.Steps[i], say.MetricUnits) }
	if text(0) != "Heater off first." || text(len(r.Steps)-1) != "Heater on last; see its lamp." {
		t.Errorf("first %q, last %q", text(0), text(len(r.Steps)-1))
	}
	// 3 °dGH in 50 L: 0.535 mmol/L; gypsum and Epsom salt 3 to 1 by mass of Ca and Mg.
	soft := care.Assess(made(animals("livebearers"), weeks(2), rd("temp", 24.5), source(tank.Tap, "kh", 5.0, "gh", 5.0)))
	var gypsum, epsom float64
	for _, w := range soft.Recipe.Weigh {
		switch w.What {
		case "salt.gypsum":
			gypsum = w.Value
		case "salt.epsom":
			epsom = w.Value
		}
	}
	if d := gypsum - 2.97; d < -0.05 || d > 0.05 {
		t.Errorf("gypsum %g g", gypsum)
	}
	if d := epsom - 2.34; d < -0.05 || d > 0.05 {
		t.Errorf("Epsom salt %g g", epsom)
	}
}

func TestTwoToFourTests(t *testing.T) {
	for _, c := range corpus(t) {
		n := len(c.assess(t).Next.Tests)
		if n < 2 || n > 4 {
			t.Errorf("%s: %d tests for next time", c.ID, n)
		}
	}
	a := care.Assess(made(animals("tetras"), weeks(3), rd("tan", 0.5), rd("no2", 0.5)))
	if k := a.Next.Tests[0].Kind; k != q.TAN && k != q.Nitrite {
		t.Errorf("a young tank begins with %s", k)
	}
}
