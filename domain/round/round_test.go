package round

import (
	"testing"
	"time"

	q "scaperound/domain/quantity"
)

// monday is the first day of the weeks in these tests.
var monday = q.NewDate(2026, time.November, 30)

// nine is a working day from nine to five for every weekday.
func nine(start int) []Hours {
	var out []Hours
	for d := time.Monday; d <= time.Friday; d++ {
		out = append(out, Hours{Weekday: d, Shift: Shift{From: 9 * Hour, To: 17 * Hour, Start: start, End: start}})
	}
	return out
}

// line is n places on one meridian, some 1.1 km apart.
func line(n int) []Place {
	var out []Place
	for i := range n {
		out = append(out, Place{ID: itoa(i), Name: "place " + itoa(i), Lat: 50 + float64(i)/100, Lon: 8})
	}
	return out
}

func small() Problem {
	p := Problem{From: monday, Days: 5, Places: line(8),
		People: []Person{{ID: "ada", Name: "Ada", Hours: nine(0)}, {ID: "ben", Name: "Ben", Hours: nine(0)}}}
	for i := 1; i < 8; i++ {
		p.Stops = append(p.Stops, Stop{ID: "s" + itoa(i), Name: "site " + itoa(i), Place: i, Work: Hour, Due: monday.Add(i % 5)})
	}
	return p
}

func TestEveryStopOfAnEasyWeekIsPlacedOnItsDay(t *testing.T) {
	p := small()
	plan := Solve(p, Options{Iterations: 200, Threads: 1})
	if len(plan.Unplaced) > 0 {
		t.Fatalf("unplaced: %v", plan.Unplaced)
	}
	due := map[string]q.Date{}
	for _, s := range p.Stops {
		due[s.ID] = s.Due
	}
	n := 0
	for _, r := range plan.Routes {
		for _, v := range r.Visits {
			n++
			if due[v.Stop] != r.Day {
				t.Errorf("%s is on %v, due on %v", v.Stop, r.Day, due[v.Stop])
			}
		}
	}
	if n != len(p.Stops) {
		t.Errorf("%d visits, want %d", n, len(p.Stops))
	}
}

func TestTheCheckerFindsNothingInAPlanOfOurs(t *testing.T) {
	p := small()
	p.Stops[2].People = 2
	p.Stops[3].KeptApart = true
	p.Stops[4].Windows = []Window{{Weekday: time.Thursday, From: 13 * Hour, To: 14 * Hour}}
	p.People[0].Hours[2].Break = Break{From: 12 * Hour, To: 13 * Hour, Length: Hour / 2}
	plan := Solve(p, Options{Iterations: 200, Threads: 1})
	for _, b := range Check(p, plan) {
		t.Errorf("%s: %+v", b.Rule, b)
	}
	if len(plan.Unplaced) > 0 {
		t.Errorf("unplaced: %v", plan.Unplaced)
	}
}
