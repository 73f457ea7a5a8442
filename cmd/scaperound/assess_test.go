package main

import (
	"encoding/json"
	"strings"
	"testing"

	"scaperound/domain/care"
)

func TestAssessCommand(t *testing.T) {
	status, out, errs := said(t, nil, `{"visit": "v7", "animals": [{"group": "tetras"}], "readings": {"no2_mg_l": 1}}`, "assess")
	var a struct {
		Visit string
		Tasks []struct{ Action string }
	}
	if err := json.Unmarshal([]byte(out), &a); err != nil || status != statusOK || errs != "" {
		t.Fatalf("status %d, %v, %q", status, err, errs)
	}
	if a.Visit != "v7" || len(a.Tasks) == 0 {
		t.Errorf("%+v", a)
	}
}

func TestAssessRefusesInOneLine(t *testing.T) {
	for in, want := range map[string]string{
		`{"readings": {"ph_late": 45}}`:         "readings.ph_late",
		`{"tank": {"planting": {"a": [1, 2]}}}`: "tank.planting",
		`{"a": `:                                "not JSON",
	} {
		status, out, errs := said(t, nil, in, "assess")
		if status != statusUsage || out != "" || strings.Count(errs, "\n") != 1 || !strings.Contains(errs, want) {
			t.Errorf("%s: status %d, out %q, said %q", in, status, out, errs)
		}
	}
}

func TestRulesCommand(t *testing.T) {
	status, out, errs := said(t, nil, "", "rules")
	if status != statusOK || errs != "" {
		t.Fatalf("status %d, %q", status, errs)
	}
	for _, r := range care.Rules() {
		if !strings.Contains(out, r.ID+"  "+r.Title) || !strings.Contains(out, r.Source) {
			t.Errorf("the rule %s is not listed", r.ID)
		}
	}
}

func TestAssessSchema(t *testing.T) {
	status, out, _ := said(t, nil, "", "assess", "--schema")
	if status != statusOK || !json.Valid([]byte(out)) || !strings.Contains(out, "ph_late") {
		t.Errorf("status %d, %.80s", status, out)
	}
}
