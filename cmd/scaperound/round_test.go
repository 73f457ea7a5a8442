package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// ring is an instance with a known best: customers on two rays from the depot,
// out and back along each.
func ring(t *testing.T) string {
	var b strings.Builder
	b.WriteString("RAYS\n\nVEHICLE\nNUMBER     CAPACITY\n  4         30\n\nCUSTOMER\nCUST NO.  XCOORD.   YCOORD.    DEMAND   READY TIME  DUE DATE   SERVICE   TIME\n\n")
	fmt.Fprintf(&b, "0 0 0 0 0 500 0\n")
	for i := 1; i <= 3; i++ {
		fmt.Fprintf(&b, "%d %d 0 10 0 400 10\n", i, 10*i)
	}
	for i := 4; i <= 6; i++ {
		fmt.Fprintf(&b, "%d 0 %d 10 0 400 10\n", i, 5*(i-3))
	}
	file := filepath.Join(t.TempDir(), "rays.txt")
	if err := os.WriteFile(file, []byte(b.String()), 0o600); err != nil {
		t.Fatal(err)
	}
	return file
}

func TestRoundSolve(t *testing.T) {
	status, out, errs := said(t, nil, "", "round", "solve", "--iterations", "500", "--quiet", ring(t))
	if status != statusOK || errs != "" || !strings.HasSuffix(out, "Distance 90.0\n") || strings.Count(out, "Route ") != 2 {
		t.Errorf("status %d, %q, %q", status, out, errs)
	}
}

func TestRoundSolveRefuses(t *testing.T) {
	bad := filepath.Join(t.TempDir(), "bad.txt")
	if err := os.WriteFile(bad, []byte("X\nVEHICLE\n1 2\n1 2 3 4 5 6 7\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{{"round"}, {"round", "solve"}, {"round", "walk"}, {"round", "solve", bad}, {"round", "solve", "--threads", "0", bad}, {"round", "solve", bad + "x"}} {
		if status, out, errs := said(t, nil, "", args...); status == statusOK || out != "" || strings.Count(errs, "\n") != 1 {
			t.Errorf("%v: status %d, %q, %q", args, status, out, errs)
		}
	}
}

const smallWeek = `{"from": "2026-11-30", "days": 2,
 "places": [{"id": "shop", "lat": 53.3, "lon": -6.2}, {"id": "mill", "lat": 53.33, "lon": -6.22}, {"id": "lost"}],
 "vans": [{"id": "v1", "water_l": 300, "cylinders": 1}],
 "people": [{"id": "ada", "name": "Ada", "skills": ["gas"], "hours": [{"weekday": "mon", "from": "08:00", "to": "16:00", "start": "shop", "van": "v1", "break": {"from": "11:30", "to": "13:00", "minutes": 30}}]}],
 "stops": [
  {"id": "1", "name": "the mill", "place": "mill", "work_minutes": 45, "due": "2026-11-30", "windows": [{"weekday": "mon", "from": "10:00", "to": "12:30"}], "skills": ["gas"], "water_l": 40},
  {"id": "2", "place": "lost", "work_minutes": 30, "due": "2026-11-30"},
  {"id": "3", "place": "mill", "work_minutes": 30, "due": "2026-11-30", "windows": [{"weekday": "mon", "from": "18:00", "to": "20:00"}]}]}`

func TestRoundPlan(t *testing.T) {
	status, out, errs := said(t, nil, smallWeek, "round", "plan", "--iterations", "200", "--quiet")
	var p planJSON
	if err := json.Unmarshal([]byte(out), &p); err != nil || status != statusOK || errs != "" {
		t.Fatalf("status %d, %v, %q", status, err, errs)
	}
	if len(p.Routes) != 1 || len(p.Routes[0].Visits) != 1 || p.Routes[0].Visits[0].Stop != "1" || p.Routes[0].Visits[0].Start < 10*3600 {
		t.Errorf("routes %+v", p.Routes)
	}
	if len(p.Unplaced) != 2 || len(p.Unplaced[0].Why) != 1 || p.Unplaced[1].Remedy == "" || len(p.Broken) > 0 {
		t.Errorf("unplaced %+v, broken %v", p.Unplaced, p.Broken)
	}
	// What was printed is read back as the plan that is known.
	again := strings.Replace(smallWeek, `"days": 2`, `"days": 2, "known": `+out, 1)
	if status, twice, errs := said(t, nil, again, "round", "plan", "--iterations", "200", "--quiet"); status != statusOK || twice != out {
		t.Errorf("status %d, %q", status, errs)
	}
}

func TestRoundPlanRefusesInOneLine(t *testing.T) {
	for in, want := range map[string]string{
		`{"from": "2026-11-30", "days": 0}`:                                       "days",
		`{"from": "30.11.2026", "days": 1}`:                                       "30.11.2026",
		strings.Replace(smallWeek, `"place": "lost"`, `"place": "found"`, 1):      "stops.1.place",
		strings.Replace(smallWeek, `"weekday": "mon"`, `"weekday": "noon"`, 1):    "people.0.hours.0.weekday",
		strings.Replace(smallWeek, `"work_minutes": 45`, `"work_hours": 1`, 1):    "work_hours",
		strings.Replace(smallWeek, `"id": "3"`, `"id": "1"`, 1):                   "stops.2.id",
		strings.Replace(smallWeek, `"work_minutes": 45`, `"work_minutes": -1`, 1): "stops.0.work_minutes",
		smallWeek + "x": "follows",
	} {
		status, out, errs := said(t, nil, in, "round", "plan", "--iterations", "10")
		if status != statusUsage || out != "" || strings.Count(errs, "\n") != 1 || !strings.Contains(errs, want) {
			t.Errorf("%s: status %d, out %q, said %q", want, status, out, errs)
		}
	}
}

func TestRoundSchema(t *testing.T) {
	status, out, _ := said(t, nil, "", "round", "plan", "--schema")
	if status != statusOK || !strings.Contains(out, "pace_percent") {
		t.Errorf("status %d, %.80s", status, out)
	}
}
