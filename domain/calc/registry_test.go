package calc

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"scaperound/domain/fault"
	"scaperound/domain/salt"
	"scaperound/domain/say"
)

// The files hold worked values, each with its source and tolerance:
// |got - want| ≤ relative·|want| + absolute. Every calculation is in one of them.
func TestWorkedValues(t *testing.T) {
	worked := map[string]bool{}
	for _, name := range []string{"testdata/vectors.csv", "testdata/worked.csv"} {
		f, err := os.Open(name)
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		rows, err := csv.NewReader(f).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		for n, r := range rows[1:] {
			d, err := Find(r[0])
			if err != nil {
				t.Errorf("%s:%d: %v", name, n+2, err)
				continue
			}
			worked[d.Name] = true
			if fault := workedRow(t, d, r); fault != "" {
				t.Errorf("%s:%d: %s %s: %s (%s)", name, n+2, r[0], r[1], fault, r[6])
			}
		}
	}
	for i := range All() {
		if name := All()[i].Name; !worked[name] {
			t.Errorf("%s has no worked example", name)
		}
	}
}

// workedRow says what is wrong with a row of calculation, inputs, wanted value,
// unit, relative and absolute tolerance.
func workedRow(t *testing.T, d *Def, r []string) string {
	t.Helper()
	raw := map[string]Value{}
	for _, pair := range strings.Split(r[1], " | ") {
		if key, text, ok := strings.Cut(pair, "="); ok {
			raw[key] = ParseValue(text)
		}
	}
	want, rel, abs := number(t, r[2]), number(t, r[4]), number(t, r[5])
	got, err := d.Run(raw)
	if err != nil {
		return err.Error()
	}
	if math.Abs(got.Value-want) > rel*math.Abs(want)+abs+1e-12*math.Abs(want) {
		return fmt.Sprintf("%v, want %v", got.Value, want)
	}
	if u := string(got.Unit); u != r[3] && !sameUnit(u, r[3]) {
		return fmt.Sprintf("in %q, want %q", u, r[3])
	}
	return ""
}

// sameUnit allows for the ways in which the worked values write a unit.
func sameUnit(got, want string) bool {
	for _, pair := range [...][2]string{{"1", "-"}, {"mg/L", ""}, {"1/d", ""}, {"dKH", "deg d"}, {"d", "d"}} {
		if got == pair[0] && want == pair[1] {
			return true
		}
	}
	return false
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// Every definition is complete: names are unique, sources are given, and every
// sentence that it may say is in the catalogue.
func TestDefinitionsAreComplete(t *testing.T) {
	seen := map[string]string{}
	for i := range All() {
		d := &All()[i]
		if d.Name == "" || d.Title == "" || d.Source == "" || d.Out == "" || d.Eval == nil || d.Topic == "" {
			t.Errorf("%q lacks something: %+v", d.Name, d)
		}
		for _, n := range append([]string{d.Name}, d.Aliases...) {
			n = strings.ToLower(n)
			if other, taken := seen[n]; taken && other != d.Name {
				t.Errorf("%q names both %s and %s", n, other, d.Name)
			}
			seen[n] = d.Name
		}
		keys := map[string]bool{}
		for _, in := range d.In {
			for _, k := range append([]string{in.Key}, in.Aliases...) {
				if k = strings.ToLower(k); keys[k] && !strings.EqualFold(k, in.Key) {
					t.Errorf("%s: the input %q is ambiguous", d.Name, k)
				}
				keys[k] = true
			}
			if in.Title == "" {
				t.Errorf("%s: the input %s has no title", d.Name, in.Key)
			}
		}
	}
}

func TestBadInputIsToldInWords(t *testing.T) {
	d, err := Find("co2")
	if err != nil {
		t.Fatal(err)
	}
	_, err = d.Run(map[string]Value{"pH": WordOf("acid"), "colour": Num(3), "T_C": Num(25)})
	f := fault.Of(err)
	if f == nil || len(f.Fields) != 3 {
		t.Fatalf("want three faults: unknown colour, pH no number, KH missing; got %v", err)
	}
	for _, c := range []struct{ key, kind string }{{"colour", fault.Unknown}, {"pH", fault.NotNumber}, {"KH_d", fault.Missing}} {
		if on := f.Fields.On(c.key); len(on) != 1 || on[0].Kind != c.kind {
			t.Errorf("%s: %v", c.key, on)
		}
	}
	if _, err := Find("kh_of_moon"); !fault.Is(err, fault.NotFound) {
		t.Errorf("an unknown calculation: %v", err)
	}
	if _, err := d.Run(map[string]Value{"pH": Num(45), "KH_d": Num(4), "T_C": Num(25)}); err == nil {
		t.Error("pH 45 is taken")
	}
	// Out of the relation's range an error, never a number.
	for name, raw := range map[string]map[string]Value{
		"CO2_sat_pressure": {"T_C": Num(35)},
		"single_fraction":  {"C0": Num(40), "target": Num(5), "source": Num(10)},
		"net_volume_L":     {"inner_L_cm": Num(60), "inner_W_cm": Num(30), "fill_cm": Num(30), "stone_kg": Num(400)},
		"n_changes_real":   {"C0": Num(40), "target": Num(10), "source": Num(10), "w": Num(0.5)},
	} {
		d, err := Find(name)
		if err != nil {
			t.Fatal(err)
		}
		if a, err := d.Run(raw); err == nil {
			t.Errorf("%s %v = %v, want a fault", name, raw, a.Value)
		}
	}
}

// Warnings that any evaluation gives are sentences that the catalogue knows.
func TestWarningsHaveWords(t *testing.T) {
	for _, c := range []struct {
		name string
		raw  map[string]Value
		want string
	}{
		{"co2", map[string]Value{"pH": Num(6.8), "KH_d": Num(1), "T_C": Num(25), "dKH": Num(1)}, "calc.co2_upper_only"},
		{"dose", map[string]Value{"salt": WordOf("KNO3"), "of": WordOf("NO3"), "from": Num(6), "to": Num(12), "net": Num(142)}, "caution.keep_from_fuel"},
		{"room_co2", map[string]Value{"kg": Num(5), "room_m3": Num(30)}, "calc.co2_deadly"},
		{"change_water", map[string]Value{"gh": Num(6), "kh": Num(6), "litres": Num(40), "K_max": Num(10)}, "calc.target_missed"},
		{"bottles", map[string]Value{"salts": {Words: []string{"CaCl2.2H2O", "MgSO4.7H2O"}}}, "calc.conflict"},
		{"dosing_plan", map[string]Value{"net": Num(100), "NO3": Num(20), "K_max": Num(5)}, "calc.target_missed"},
		{"copper", map[string]Value{"net": Num(100), "g": Num(2), "Cu_share": Num(0.001)}, "calc.copper"},
		{"stock", map[string]Value{"salt": WordOf("K2SO4"), "of": WordOf("K"), "rise": Num(5), "net": Num(200), "dose_mL": Num(5), "coldest_C": Num(10)}, "calc.stock_too_strong"},
	} {
		d, err := Find(c.name)
		if err != nil {
			t.Fatal(err)
		}
		a, err := d.Run(c.raw)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		found := false
		for _, w := range a.Warn {
			found = found || w.ID == c.want
			text := say.Render(w, say.MetricUnits)
			if !say.Has(w.ID) || strings.ContainsAny(text, "{}…") {
				t.Errorf("%s: %s reads %q", c.name, w.ID, text)
			}
		}
		if !found {
			t.Errorf("%s does not warn %s but %v", c.name, c.want, a.Warn)
		}
		for _, s := range a.Steps {
			if strings.ContainsAny(s.String(), "{}") {
				t.Errorf("%s: step %q is not filled in", c.name, s)
			}
		}
	}
}

// Each sentence that the package names is in the catalogue, and so is the caution of
// every salt.
func TestSentencesAreKnown(t *testing.T) {
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	id := regexp.MustCompile(`"(calc\.[a-z0-9_]+)"`)
	n := 0
	for _, f := range files {
		text, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range id.FindAllSubmatch(text, -1) {
			n++
			if !say.Has(string(m[1])) {
				t.Errorf("%s: the catalogue lacks %s", f, m[1])
			}
		}
	}
	if n < 40 {
		t.Errorf("only %d sentences are named: the test looks in the wrong place", n)
	}
	for _, s := range salt.All() {
		for _, c := range s.Cautions() {
			if !say.Has("caution." + string(c)) {
				t.Errorf("%s: the catalogue lacks caution.%s", s.ID, c)
			}
		}
	}
}

// By hand: a week of 20 mg/L NO3 and 2 mg/L PO4 in 100 L are 3.261 g KNO3 and 0.287 g
// KH2PO4 (twice the tabled amounts for 10 and 1 mg/L).
func TestPlanByHand(t *testing.T) {
	d, err := Find("dosing_plan")
	if err != nil {
		t.Fatal(err)
	}
	a, err := d.Run(map[string]Value{"net": Num(100), "NO3": Num(20), "PO4": Num(2), "salts": {Words: []string{"KNO3", "KH2PO4"}}, "doses": Num(1)})
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(a.Value-(3.2611+0.2866)) > 0.001 {
		t.Errorf("%v g in all", a.Value)
	}
	// The refusal of ammonium stands in the plan too.
	if _, err := d.Run(map[string]Value{"net": Num(100), "NO3": Num(20), "salts": {Words: []string{"NH4NO3"}}}); err == nil {
		t.Error("ammonium nitrate with animals")
	}
}

// What a newcomer types finds what they look for first, or nearly so.
func TestSearchFinds(t *testing.T) {
	for text, want := range map[string]string{
		"co2": "CO2_full", "nitrate": "dose", "osmosis": "change_water", "heater": "heater_for_tank", "floor": "kg_per_m2", "litres": "net_volume_L",
		"free ammonia": "NH3_N_mg_L", "stock bottle": "stock", "daily light": "DLI", "clogged": "flow_share_of_clean", "water change": "single_fraction",
		"oxygen saturated": "DO_sat_1atm", "fertilizer": "dosing_plan", "gauge": "CO2_sat_pressure", "shrimp": "copper", "siphon": "drain_time_s",
		"chlorine": "dechlorinator", "iron": "first_order_min_after_wc",
		"how much KNO3 for 10 mg/L": "dose", "raise kh": "raise_KH", "increase gh": "raise_GH", "gypsum": "raise_GH", "remineralise": "change_water", "RO water": "change_water",
		"mix tap and osmosis": "tap_fraction", "co2 from ph and kh": "CO2_full", "ppm co2": "CO2_full", "bubble": "cylinder_use", "how long does my cylinder last": "cylinder_days", "co2 bottle empty": "cylinder_days",
		"ammonia after water change": "NH3_N_after_change", "nitrite": "Cl_needed_for_16_to_1_molar", "nitrite poisoning": "Cl_needed_for_16_to_1_molar", "oxygen": "percent_saturation",
		"par": "light_map", "par map": "light_map", "ppfd": "light_map", "photoperiod": "DLI", "dimmer": "PPFD_dimmed", "lamp height": "PPFD_raised", "new tank light": "light_ramp",
		"potassium": "dose", "magnesium": "dose", "phosphate": "dose", "two bottles": "bottles", "incompatible salts": "bottles", "solubility": "g_hydrate_per_100g_added_water", "pump strokes": "strokes", "drops": "strokes",
		"feeding": "feed_load", "fish food nitrate": "feed_load", "evaporation": "evaporation_L_d", "top off": "GH_steady_before_wc_topoff_with_source", "topoff": "GH_steady_before_wc_topoff_with_source",
		"softener": "Na_from_softener", "chloramine": "NH3N_released_mg_L", "acclimate": "change_series", "lower nitrate": "single_fraction", "cold water": "mixed_temperature", "bubbles on glass": "gas_after_change",
		"volume": "net_volume_L", "gallons": "net_volume_L", "drain line": "litres_to_line", "bucket": "flow_Lph_from_bucket", "turnover": "turnover_per_h", "filter due": "date_flow_reaches", "filter cleaning": "date_flow_reaches",
		"watts": "heater_for_tank", "weight of tank": "kg_per_m2", "leak": "CO2_ppm_if_all_released", "co2 in room": "CO2_ppm_if_all_released", "conductivity": "EC_check", "wrong reading": "EC_check", "tds": "TDS_from_EC",
		"uptake": "net_uptake", "accumulation": "C_max_before_wc", "steady state": "C_max_before_wc", "degassed sample": "CO2_from_pH_drop", "ph drop": "CO2_from_pH_drop", "target ph": "pH_from_CO2", "controller": "pH_from_CO2",
		"snail shells": "calcite_index", "dechlorinator": "dechlorinator", "nitrogen": "NO3_per_NO3N", "german degrees": "French_deg_in_dH", "k2o": "K_per_K2O", "glutaraldehyde": "glutaraldehyde_EC50_48h_Daphnia_mg_L", "decrease": "n_changes_real",
	} {
		got, _ := Search(text)
		found := false
		for i, d := range got {
			found = found || i < 5 && d.Name == want
		}
		if !found {
			names := []string{}
			for _, d := range got {
				names = append(names, d.Name)
			}
			t.Errorf("%q finds %v, want %s among the first five", text, names, want)
		}
	}
}

func FuzzParseValue(f *testing.F) {
	for _, s := range []string{"1.5", "1,2,3", "KNO3", "[55;72]", "", "1e400", "nan", "a, b"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		v := ParseValue(s)
		if len(v.Nums) > 0 && len(v.Words) > 0 {
			t.Errorf("%q is both numbers and words", s)
		}
		for _, n := range v.Nums {
			if math.IsNaN(n) || math.IsInf(n, 0) {
				t.Errorf("%q holds %v", s, n)
			}
		}
	})
}

// No input, however odd, gives NaN, an infinity or a panic.
func FuzzRun(f *testing.F) {
	f.Add(0, 6.8, 4.0, 25.0, 0.5)
	f.Add(40, -1.0, 1e300, 0.0, 5e-324)
	f.Fuzz(func(t *testing.T, which int, a, b, c, d float64) {
		def := &All()[((which%len(All()))+len(All()))%len(All())]
		vals := []float64{a, b, c, d}
		raw := map[string]Value{}
		for i, in := range def.In {
			switch in.Shape {
			case Word, Words:
				if len(in.Choices) > 0 {
					raw[in.Key] = WordOf(in.Choices[((which%len(in.Choices))+len(in.Choices))%len(in.Choices)])
				}
			case Numbers:
				raw[in.Key] = Value{Nums: vals}
			default:
				raw[in.Key] = Num(vals[i%4])
			}
		}
		ans, err := def.Run(raw)
		if err != nil {
			return
		}
		if math.IsNaN(ans.Value) || math.IsInf(ans.Value, 0) || math.IsNaN(ans.Lo) || math.IsNaN(ans.Hi) {
			t.Errorf("%s %v = %+v", def.Name, raw, ans)
		}
		for _, s := range ans.Steps {
			_ = s.String()
		}
	})
}
