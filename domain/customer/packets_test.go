package customer

import (
	"strings"
	"testing"

	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/typed"
)

// A fortnight from Sunday 6 to Saturday 19 December 2026: seven packets where
// every second day has one, the first on Monday; four of every third.
func TestPacketsByDay(t *testing.T) {
	a := Away{From: q.NewDate(2026, 12, 6), To: q.NewDate(2026, 12, 19)}
	for every, want := range map[int]struct {
		n           int
		first, last q.Date
	}{1: {14, a.From, a.To}, 2: {7, a.From.Add(1), a.To}, 3: {4, a.From.Add(2), a.From.Add(11)}, 0: {}} {
		days := Packets{EveryDays: every}.Days(a)
		if len(days) != want.n || want.n > 0 && (days[0] != want.first || days[len(days)-1] != want.last) {
			t.Errorf("every %d days: %v", every, days)
		}
	}
	if by := (Packets{}).FeederBy(a); by != q.NewDate(2026, 11, 29) {
		t.Errorf("the feeder is tried by %v", by)
	}
}

func TestParsePackets(t *testing.T) {
	day := q.NewDate(2026, 11, 30)
	get := func(pairs ...string) *typed.Form {
		return &typed.Form{Units: say.MetricUnits, Get: filled(pairs...)}
	}
	f := get("tank.x.every", "2", "tank.x.grams", "0,5", "tank.x.feeder", "on", "tank.x.tried", "2026-11-28", "tank.x.note", "lid sticks")
	if p := ParsePackets(f, "x", day); len(f.Faults) > 0 || p.EveryDays != 2 || p.Grams.V != 0.5 || !p.Feeder || !p.FeederTried.OK || p.Note != "lid sticks" {
		t.Errorf("%+v, %v", p, f.Faults)
	}
	f = get("tank.x.every", "5", "tank.x.grams", "80", "tank.x.tried", "soon")
	ParsePackets(f, "x", day)
	for _, name := range []string{"tank.x.every", "tank.x.grams", "tank.x.tried"} {
		if len(f.Faults.On(name)) != 1 {
			t.Errorf("%s: %v", name, f.Faults)
		}
	}
	f = get("tank.x.grams", "80", "confirm", "tank.x.grams=80")
	if p := ParsePackets(f, "x", day); len(f.Faults) > 0 || p.Grams.V != 80 {
		t.Errorf("confirmed: %+v, %v", p, f.Faults)
	}
	for want, f := range map[string]*typed.Form{
		"tank.x.tried impossible":  get("tank.x.feeder", "on", "tank.x.tried", "2026-12-01"), // tomorrow
		"tank.x.feeder impossible": get("tank.x.every", "0", "tank.x.feeder", "on"),
		"tank.x.feeder missing":    get("tank.x.every", "2", "tank.x.tried", "2026-11-28"),
		"tank.x.grams impossible":  get("tank.x.every", "0", "tank.x.grams", "1"),
		"tank.x.note too-long":     get("tank.x.note", strings.Repeat("n", 10000)),
		"tank.x.grams number":      get("tank.x.grams", "a pinch"),
	} {
		if ParsePackets(f, "x", day); faultsOf(f.Faults) != want {
			t.Errorf("faults %q, want %q", faultsOf(f.Faults), want)
		}
	}
}
