package main

import (
	"strings"
	"testing"
)

func TestExitStatusAndStreams(t *testing.T) {
	for _, c := range []struct {
		args   string
		status int
		out    string // contained in standard output
		errs   string // contained in standard error
	}{
		{"", statusUsage, "", "Usage: scaperound"},
		{"help", statusOK, "Usage: scaperound", ""},
		{"--help", statusOK, "Usage: scaperound", ""},
		{"help version", statusOK, "Which build this is", ""},
		{"help help", statusOK, "scaperound help", ""},
		{"version --help", statusOK, "Which build this is", ""},
		{"version", statusOK, "scaperound ", ""},
		{"version now", statusUsage, "", `"now" is one too many`},
		{"version --loud", statusUsage, "", "loud"},
		{"prune", statusUsage, "", `no command "prune"`},
		{"help prune", statusUsage, "", `no command "prune"`},
	} {
		status, out, errs := said(t, nil, "", strings.Fields(c.args)...)
		if status != c.status {
			t.Errorf("%q: status %d, want %d (%s)", c.args, status, c.status, errs)
		}
		if !strings.Contains(out, c.out) || (c.out == "" && out != "") {
			t.Errorf("%q: standard output %q", c.args, out)
		}
		if !strings.Contains(errs, c.errs) || (c.errs == "" && errs != "") {
			t.Errorf("%q: standard error %q", c.args, errs)
		}
	}
}

func TestEveryCommandIsInHelpAndHasItsOwn(t *testing.T) {
	_, list, _ := said(t, nil, "", "help")
	seen := map[string]bool{}
	for _, c := range commands() {
		if seen[c.name] {
			t.Errorf("%s is there twice", c.name)
		}
		seen[c.name] = true
		if !strings.Contains(list, "  "+c.name) {
			t.Errorf("%s is not in the list", c.name)
		}
		status, out, errs := said(t, nil, "", "help", c.name)
		if status != statusOK || !strings.Contains(out, upperFirst(c.title)) || errs != "" {
			t.Errorf("help %s: status %d, %q, %q", c.name, status, out, errs)
		}
	}
}
