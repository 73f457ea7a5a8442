package main

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"scaperound/domain/calc"
	"scaperound/domain/wire"
)

func TestCalcAtTheTerminal(t *testing.T) {
	for _, c := range []struct {
		args      string
		status    int
		out, errs string
	}{
		{"calc", statusOK, "NH3_N_mg_L", ""},
		{"calc --find clogged", statusOK, "flow_share_of_clean", ""},
		{"calc --find qqq", statusUsage, "", `no calculation answers to "qqq"`},
		{"calc co2", statusOK, "carbonate hardness", ""},
		{"calc nosuch", statusUsage, "", `no calculation “nosuch”`},
		{"calc CO2_TWA_ppm", statusOK, "5000 ppm", ""},
		// 10 mg/L NO3 in 100 L are 16.13 mmol, and so much KNO3 of 101.102 g/mol.
		{"calc dose salt=KNO3 of=NO3 to=10 net=100", statusOK, "1.6305722", ""},
		{"calc dose salt=KNO3 of=NO3 to=10 net=100", statusOK, "brings along K = 6.30572 mg/L", ""},
		{"calc dose salt=NH4NO3 of=NO3 to=10 net=100", statusUsage, "", "refused in a tank with animals"},
		{"calc dose salt=KNO3 of=NO3 from=20 to=10 net=100", statusUsage, "", "change water"},
		{"calc pK1 T_C=25", statusOK, "6.351864", ""},
		{"calc pK1 T_C=200", statusUsage, "", "from 0 to 100 °C"},
		{"calc pK1 T_C=25,26", statusUsage, "", "one number"},
		{"calc pK1 colour=3", statusUsage, "", "takes no colour"},
		{"calc pK1 25", statusUsage, "", "is not KEY=VALUE"},
		{"calc pK1 T_C=25 T_C=26", statusUsage, "", "given twice"},
		{"calc mean PPFD=55,72,88,64,41,97,70,60,38", statusOK, "65 µmol/m²/s", ""},
		{"calc --json pK1", statusUsage, "", "standard input"},
	} {
		status, out, errs := said(t, nil, "", strings.Fields(c.args)...)
		if status != c.status || !strings.Contains(out, c.out) || !strings.Contains(errs, c.errs) {
			t.Errorf("%q: status %d, %q, %q", c.args, status, out, errs)
		}
	}
}

func TestCalcLineByLine(t *testing.T) {
	in := strings.Join([]string{
		`{"id":1,"calc":"pK1","in":{"T_C":25}}`,
		`{"id":"two","calc":"nosuch","in":{}}`,
		`not an object`,
		``,
		`{"id":4,"calc":"mean","in":{"PPFD":[10,20,"x"]}}`,
		`{"id":5,"calc":"uniformity_min_over_mean","in":{"PPFD":[55,72,88,64,41,97,70,60,38]}}`,
		`{"id":6,"calc":"co2","in":{"pH":"6.8","KH_d":4,"T_C":25,"dKH":0.5,"dpH":0.1,"I_mol_L":null}}`,
		`{"id":7,"calc":"pK1","in":{"T_C":25},"more":1}`,
	}, "\n")
	status, out, errs := said(t, nil, in, "calc", "--json")
	if status != statusOK || errs != "" {
		t.Fatalf("status %d, %s", status, errs)
	}
	lines := strings.Split(strings.TrimSpace(out), "\n")
	if len(lines) != 7 {
		t.Fatalf("%d answers to 7 questions:\n%s", len(lines), out)
	}
	answers := make([]struct {
		ID            json.RawMessage
		Value, Lo, Hi *float64
		Unit, Source  string
		Steps         []struct{ Name string }
		Fault         string
	}, len(lines))
	for i, l := range lines {
		if err := json.Unmarshal([]byte(l), &answers[i]); err != nil {
			t.Fatalf("%s: %v", l, err)
		}
	}
	near := func(i int, got *float64, want float64) {
		t.Helper()
		if got == nil || math.Abs(*got-want) > 1e-3*math.Abs(want) {
			t.Errorf("answer %d: %s", i, lines[i])
		}
	}
	near(0, answers[0].Value, 6.352) // Harned and Davis 1943
	near(4, answers[4].Value, 38.0/65)
	near(5, answers[5].Value, 20.72)
	if answers[5].Lo == nil || *answers[5].Lo >= *answers[5].Value || len(answers[5].Steps) == 0 || answers[5].Source == "" {
		t.Errorf("no interval, steps or source: %s", lines[5])
	}
	for i, id := range map[int]string{0: "1", 1: `"two"`, 2: "null", 3: "4", 6: "7"} {
		if string(answers[i].ID) != id {
			t.Errorf("answer %d has the id %s, want %s", i, answers[i].ID, id)
		}
	}
	for _, i := range []int{1, 2, 3, 6} {
		if answers[i].Fault == "" || answers[i].Value != nil {
			t.Errorf("answer %d is no fault: %s", i, lines[i])
		}
	}
}

func FuzzCalcLine(f *testing.F) {
	f.Add(`{"id":1,"calc":"pK1","in":{"T_C":25}}`)
	f.Add(`{"id":{},"calc":"mean","in":{"PPFD":[1,[2]]}}`)
	f.Add(`{"calc":"change_water","in":{"gh":1e308,"kh":-1,"litres":"9"}}`)
	f.Fuzz(func(t *testing.T, line string) {
		if b := wire.Calc([]byte(line)); !json.Valid(b) {
			t.Errorf("%q is answered %s", line, b)
		}
	})
}

// The registry is reached by its number of definitions, so that a list that lost
// some is noticed.
func TestCalcListsAll(t *testing.T) {
	_, out, _ := said(t, nil, "", "calc")
	if got, want := strings.Count(out, "\n"), len(calc.All()); got != want || want < 100 {
		t.Errorf("%d of %d calculations are listed", got, want)
	}
}
