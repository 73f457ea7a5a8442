package main

import (
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// atTheTop is all that stands in the project's first folder.
var atTheTop = []string{
	"DEVELOPERS.md", "LICENSE", "README.md", "cmd", "deploy", "docker-compose.yml",
	"domain", "go.mod", "go.sum", "migrations", "static", "store", "web",
}

func TestTopHoldsNothingElse(t *testing.T) {
	top := root(t)
	entries, err := os.ReadDir(top)
	if err != nil {
		t.Fatal(err)
	}
	ignored, err := os.ReadFile(filepath.Join(top, ".gitignore"))
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		name := e.Name()
		if strings.HasPrefix(name, ".") || slices.Contains(atTheTop, name) {
			continue
		}
		if !slices.ContainsFunc(strings.Fields(string(ignored)), func(pattern string) bool {
			ok, _ := path.Match(strings.Trim(pattern, "/"), name)
			return ok
		}) {
			t.Errorf("%s stands at the top; give it a place in a folder, or in atTheTop", name)
		}
	}
}

// papers are what a newcomer reads first.
var papers = []string{"README.md", "DEVELOPERS.md"}

var (
	inBackticks = regexp.MustCompile("`([^`\n]+)`")
	inLink      = regexp.MustCompile(`\]\(([^)\s#]+)[^)]*\)`)
)

func TestPapersNameOnlyWhatIsThere(t *testing.T) {
	top := root(t)
	for _, paper := range papers {
		text, err := os.ReadFile(filepath.Join(top, paper))
		if os.IsNotExist(err) {
			continue
		}
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range pathsIn(string(text)) {
			found, err := filepath.Glob(filepath.Join(top, filepath.FromSlash(name)))
			if err != nil || len(found) == 0 {
				t.Errorf("%s names %s, which is not there", paper, name)
			}
		}
	}
}

// pathsIn lists what a paper names of the project: the targets of its links,
// and words in backticks that begin like something at the top.
func pathsIn(text string) []string {
	var out []string
	for _, m := range inLink.FindAllStringSubmatch(text, -1) {
		if !strings.Contains(m[1], ":") {
			out = append(out, m[1])
		}
	}
	for _, m := range inBackticks.FindAllStringSubmatch(text, -1) {
		word := strings.TrimPrefix(strings.Fields(m[1] + " .")[0], "./")
		first, _, deeper := strings.Cut(word, "/")
		if slices.Contains(atTheTop, first) && (deeper || strings.Contains(word, ".")) {
			out = append(out, strings.TrimSuffix(word, "/"))
		}
	}
	return out
}

func TestPathsInAPaper(t *testing.T) {
	got := pathsIn("See [the guide](DEVELOPERS.md#tests), [out](https://example.org/x), `store/localpg`,\n" +
		"`./deploy/demo --keep`, `web/visit_*.go`, `go.mod`, `visit.New`, `web` and `/healthz`.")
	want := []string{"DEVELOPERS.md", "store/localpg", "deploy/demo", "web/visit_*.go", "go.mod"}
	if !slices.Equal(got, want) {
		t.Errorf("found %q, want %q", got, want)
	}
}

// A variable that help config does not list is one that nobody can find.
func TestPapersNameOnlySettingsThatExist(t *testing.T) {
	top := root(t)
	variable := regexp.MustCompile(`SCAPEROUND_[A-Z_]*[A-Z]`)
	known := []string{"SCAPEROUND_REQUIRE", "SCAPEROUND_KILLS"}
	for _, s := range settings {
		known = append(known, s.name, s.name+"_FILE")
	}
	for _, name := range append([]string{"docker-compose.yml", "deploy/scaperound.service", "deploy/Dockerfile"}, papers...) {
		text, err := os.ReadFile(filepath.Join(top, name))
		if err != nil && !os.IsNotExist(err) {
			t.Fatal(err)
		}
		for _, v := range variable.FindAllString(string(text), -1) {
			if !slices.Contains(known, v) {
				t.Errorf("%s names %s, which is no setting", name, v)
			}
		}
	}
}
