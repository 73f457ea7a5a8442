package main

import (
	"bytes"
	"context"
	"encoding/json"
	"strings"
	"testing"
)

// assessed runs the command on a document.
func assessed(in string, args ...string) (status int, out, errs string) {
	var stdout, stderr bytes.Buffer
	e := &env{stdin: strings.NewReader(in), stdout: &stdout, stderr: &stderr}
	status = run(context.Background(), e, append([]string{"assess"}, args...))
	return status, stdout.String(), stderr.String()
}

func TestAssessCommand(t *testing.T) {
	status, out, errs := assessed(`{"visit": "v7", "animals": [{"group": "tetras"}], "readings": {"no2_mg_l": 1}}`)
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
		status, out, errs := assessed(in)
		if status != statusUsage || out != "" || strings.Count(errs, "\n") != 1 || !strings.Contains(errs, want) {
			t.Errorf("%s: status %d, out %q, said %q", in, status, out, errs)
		}
	}
}

func TestAssessSchema(t *testing.T) {
	status, out, _ := assessed("", "--schema")
	if status != statusOK || !json.Valid([]byte(out)) || !strings.Contains(out, "ph_late") {
		t.Errorf("status %d, %.80s", status, out)
	}
}
