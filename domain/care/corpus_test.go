package care_test

import (
	"bufio"
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"slices"
	"sort"
	"strings"
	"testing"

	"scaperound/domain/care"
	"scaperound/domain/wire"
)

// rewrite puts the corpus' outcome down anew, which is only right together with
// a new RulesVersion.
var rewrite = flag.Bool("rewrite", false, "write testdata/outcome.txt")

// corpusCase is a made-up visit with what somebody who knows the trade expects
// of it: any of first as the first cause, all of must on the list (a|b: either of
// them), none of never.
type corpusCase struct {
	ID      string
	Visit   json.RawMessage
	First   []string
	Must    []string
	Never   []string
	Urgency string
}

func corpus(t testing.TB) []corpusCase {
	t.Helper()
	f, err := os.Open("testdata/corpus.jsonl")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var out []corpusCase
	lines := bufio.NewScanner(f)
	lines.Buffer(nil, 1<<20)
	for lines.Scan() {
		var c corpusCase
		if err := json.Unmarshal(lines.Bytes(), &c); err != nil {
			t.Fatal(err)
		}
		out = append(out, c)
	}
	if err := lines.Err(); err != nil {
		t.Fatal(err)
	}
	if len(out) < 50 {
		t.Fatalf("the corpus has only %d visits", len(out))
	}
	return out
}

func (c corpusCase) assess(t testing.TB) care.Assessment {
	t.Helper()
	in, _, err := wire.DecodeCase(c.Visit)
	if err != nil {
		t.Fatalf("%s: %v", c.ID, err)
	}
	return care.Assess(in)
}

func TestCorpusIsJudgedAsPracticeWould(t *testing.T) {
	for _, c := range corpus(t) {
		a := c.assess(t)
		got := actionsOf(a)
		if len(a.Causes) == 0 || !slices.Contains(c.First, a.Causes[0].ID) {
			t.Errorf("%s: the first cause is %v, want one of %v", c.ID, a.Causes, c.First)
		}
		for _, m := range c.Must {
			if !slices.ContainsFunc(strings.Split(m, "|"), func(a string) bool { return slices.Contains(got, a) }) {
				t.Errorf("%s: %s is not on the list %v", c.ID, m, got)
			}
		}
		for _, n := range c.Never {
			if slices.Contains(got, n) {
				t.Errorf("%s: %s is on the list", c.ID, n)
			}
		}
		if c.Urgency != "" && string(a.Urgency) != c.Urgency {
			t.Errorf("%s: urgency %s, want %s", c.ID, a.Urgency, c.Urgency)
		}
	}
}

// TestRulesVersion holds decisions to their version: whoever changes what the
// corpus leads to raises RulesVersion and runs go test -run RulesVersion -rewrite.
func TestRulesVersion(t *testing.T) {
	const name = "testdata/outcome.txt"
	var b strings.Builder
	fmt.Fprintf(&b, "rules %s\n", care.RulesVersion)
	counts := map[string]int{}
	for _, c := range corpus(t) {
		a := c.assess(t)
		first := "-"
		if len(a.Causes) > 0 {
			first = a.Causes[0].ID
		}
		fmt.Fprintf(&b, "%s: %s, %s, %s\n", c.ID, a.Urgency, first, strings.Join(actionsOf(a), " "))
		for _, f := range a.Findings {
			counts[f.Rule]++
		}
	}
	var ids []string
	for id := range counts {
		ids = append(ids, id)
	}
	sort.Strings(ids)
	for _, id := range ids {
		fmt.Fprintf(&b, "fired %s %d\n", id, counts[id])
	}
	old, err := os.ReadFile(name)
	if err != nil && !*rewrite {
		t.Fatal(err)
	}
	if b.String() == string(old) {
		return
	}
	was, _, _ := strings.Cut(string(old), "\n")
	now := "rules " + care.RulesVersion
	if *rewrite && was != now {
		if err := os.WriteFile(name, []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	before := strings.Split(string(old), "\n")
	for _, l := range strings.Split(b.String(), "\n") {
		if !slices.Contains(before, l) {
			t.Log("now: ", l)
		}
	}
	after := strings.Split(b.String(), "\n")
	for _, l := range before {
		if !slices.Contains(after, l) {
			t.Log("was: ", l)
		}
	}
	t.Errorf("the corpus leads elsewhere under %s (file: %s); raise care.RulesVersion and run with -rewrite", now, was)
}
