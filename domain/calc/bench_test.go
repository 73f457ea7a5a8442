package calc

import (
	"math"
	"strings"
	"testing"

	"scaperound/domain/fault"
	"scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/typed"
)

// Every calculation that asks for something has an example that it answers, and
// names in it only what it takes.
func TestExamplesAnswer(t *testing.T) {
	for i := range All() {
		d := &All()[i]
		ex := d.Example()
		needs := false
		for _, in := range d.In {
			needs = needs || !in.Optional
		}
		if needs && len(ex) == 0 {
			t.Errorf("%s has no example", d.Name)
		}
		a, err := d.Run(ex)
		if err != nil {
			t.Errorf("%s: its example: %v", d.Name, err)
			continue
		}
		for k := range ex {
			if in := d.named(k); in == nil || in.Key != k {
				t.Errorf("%s: the example's %s is not a key", d.Name, k)
			}
		}
		for _, s := range a.Steps {
			if math.IsNaN(s.Value) || math.IsInf(s.Value, 0) {
				t.Errorf("%s: step %s is %v", d.Name, s.Name, s.Value)
			}
		}
	}
	for name := range examples {
		if d, err := Find(name); err != nil || d.Name != name {
			t.Errorf("an example for %s, which is none", name)
		}
	}
}

// A sentence names inputs that there are, each once, and ends without a mark.
func TestSentencesFit(t *testing.T) {
	for i := range All() {
		d := &All()[i]
		if n, m := strings.Count(d.Sentence, "{"), strings.Count(d.Sentence, "}"); n != m {
			t.Errorf("%s: %d braces open and %d close", d.Name, n, m)
		}
		seen := map[string]int{}
		pieces, rest := d.Pieces()
		blanks := 0
		for _, p := range pieces {
			if p.Blank != nil {
				seen[p.Blank.Key]++
				blanks++
			}
		}
		if want := strings.Count(d.Sentence, "{"); blanks < want {
			t.Errorf("%s: %d blanks of %d are inputs", d.Name, blanks, want)
		}
		for _, in := range rest {
			seen[in.Key]++
		}
		for _, in := range d.In {
			if seen[in.Key] != 1 {
				t.Errorf("%s asks %d times for %s", d.Name, seen[in.Key], in.Key)
			}
		}
		if strings.HasSuffix(d.Sentence, ".") {
			t.Errorf("%s: %q ends with a mark", d.Name, d.Sentence)
		}
	}
}

func TestSaid(t *testing.T) {
	d, err := Find("dose")
	if err != nil {
		t.Fatal(err)
	}
	given := map[string]string{"from": "6", "to": "12 mg/L", "of": "NO3", "net_volume_L": "142 L", "salt": "KNO3"}
	got, _ := d.Said(func(in *Input) string { return given[in.Key] })
	if want := "From 6 to 12 mg/L NO3 in 142 L net, with KNO3"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if d, err = Find("EC25"); err != nil {
		t.Fatal(err)
	}
	given = map[string]string{"EC_uS_cm": "500 µS/cm", "T_C": "20 °C"}
	got, _ = d.Said(func(in *Input) string { return given[in.Key] })
	if want := "conductivity at 25 °C 500 µS/cm, temperature 20 °C"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

// The spans are those that the science packages state in their documentation.
func TestSpans(t *testing.T) {
	for _, c := range []struct {
		name, key string
		lo, hi    float64
	}{
		{"NH3_N_mg_L", "pH", 0, 14}, {"NH3_N_mg_L", "T_C", 0, 50}, {"NH3_N_mg_L", "TAN_mgN_L", 0, 1000},
		{"CO2_full", "KH_d", 0, 60}, {"CO2_sat_pressure", "T_C", -56.558, 30.9782}, {"DLI", "hours", 0, 24}, {"net_volume_L", "porosity", 0, 0.9},
		{"drain_line", "inner_L_cm", 1, 1000}, {"dose", "net_volume_L", 0.1, 1e6}, {"kg_per_m2", "L_cm", 10, 1000}, {"glass_loss_W", "dT_K", -40, 40},
		{"flow_Lph_from_bucket", "seconds", 1, 7200}, {"CO2_equilibrium", "altitude_m", -430, 5000}, {"light_map", "PPFD", 0, 3000},
	} {
		d, err := Find(c.name)
		if err != nil {
			t.Fatal(err)
		}
		s := d.Span(c.key, nil)
		if !s.OK || s.Lo < c.lo-1e-9 || s.Lo > c.lo+0.02 || s.Hi > c.hi+1e-9 || s.Hi < c.hi*0.999 {
			t.Errorf("%s %s spans %v, want %v to %v", c.name, c.key, s, c.lo, c.hi)
		}
	}
}

// What a span says is taken is taken, and just beyond it is not.
func TestSpansAreTrue(t *testing.T) {
	for i := range All() {
		d := &All()[i]
		for _, in := range d.In {
			if in.Shape == Word || in.Shape == Words {
				continue
			}
			s := d.Span(in.Key, nil)
			if !s.OK {
				t.Errorf("%s: nothing is taken for %s", d.Name, in.Key)
				continue
			}
			for _, end := range []struct{ v, out float64 }{{s.Lo, -1}, {s.Hi, 1}} {
				if math.IsInf(end.v, 0) {
					continue
				}
				vals := d.Example()
				was := vals[in.Key]
				vals[in.Key] = d.withOne(&in, was, end.v)
				if _, err := d.Run(vals); err != nil {
					t.Errorf("%s %s = %v, an end of its span, is refused: %v", d.Name, in.Key, end.v, err)
				}
				vals[in.Key] = d.withOne(&in, was, end.v+end.out*math.Max(1e-3, 2e-3*math.Abs(end.v)))
				if _, err := d.Run(vals); err == nil {
					t.Errorf("%s %s beyond %v is taken", d.Name, in.Key, end.v)
				}
			}
		}
	}
}

func TestBlameNamesTheInput(t *testing.T) {
	for _, c := range []struct{ name, key, text string }{{"NH3_N_mg_L", "T_C", "75"}, {"CO2_full", "pH", "45"}, {"dose", "net_volume_L", "0"}, {"cylinder_days", "gross_now_kg", "3"}, {"raise_KH", "salt", "KNO3"}} {
		d, err := Find(c.name)
		if err != nil {
			t.Fatal(err)
		}
		raw := d.Example()
		raw[c.key] = ParseValue(c.text)
		_, err = d.Run(raw)
		if f := fault.Of(d.Blame(raw, err)); err == nil || len(f.Fields.On(c.key)) != 1 {
			t.Errorf("%s with %s=%s: %v", c.name, c.key, c.text, d.Blame(raw, err))
		}
	}
}

// Every unit in which an input may be typed comes back as it went.
func TestDimensionsRoundTrip(t *testing.T) {
	many := 0
	for i := range All() {
		for _, in := range All()[i].In {
			d := in.Dimension("NO3")
			if len(d.Scales) > 1 {
				many++
			}
			for _, s := range d.Scales {
				if s.Factor == 0 {
					t.Errorf("%s %s in %s has no factor", All()[i].Name, in.Key, s.Unit)
				}
				if got := d.In(12.5*s.Factor+s.Offset, s.Unit); math.Abs(got-12.5) > 1e-9 {
					t.Errorf("%s %s: 12.5 %s comes back as %v", All()[i].Name, in.Key, s.Unit, got)
				}
			}
		}
	}
	if many < 100 {
		t.Errorf("only %d inputs can be typed in more than one unit", many)
	}
	in := Input{Unit: mgNL}
	if d := in.Dimension(""); d.In(0.776484, quantity.AsNH4) < 0.99999 || d.In(0.776484, quantity.AsNH4) > 1.00001 {
		t.Error("1 mg/L of NH4 is 0.776484 mg/L of N")
	}
}

func readForm(t *testing.T, name string, units say.Units, pairs ...string) (map[string]Value, []*Input, fault.Fields) {
	t.Helper()
	d, err := Find(name)
	if err != nil {
		t.Fatal(err)
	}
	m := map[string]string{}
	for i := 0; i < len(pairs); i += 2 {
		m[pairs[i]] = pairs[i+1]
	}
	f := &typed.Form{Units: units, Get: func(n string) string { return m[n] }}
	raw, open := d.Read(f)
	return raw, open, f.Faults
}

// Numbers are read in the person's way of writing and in the unit beside them.
func TestReadsFormsInTheReadersUnits(t *testing.T) {
	us, comma := say.Units{System: say.US, Decimal: '.'}, say.Units{System: say.Metric, Decimal: ','}
	for _, c := range []struct {
		name, key, text, unit string
		of                    string
		units                 say.Units
		want                  float64
	}{
		{"dose", "net_volume_L", "142", "", "NO3", say.MetricUnits, 142},
		{"dose", "net_volume_L", "40", "", "NO3", us, 40 * 3.785411784},
		{"dose", "net_volume_L", "40 gal", "L", "NO3", say.MetricUnits, 40 * 3.785411784},
		{"dose", "to", "2,5", "", "NO3", comma, 2.5},
		{"dose", "to", "2", "mg/L N", "NO3", say.MetricUnits, 8.8533},
		{"dose", "to", "1", "mg/L P", "PO4", say.MetricUnits, 3.06612},
		{"CO2_full", "T_C", "77", "", "", us, 25},
		{"CO2_full", "KH_d", "71.4", "ppm_CaCO3", "", say.MetricUnits, 4.0005},
		{"single_fraction", "C0", "40", "", "", say.MetricUnits, 40},
		{"conc_after_3x_vs_1x", "w", "35", "", "", say.MetricUnits, 0.35},
		{"NH3_N_mg_L", "TAN_mgN_L", "0.5", "mg/L NH4", "", say.MetricUnits, 0.388242},
		{"heater", "dT_K", "9", "", "", us, 5},
	} {
		raw, _, faults := readForm(t, c.name, c.units, c.key, c.text, c.key+".unit", c.unit, "of", c.of)
		if v := raw[c.key]; len(faults) > 0 || len(v.Nums) != 1 || math.Abs(v.Nums[0]-c.want) > 1e-4*c.want {
			t.Errorf("%s %s=%q %s: %v %v, want %v", c.name, c.key, c.text, c.unit, v, faults, c.want)
		}
	}
}

func TestReadsListsAliasesAndWhatIsOpen(t *testing.T) {
	raw, open, faults := readForm(t, "light_map", say.MetricUnits, "points", "55 72; 88.5\n64, 41")
	if len(faults) > 0 || len(open) > 0 || len(raw["PPFD"].Nums) != 5 || raw["PPFD"].Nums[2] != 88.5 {
		t.Errorf("%v %v %v", raw, open, faults)
	}
	if _, _, faults = readForm(t, "light_map", say.MetricUnits, "PPFD", "55,72"); len(faults) != 1 || faults[0].Kind != fault.Ambiguous {
		t.Errorf("55,72 where a point stands before decimals: %v", faults)
	}
	if raw, _, _ = readForm(t, "light_map", say.Units{System: say.Metric, Decimal: ','}, "PPFD", "55,5 72"); raw["PPFD"].Nums[0] != 55.5 {
		t.Errorf("55,5 where a comma does: %v", raw)
	}
	if _, open, faults = readForm(t, "dose", say.MetricUnits, "salt", "KNO3", "to", "x12"); len(open) != 2 || len(faults) != 1 || faults[0].Name != "to" {
		t.Errorf("of and net volume are open and to is no number: %v %v", open, faults)
	}
	if _, _, faults = readForm(t, "dose", say.MetricUnits, "to", "1,250"); len(faults) != 1 || faults[0].Kind != fault.Ambiguous {
		t.Errorf("1,250 is asked about: %v", faults)
	}
	if raw, _, _ = readForm(t, "bottles", say.MetricUnits, "salts", "KNO3\nK2SO4"); len(raw["salts"].Words) != 2 {
		t.Errorf("ticked salts: %v", raw)
	}
}

// What is written into a form is read back as it was, whoever reads it.
func TestFormsAreReadAsTheyWereWritten(t *testing.T) {
	readers := []say.Units{say.MetricUnits, {System: say.US, Decimal: '.'}, {System: say.Metric, Decimal: ','}}
	for i := range All() {
		d := &All()[i]
		for _, u := range readers {
			ex := d.Example()
			of := strings.Join(ex["of"].Words, "")
			m, several := map[string]string{}, false
			for k, v := range ex {
				in := d.named(k)
				several = several || in.Shape == Numbers
				if in.Shape == Number && !in.YesNo {
					v = Num(v.Nums[0] * 1.0123456)
					ex[k] = v
				}
				text, unit := in.Write(v, of, u)
				m[k], m[k+".unit"] = text, string(unit)
			}
			// Whoever opens the address may write numbers in another way.
			for _, reader := range readers {
				if several && u.Decimal == ',' && reader.Decimal != ',' {
					continue // 22,1 in a list is asked about there, as it must be
				}
				f := &typed.Form{Units: reader, Get: func(n string) string { return m[n] }}
				raw, open := d.Read(f)
				if len(open) > 0 || len(f.Faults) > 0 {
					t.Errorf("%s: %v open, %v", d.Name, open, f.Faults)
					continue
				}
				for k, want := range ex {
					for j, n := range want.Nums {
						if got := raw[k].Nums[j]; math.Abs(got-n) > 1e-5*math.Abs(n)+1e-9 {
							t.Errorf("%s %s: %v written as %q %s is read as %v", d.Name, k, n, m[k], m[k+".unit"], got)
						}
					}
				}
			}
		}
	}
}

// A label says what is in the bottle, how it is dosed, and what is dangerous.
func TestLabels(t *testing.T) {
	text := func(name string, raw map[string]Value) (string, Label) {
		d, err := Find(name)
		if err != nil {
			t.Fatal(err)
		}
		l, err := d.Label(raw)
		if err != nil {
			t.Fatal(err)
		}
		out := say.Render(l.Title, say.MetricUnits)
		for _, s := range append(l.Lines, l.Cautions...) {
			out += "\n" + say.Render(s, say.MetricUnits)
		}
		return out + "\n" + strings.Join(l.Statements, "\n"), l
	}
	got, _ := text("stock", map[string]Value{"salt": WordOf("KNO3"), "of": WordOf("NO3"), "rise": Num(2), "net": Num(120), "dose_mL": Num(10), "bottle_L": Num(0.5)})
	// By hand: 50 doses of 0.3913 g.
	for _, want := range []string{"Potassium nitrate", "Stock solution: 19.6 g KNO3, filled up with pure water to 500 mL", "10 mL raise NO3 by 2.00 mg/L in 120 L", "50 doses", "feeds fire", "May intensify fire; oxidiser."} {
		if !strings.Contains(got, want) {
			t.Errorf("the bottle's label lacks %q:\n%s", want, got)
		}
	}
	if strings.Contains(got, "report theft") {
		t.Errorf("the law's books are no matter of a bottle:\n%s", got)
	}
	// By hand: GH 5 is 31 % and KH 2 is 20 % of a tap of 16 and 10; of 40 L 8 are tap.
	got, l := text("change_water", map[string]Value{"gh": Num(5), "kh": Num(2), "litres": Num(40), "tap_dGH": Num(16), "tap_dKH": Num(10)})
	for _, want := range []string{"Change water, 40 L", "5.0 °dGH and 2.0 °dKH", "8.0 L tap water and 32.0 L pure water", "gypsum (CaSO4.2H2O)", "until it is clear"} {
		if !strings.Contains(got, want) {
			t.Errorf("the can's label lacks %q:\n%s", want, got)
		}
	}
	for _, s := range append(append([]say.Sentence{l.Title}, l.Lines...), l.Cautions...) {
		if !say.Has(s.ID) {
			t.Errorf("the catalogue lacks %s", s.ID)
		}
	}
	d, _ := Find("stock")
	if _, err := d.Label(map[string]Value{"salt": WordOf("KNO3")}); err == nil {
		t.Error("half a bottle gets a label")
	}
}
