package care_test

import (
	"testing"

	"scaperound/domain/care"
	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
)

func extraOf(a care.Assessment) (on q.Date, ok bool) { return a.Next.Extra.V, a.Next.Extra.OK }

func did(kind visit.WorkKind) opt {
	return record(func(r *visit.Record) { r.Work = append(r.Work, visit.Work{Kind: kind}) })
}

// What runs out well before the agreed visit asks for one in between, on a day
// before it; what does not, or not for sure, leaves the agreement alone.
func TestVisitsInBetween(t *testing.T) {
	rising := []opt{animals("tetras"), ago(56, "no3", 2.0), ago(42, "no3", 8.0), ago(28, "no3", 14.0), ago(14, "no3", 20.0), rd("no3", 26.0)}
	falling := []opt{animals("rasboras"), ago(56, "kh", 9.0), ago(42, "kh", 7.5), ago(28, "kh", 6.0), ago(14, "kh", 4.5), rd("kh", 3.0)}
	clogging := []opt{cleanFlow, ago(42, "flow", 850.0), ago(28, "flow", 760.0), ago(14, "flow", 680.0), rd("flow", 605.0)}
	with := func(more ...opt) func([]opt) care.Case {
		return func(base []opt) care.Case { return made(append(append([]opt(nil), base...), more...)...) }
	}
	soft := setup(func(s *tank.Setup) { s.Animals = []tank.Living{{Group: "bee_shrimp", Count: 8}} })
	for _, c := range []struct {
		name string
		of   care.Case
		want bool
	}{
		{"nitrate passes the guide, six weeks until the next visit", with(every(42))(rising), true},
		{"nitrate passes the guide, the next visit in a fortnight", with(every(14))(rising), false},
		{"nitrate, a visit every three days", with(every(3))(rising), false},
		{"nitrate in a tank without animals", with(every(42), setup(func(s *tank.Setup) { s.Animals = nil }))(rising), false},
		{"KH is used up, six weeks until the next visit", with(every(42))(falling), true},
		{"KH falls, the next visit in a week", with(every(7))(falling), false},
		{"KH of a tank that is soft on purpose", with(every(42), soft)(falling), false},
		{"a filter that clogs, not yet cleaned: cleaned today", with(every(120))(clogging), false},
		{"a filter that clogs again after today's cleaning", with(every(150), did(visit.FilterClean))(clogging), true},
		{"a filter that clogs, a fortnight", with(every(14), did(visit.FilterClean))(clogging), false},
	} {
		a := care.Assess(c.of)
		on, got := extraOf(a)
		if got != c.want {
			t.Errorf("%s: a visit in between %v, want %v (%v)", c.name, got, c.want, actionsOf(a))
			continue
		}
		if got && (on <= caseDay || on >= caseDay.Add(c.of.Setup.Agreement.EveryDays.V)) {
			t.Errorf("%s: asked for on day %d from now, the agreed visit is in %d", c.name, on-caseDay, c.of.Setup.Agreement.EveryDays.V)
		}
	}
}

func TestAFilterThatWillClogIsCleanedToday(t *testing.T) {
	a := care.Assess(made(cleanFlow, every(120), ago(42, "flow", 850.0), ago(28, "flow", 760.0), ago(14, "flow", 680.0), rd("flow", 605.0)))
	for _, x := range a.Tasks {
		if x.Action == "filter_clean_gentle" && x.When == care.WhenThisVisit {
			return
		}
	}
	t.Errorf("not on today's list: %+v", a.Tasks)
}
