package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

type forecastLine struct {
	Seed, Visit   int
	Analyte, Task string
	Pred, Lo, Hi  *float64
	Days          *int
}

func forecastOf(t *testing.T, dir string) (out []forecastLine) {
	t.Helper()
	status, text, errs := said(t, nil, "", "forecast", dir)
	if status != statusOK || errs != "" && !strings.HasSuffix(errs, "has no visits: nothing can be said of this tank.\n") {
		t.Fatalf("status %d, %q", status, errs)
	}
	for line := range strings.Lines(text) {
		var l forecastLine
		if err := json.Unmarshal([]byte(line), &l); err != nil {
			t.Fatalf("%s: %v", line, err)
		}
		out = append(out, l)
	}
	return out
}

// The tank has six visits: two are forecast, for seven analytes each, and six
// dates follow. By hand: it loses 70 g of CO2 in a week and holds 1.52 kg at the
// last weighing, a week before the last visit: some 145 days are left.
func TestForecastCommand(t *testing.T) {
	all := forecastOf(t, "testdata/forecast")
	n := map[string]int{}
	for _, l := range all {
		if l.Task != "" {
			n[l.Task]++
			continue
		}
		n["visits"]++
		if l.Visit < 4 || l.Pred == nil || !(*l.Lo <= *l.Pred && *l.Pred <= *l.Hi) {
			t.Errorf("%+v", l)
		}
		if l.Analyte == "GH" && (*l.Pred < 6.5 || *l.Pred > 8.5) {
			t.Errorf("GH, read as the eighth drop each time: %v", *l.Pred)
		}
	}
	if n["visits"] != 14 || n["runout"] != 4 || n["flow"] != 1 || n["cylinder"] != 1 {
		t.Errorf("answers: %v", n)
	}
	for _, l := range all {
		if l.Task == "cylinder" && (l.Days == nil || *l.Days < 115 || *l.Days > 175) {
			t.Errorf("cylinder: %+v", l)
		}
	}
}

// What lies behind the observations is never read: a file beside them with the
// truth changes nothing.
func TestForecastReadsObservationsAlone(t *testing.T) {
	dir := t.TempDir()
	in, err := os.ReadFile("testdata/forecast/window_obs.json")
	if err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{"window_obs.json": string(in), "window_truth.json": "this is no JSON"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	_, want, _ := said(t, nil, "", "forecast", "testdata/forecast")
	if _, got, errs := said(t, nil, "", "forecast", dir); got != want || errs != "" {
		t.Errorf("it differs: %q", errs)
	}
}

func TestForecastOfLittle(t *testing.T) {
	for name, text := range map[string]string{"no visits": `{"seed": 1, "visits": []}`, "one": `{"seed": 1, "visits": [{"visit": 0, "day": 0}]}`, "a year between": `{"seed": 1, "visits": [{"visit": 0, "day": 0}, {"visit": 1, "day": 365, "readings": {"NO3": 10}}]}`} {
		dir := t.TempDir()
		if err := os.WriteFile(filepath.Join(dir, "a_obs.json"), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		for _, l := range forecastOf(t, dir) {
			if l.Task == "" {
				t.Errorf("%s: %+v", name, l)
			}
		}
	}
}

func TestForecastRefuses(t *testing.T) {
	for name, c := range map[string]struct{ in, says string }{
		"an empty folder":  {"", "holds no file whose name ends in _obs.json"},
		"a word for a day": {`{"visits": [{"day": "soon"}]}`, "a_obs.json: visits.day is a string"},
		"cut off":          {`{"visits": [`, "a_obs.json: this is no JSON from byte"},
		"out of order":     {`{"visits": [{"visit": 0, "day": 9}, {"visit": 1, "day": 4}]}`, "a_obs.json: visit 1 is on day 4, before"},
	} {
		dir := t.TempDir()
		if c.in != "" {
			if err := os.WriteFile(filepath.Join(dir, "a_obs.json"), []byte(c.in), 0o600); err != nil {
				t.Fatal(err)
			}
		}
		status, out, errs := said(t, nil, "", "forecast", dir)
		if status != statusUsage || out != "" || !strings.Contains(errs, c.says) || strings.Count(errs, "\n") != 1 {
			t.Errorf("%s: status %d, out %q, said %q", name, status, out, errs)
		}
	}
}

// One reading that cannot be, or one file that cannot be read, costs no other
// answer. A level may well have risen: that is nobody's fault.
func TestForecastKeepsTheRest(t *testing.T) {
	dir := t.TempDir()
	in, err := os.ReadFile("testdata/forecast/window_obs.json")
	if err != nil {
		t.Fatal(err)
	}
	wrong := strings.Replace(string(in), `"readings": {`, `"readings": {"level_drop_mm": -1, "TAN": -0.1, `, 1)
	wrong = regexp.MustCompile(`"NO3": [0-9][0-9]`).ReplaceAllStringFunc(wrong, func(s string) string { return strings.Replace(s, ": ", ": -", 1) })
	for name, text := range map[string]string{"a_obs.json": "{", "b_obs.json": wrong, "c_obs.json": string(in)} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	_, want, _ := said(t, nil, "", "forecast", "testdata/forecast")
	status, got, errs := said(t, nil, "", "forecast", dir)
	if status != statusUsage || !strings.HasSuffix(got, want) || strings.Count(got, "\n") != 2*strings.Count(want, "\n") {
		t.Errorf("status %d, %d lines where one tank has %d", status, strings.Count(got, "\n"), strings.Count(want, "\n"))
	}
	if !strings.Contains(errs, "a_obs.json") || !strings.Contains(errs, "b_obs.json: visit 0: NO3 is read at -") || strings.Contains(errs, "level_drop_mm") || strings.Contains(errs, "c_obs.json") {
		t.Errorf("it said %q", errs)
	}
}
