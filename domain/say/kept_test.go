package say

import (
	"flag"
	"maps"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
)

var rewrite = flag.Bool("rewrite", false, "add what is new to testdata/kept.txt")

var argument = regexp.MustCompile(`\{(\w+)\}`)

// Judgements are kept as ids and arguments for years. Whatever was once said must
// still have words, and words that ask for no argument that was not given then.
// After adding a sentence: go test ./domain/say -rewrite.
func TestNothingThatWasSaidIsForgotten(t *testing.T) {
	const name = "testdata/kept.txt"
	text, err := os.ReadFile(name)
	if err != nil && !*rewrite {
		t.Fatal(err)
	}
	kept := map[string][]string{}
	for line := range strings.Lines(string(text)) {
		id, args, _ := strings.Cut(strings.TrimSpace(line), " ")
		kept[id] = strings.Fields(args)
	}
	now := map[string][]string{}
	for id, pattern := range english {
		for _, m := range argument.FindAllStringSubmatch(pattern, -1) {
			now[id] = append(now[id], m[1])
		}
		slices.Sort(now[id])
		now[id] = slices.Compact(now[id])
	}
	for key := range words {
		now["word:"+key] = nil
	}
	for id, had := range kept {
		args, has := now[id]
		if !has {
			t.Errorf("%s was said and has no words any more: keep it in english_retired.go", id)
		}
		for _, a := range args {
			if !slices.Contains(had, a) {
				t.Errorf("%s asks for {%s}, which older judgements do not hold: give the new wording an id of its own", id, a)
			}
		}
	}
	var fresh []string
	for _, id := range slices.Sorted(maps.Keys(now)) {
		if _, has := kept[id]; !has {
			fresh = append(fresh, id)
		}
	}
	if len(fresh) == 0 {
		return
	}
	if !*rewrite {
		t.Errorf("%d sentences are not written down as said, first %s: run with -rewrite", len(fresh), fresh[0])
		return
	}
	for _, id := range fresh {
		kept[id] = now[id]
	}
	var out strings.Builder
	for _, id := range slices.Sorted(maps.Keys(kept)) {
		out.WriteString(strings.TrimSpace(id + " " + strings.Join(kept[id], " ")))
		out.WriteString("\n")
	}
	if err := os.MkdirAll("testdata", 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(name, []byte(out.String()), 0o644); err != nil {
		t.Fatal(err)
	}
}
