package customer

import (
	"math"
	"strings"
	"testing"
	"time"

	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
)

var (
	metric  = say.Units{System: say.Metric, Decimal: '.'}
	us      = say.Units{System: say.US, Decimal: '.'}
	comma   = say.Units{System: say.Metric, Decimal: ','}
	theDay  = q.NewDate(2026, time.November, 24)
	milling = []string{"name", "The mill", "address", "4 Weir Lane", "town", "Alderbrook", "position", "53.35, -6.26", "parking_minutes", "5",
		"stairs", "one flight", "stopcock", "under the sink", "breaker", "hall", "rcd_tested", "2026-03-01", "hose", "12", "drain", "yard gully",
		"room", "40", "co2_alarm", "no", "spending_limit", "60.50", "window.1", "9-12, 14:00-17:30", "altitude", "30"}
)

func TestParseSite(t *testing.T) {
	s, fs := ParseSite(filled(milling...), metric, Site{ID: "s", Customer: "c", Version: 3}, theDay)
	if len(fs) > 0 {
		t.Fatal(fs)
	}
	if s.ID != "s" || s.Customer != "c" || s.Version != 3 {
		t.Errorf("lost who it is: %+v", s)
	}
	c := s.Card
	if s.Position.V != (Position{53.35, -6.26}) || c.ParkingMinutes.V != 5 || c.Hose.V != 12 || c.Room.V != 40 || c.SpendingLimit.V != 60.5 || s.Altitude.V != 30 {
		t.Errorf("read as %+v", s)
	}
	if !c.CO2Alarm.OK || c.CO2Alarm.V || c.RCDTested.V != q.NewDate(2026, time.March, 1) {
		t.Errorf("alarm %v, tested %v", c.CO2Alarm, c.RCDTested)
	}
	if len(s.Windows) != 2 || s.Windows[1] != (Window{1, 14 * 60, 17*60 + 30}) {
		t.Errorf("windows %v", s.Windows)
	}
}

func TestBlankIsNotZero(t *testing.T) {
	s, fs := ParseSite(filled("name", "The mill", "parking_minutes", "0"), metric, Site{}, theDay)
	if len(fs) > 0 {
		t.Fatal(fs)
	}
	c := s.Card
	if !c.ParkingMinutes.OK || c.Hose.OK || c.Room.OK || c.CO2Alarm.OK || c.SpendingLimit.OK || c.RCDTested.OK || s.Position.OK || s.Altitude.OK {
		t.Errorf("what was left empty became known: %+v", s)
	}
}

// One foot is 0.3048 m exactly, so a cubic foot is 0.028316846592 m³.
func TestSiteMeasuresInOtherUnits(t *testing.T) {
	for _, c := range []struct {
		units       say.Units
		hose, unit  string
		wantM       float64
		room, runit string
		wantM3      float64
	}{
		{us, "40", "ft", 12.192, "1000", "ft3", 28.316846592},
		{metric, "40 ft", "m", 12.192, "1000 ft³", "m3", 28.316846592},
		{metric, "1200 cm", "m", 12, "40 m3", "m3", 40},
		{comma, "12,5", "m", 12.5, "40,25", "m3", 40.25},
		{metric, "12,5", "m", 12.5, "40,25", "m3", 40.25},
	} {
		s, fs := ParseSite(filled("name", "x", "hose", c.hose, "hose.unit", c.unit, "room", c.room, "room.unit", c.runit), c.units, Site{}, theDay)
		if len(fs) > 0 || math.Abs(float64(s.Card.Hose.V)-c.wantM) > 1e-9 || math.Abs(float64(s.Card.Room.V)-c.wantM3) > 1e-9 {
			t.Errorf("%q and %q read as %v m and %v m³, %v", c.hose, c.room, s.Card.Hose, s.Card.Room, fs)
		}
	}
}

// A person of feet who saves a form untouched must not shift a length in metres.
func TestUntouchedFormKeepsExactValues(t *testing.T) {
	was, fs := ParseSite(filled(milling...), metric, Site{}, theDay)
	if len(fs) > 0 {
		t.Fatal(fs)
	}
	was.Card.Room = q.Some(q.CubicMetre(33.333333))
	was.Position = q.Some(Position{53.3512345678, -6.2612345678})
	for _, units := range []say.Units{metric, us, comma, {System: say.US, Decimal: ','}} {
		shown := was.Typed(units)
		got, fs := ParseSite(func(n string) string { return shown[n] }, units, was, theDay)
		if len(fs) > 0 {
			t.Fatalf("%v: the form's own text is refused: %v", units, fs)
		}
		if got.Card != was.Card || got.Position != was.Position || got.Altitude != was.Altitude || got.Address != was.Address || len(got.Windows) != len(was.Windows) {
			t.Errorf("%v: from %+v to %+v", units, was.Card, got.Card)
		}
	}
}

func TestParseSiteSaysEveryFault(t *testing.T) {
	_, fs := ParseSite(filled("name", "", "position", "somewhere", "altitude", "99999", "parking_minutes", "2.5", "window.2", "soon", "window.3", "17-9", "rcd_tested", "2027-01-01",
		"hose", "a bit", "room", "12 kg", "co2_alarm", "maybe", "spending_limit", "-4", "stairs", strings.Repeat("x", MaxLine+1)), metric, Site{}, theDay)
	const want = "name missing, position impossible, altitude impossible, parking_minutes impossible, stairs too-long, window.2 date, window.3 date, " +
		"rcd_tested impossible, hose number, room unit, co2_alarm choice, spending_limit impossible"
	if got := faultsOf(fs); got != want {
		t.Errorf("faults:\n %s\nwant\n %s", got, want)
	}
}

func TestAmbiguousAndUnlikelyAreAskedOnce(t *testing.T) {
	for _, c := range []struct{ field, text, want string }{
		{"spending_limit", "1,250", fault.Ambiguous}, // 1250 or 1.25
		{"hose", "150", fault.Unlikely},
		{"hose", "1,250", ""}, // 1250 m of hose cannot be
		{"hose", "12 furlongs", fault.NotUnit},
		{"spending_limit", "1 250.00", ""},
	} {
		_, fs := ParseSite(filled("name", "x", c.field, c.text), metric, Site{}, theDay)
		if c.want == "" {
			if len(fs) > 0 {
				t.Errorf("%s %q: %v", c.field, c.text, fs)
			}
			continue
		}
		if len(fs) != 1 || fs[0].Kind != c.want {
			t.Errorf("%s %q: %v, want %s", c.field, c.text, fs, c.want)
			continue
		}
		if fs[0].Confirm == "" {
			continue
		}
		if _, fs = ParseSite(filled("name", "x", c.field, c.text, "confirm", "other=1\n"+c.field+"="+fs[0].Confirm), metric, Site{}, theDay); len(fs) > 0 {
			t.Errorf("%s %q is asked about again: %v", c.field, c.text, fs)
		}
	}
	s, _ := ParseSite(filled("name", "x", "hose", "1,250"), metric, Site{}, theDay)
	if s.Card.Hose.V != 1.25 {
		t.Errorf("1,250 m of hose is %v, want the only reading that can be", s.Card.Hose.V)
	}
}

func TestParsePosition(t *testing.T) {
	want := Position{53.35, -6.26}
	for _, in := range []string{"53.35, -6.26", "53.35,-6.26", " 53.35  -6.26 ", "53,35; -6,26", "53,35, -6,26", "53.35° N, 6.26° W", "N53.35 W6.26", "geo:53.35,-6.26", "GEO:53.35,-6.26,12;u=20", "geo:0,0?q=53.35,-6.26(The mill)", "geo:53.35,-6.26?z=17", "53.35, −6.26"} {
		got, ok, why := ParsePosition(in)
		if !ok || math.Abs(got.Lat-want.Lat) > 1e-9 || math.Abs(got.Lon-want.Lon) > 1e-9 {
			t.Errorf("ParsePosition(%q) = %v %v %q", in, got, ok, why)
		}
	}
	for _, in := range []string{"53.35", "Mill Lane 4", "95, 10", "10, 200", "0, 0", "nan, nan", "1e1, 2", "0x10, 2", "geo:", "geo:1", "1,2,3,4", "--5, 3", "javascript:1,2"} {
		if p, ok, why := ParsePosition(in); ok || why == "" {
			t.Errorf("ParsePosition(%q) = %v, want a sentence that says what is wrong", in, p)
		}
	}
	if _, ok, why := ParsePosition("  "); ok || why != "" {
		t.Error("an empty position is not a fault")
	}
	if got := want.Geo(); got != "geo:53.350000,-6.260000" {
		t.Errorf("geo address %q", got)
	}
	if _, _, why := ParsePosition("-6.26, 153.35"); why != "" {
		t.Errorf("a place at 153° east is refused: %s", why)
	}
}

func TestParseWindows(t *testing.T) {
	for in, want := range map[string]string{
		"":                        "",
		"9-12":                    "09:00-12:00",
		"14:00–17:30, 9 to 12":    "09:00-12:00, 14:00-17:30",
		"0930-1700":               "09:30-17:00",
		"9.30-17.00 and 20-24:00": "09:30-17:00, 20:00-24:00",
		"9am-5pm":                 "09:00-17:00",
		"12am - 12pm":             "00:00-12:00",
		"8h30-10h":                "08:30-10:00",
	} {
		ws, why := ParseWindows(3, in)
		if got := WindowLine(ws, 3); got != want || why != "" {
			t.Errorf("ParseWindows(%q) = %q %q, want %q", in, got, why, want)
		}
	}
	for _, in := range []string{"9", "12-9", "9-9", "25-26", "9-12, 11-14", "9:75-10", "13pm-14pm", "9-24:30", "morning", "1-2,3-4,5-6,7-8,9-10", "-", "-5-7"} {
		if ws, why := ParseWindows(1, in); why == "" {
			t.Errorf("ParseWindows(%q) = %v, want a sentence", in, ws)
		}
	}
}

func TestParseAway(t *testing.T) {
	weirDay := q.NewDate(2026, 11, 24)
	a, fs := ParseAway(filled("from", "2026-12-20", "to", "2027-01-06", "why", "skiing", "stand_in", "Bo next door"), weirDay)
	if len(fs) > 0 || !a.Covers(a.From) || !a.Covers(a.To) || a.Covers(a.To+1) || a.StandIn != "Bo next door" {
		t.Errorf("%+v, %v", a, fs)
	}
	for want, get := range map[string]Fields{
		"from missing, to missing":        filled(),
		"from date":                       filled("from", "tomorrow", "to", "2026-12-20"),
		"to impossible":                   filled("from", "2026-12-20", "to", "2026-12-19"),
		"to unlikely":                     filled("from", "2026-12-20", "to", "2027-12-22"),
		"to date":                         filled("from", "2026-02-20", "to", "2026-02-30"),
		"to unlikely ":                    filled("from", "2025-12-20", "to", "2026-01-06"), // the year of last winter
		"from unlikely":                   filled("from", "2028-12-20", "to", "2029-01-06"),
		"why too-long, stand_in too-long": filled("from", "2026-12-20", "to", "2027-01-06", "why", strings.Repeat("y", MaxLine+1), "stand_in", strings.Repeat("z", 10000)),
	} {
		if _, fs := ParseAway(get, weirDay); faultsOf(fs) != strings.TrimSpace(want) {
			t.Errorf("faults %q, want %q", faultsOf(fs), want)
		}
	}
	if _, fs := ParseAway(filled("from", "2026-12-20", "to", "2027-12-22", "confirm", "to=2027-12-22"), weirDay); len(fs) > 0 {
		t.Errorf("confirmed and still %v", fs)
	}
	if _, fs := ParseAway(filled("from", "2026-11-20", "to", "2026-11-24"), weirDay); len(fs) > 0 {
		t.Errorf("back tonight: %v", fs)
	}
	if b := (Away{From: a.To, To: a.To.Add(3)}); !a.Overlaps(b) || !b.Overlaps(a) || a.Overlaps(Away{From: a.To.Add(1), To: a.To.Add(3)}) {
		t.Error("two absences have a day in common, or not")
	}
}
