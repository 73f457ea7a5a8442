package due_test

import (
	"testing"

	"scaperound/domain/customer"
	"scaperound/domain/due"
	q "scaperound/domain/quantity"
	"scaperound/domain/round"
)

// One break is typed for all days. Who begins at four in the afternoon has no
// time for one that is over by half past one, and goes on rounds all the same.
func TestALateShiftHasNoBreakAtNoon(t *testing.T) {
	f := staffed(week(visited("a", "s", every(14, 2), 12)), "ilo")
	w := &f.Person("ilo").Working
	w.Break, w.Hours = due.Break{Minutes: 30, From: 690, To: 810}, nil
	for day := 1; day <= 7; day++ {
		w.Hours = append(w.Hours, customer.Window{Weekday: day, From: 960, To: 1200})
	}
	b, _ := solved(t, &f, due.Book{})
	r, x, ok := b.Find(due.JobID("s", 1))
	if !ok || x.Begin < 16*round.Hour || r.Break.OK {
		t.Errorf("planned as %+v", b)
	}
	p, _ := f.Problem(f.Match(b).Jobs, nil)
	w.Hours[0].From = 480
	early, _ := f.Problem(f.Match(b).Jobs, nil)
	if p.People[0].Hours[0].Break.Length != 0 || early.People[0].Hours[0].Break.Length != 30*round.Minute {
		t.Errorf("the break of the late shift is %+v, of the early one %+v", p.People[0].Hours[0].Break, early.People[0].Hours[0].Break)
	}
}

// A break without its length is no break that anybody meant; none at all is.
func TestABreakIsTypedWholeOrNotAtAll(t *testing.T) {
	if _, faults := due.ParseWorking(fields("break_from", "12:00", "break_to", "13:00"), metric, due.Working{}); len(faults) != 1 || faults[0].Name != "break" {
		t.Errorf("times without a length: %v", faults)
	}
	for _, none := range [][]string{{}, {"break", "0", "break_from", "12:00"}} {
		if w, faults := due.ParseWorking(fields(none...), metric, due.Working{}); len(faults) > 0 || w.Break != (due.Break{}) {
			t.Errorf("%q: %+v, %v", none, w.Break, faults)
		}
	}
}

func TestLeaveThatIsOverIsNotNoted(t *testing.T) {
	today := q.NewDate(2026, 11, 24)
	for _, c := range []struct{ from, to, field string }{
		{"2026-11-24", "", ""}, {"2026-11-20", "2026-11-24", ""}, {"2026-11-23", "", "from"}, {"2026-11-20", "2026-11-23", "to"}, {"2026-11-26", "2026-11-25", "to"},
	} {
		_, faults := due.ParseLeave(fields("from", c.from, "to", c.to), today)
		if c.field == "" && len(faults) > 0 || c.field != "" && (len(faults) != 1 || faults[0].Name != c.field) {
			t.Errorf("%s to %s: %v", c.from, c.to, faults)
		}
	}
}
