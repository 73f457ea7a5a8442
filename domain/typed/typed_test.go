package typed_test

import (
	"strings"
	"testing"

	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/typed"
)

func form(units say.Units, pairs ...string) *typed.Form {
	m := map[string]string{}
	for i := 0; i < len(pairs); i += 2 {
		m[pairs[i]] = pairs[i+1]
	}
	return &typed.Form{Units: units, Get: func(name string) string { return m[name] }}
}

var length = typed.Measure{Name: "length", What: "The length", Dim: typed.Length, Possible: q.Range{Lo: 1, Hi: 1000}, Likely: q.Range{Lo: 10, Hi: 300}}

func TestNumberReadsUnitsAndMarks(t *testing.T) {
	us := say.Units{System: say.US, Decimal: '.'}
	comma := say.Units{System: say.Metric, Decimal: ','}
	for _, c := range []struct {
		units      say.Units
		text, unit string
		want       float64 // cm
	}{
		{say.MetricUnits, "90", "", 90},
		{comma, "90,5", "cm", 90.5},
		{say.MetricUnits, "90,5", "cm", 90.5},
		{say.MetricUnits, "36 in", "cm", 91.44},
		{us, "36", "", 91.44},
		{us, "36", "in", 91.44},
		{us, "90 cm", "in", 90},
		{say.MetricUnits, "905 mm", "", 90.5},
	} {
		f := form(c.units, "length", c.text, "length.unit", c.unit)
		got := f.Number(length, q.Opt[float64]{})
		if !got.OK || got.V < c.want-1e-9 || got.V > c.want+1e-9 || len(f.Faults) > 0 {
			t.Errorf("%q beside %q: %v %v, want %v cm", c.text, c.unit, got, f.Faults, c.want)
		}
	}
}

func TestNumberFaults(t *testing.T) {
	for _, c := range []struct{ text, confirm, kind string }{
		{"nine", "", fault.NotNumber}, {"9 kg", "", fault.NotUnit}, {"9 furlongs", "", fault.NotUnit}, {"-4", "", fault.Impossible},
		{"600", "", fault.Unlikely}, {"600", "length=600", ""}, {"600", "length=601", fault.Unlikely}, {"", "", ""},
	} {
		f := form(say.MetricUnits, "length", c.text, "confirm", c.confirm)
		got := f.Number(length, q.Opt[float64]{})
		kind := ""
		if len(f.Faults) > 0 {
			kind = f.Faults[0].Kind
		}
		if kind != c.kind || got.OK == (kind != "" || c.text == "") {
			t.Errorf("%q confirmed %q: %v, fault %q; want fault %q", c.text, c.confirm, got, kind, c.kind)
		}
	}
}

func TestAmbiguousNumberIsAskedAbout(t *testing.T) {
	flow := typed.Measure{Name: "flow", What: "The flow", Dim: typed.FlowRate, Possible: q.Range{Lo: 0, Hi: 50000}, Likely: q.Range{Lo: 0, Hi: 6000}}
	f := form(say.MetricUnits, "flow", "1,250")
	if got := f.Number(flow, q.Opt[float64]{}); got.OK || len(f.Faults) != 1 || f.Faults[0].Kind != fault.Ambiguous || !strings.Contains(f.Faults[0].Text, "1250") || !strings.Contains(f.Faults[0].Text, "1.25") {
		t.Errorf("1,250 L/h: %v, %v", got, f.Faults)
	}
	f = form(say.MetricUnits, "flow", "1,250", "confirm", "flow="+f.Faults[0].Confirm)
	if got := f.Number(flow, q.Opt[float64]{}); got.V != 1250 {
		t.Errorf("confirmed, it is what a shop with a decimal point reads: %v, %v", got, f.Faults)
	}
	// 1250 cm is impossible, so only 1.25 can be meant.
	f = form(say.MetricUnits, "length", "1,250")
	if got := f.Number(typed.Measure{Name: "length", What: "x", Dim: typed.Length, Possible: q.Range{Lo: 1, Hi: 1000}, Likely: q.Range{Lo: 1, Hi: 1000}}, q.Opt[float64]{}); got.V != 1.25 {
		t.Errorf("1,250 cm settles itself: %v, %v", got, f.Faults)
	}
}

func TestWhatIsTypedAsShownKeepsItsExactValue(t *testing.T) {
	us := say.Units{System: say.US, Decimal: '.'}
	was := q.Some(91.0)
	shown := typed.Length.Show(was, us)
	if shown != "35.827" {
		t.Fatalf("91 cm shown as %q in", shown)
	}
	if got := form(us, "length", shown, "length.unit", "in").Number(length, was); got != was {
		t.Errorf("kept as %v, want exactly 91 cm", got)
	}
	if got := typed.Warmth.Show(q.Some(25.0), us); got != "77" {
		t.Errorf("25 °C shown as %q °F", got)
	}
	if got := typed.Warmth.Show(q.Some(20.0), say.MetricUnits); got != "20" {
		t.Errorf("20 °C shown as %q", got)
	}
}

func TestHardnessInDegreesFitsEitherHardness(t *testing.T) {
	for _, k := range []q.Kind{q.KH, q.GH} {
		m := typed.Measure{Name: "v", What: "It", Dim: typed.OfKind(k), Possible: q.Range{Lo: 0, Hi: 100}, Likely: q.Range{Lo: 0, Hi: 100}}
		if got := form(say.MetricUnits, "v", "4,5 °dH").Number(m, q.Opt[float64]{}); got.V != 4.5 {
			t.Errorf("%s: 4,5 °dH read as %v", k, got)
		}
	}
}

func TestTextsDatesAndChoices(t *testing.T) {
	f := form(say.MetricUnits, "a", "  two\twords ", "b", strings.Repeat("é", 81), "c", "one\r\n\r\n two ", "d", "2026-02-30", "e", "25:00", "g", "purple", "h", "2026-11-25")
	if got := f.Line("a", 80); got != "two words" {
		t.Errorf("Line = %q", got)
	}
	f.Line("b", 80)
	if got := f.Lines("c", 100); len(got) != 2 || got[1] != "two" {
		t.Errorf("Lines = %q", got)
	}
	f.Day("d")
	f.Clock("e")
	typed.Must(f, "g", []string{"red"}, "Choose a colour.")
	typed.Must(f, "missing", []string{"red"}, "Choose a colour.")
	f.Past("h", "A movement", q.NewDate(2026, 11, 24))
	var kinds []string
	for _, x := range f.Faults {
		kinds = append(kinds, x.Name+":"+x.Kind)
	}
	want := "b:too-long d:date e:date g:choice missing:missing h:impossible"
	if got := strings.Join(kinds, " "); got != want {
		t.Errorf("faults %s, want %s", got, want)
	}
}
