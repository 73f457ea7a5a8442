package main

import (
	"slices"
	"strconv"
	"strings"
	"testing"
)

// The tests in the house_ files keep the house in order: who may import whom,
// what the domain must not do, what stands at the top, and that the papers name
// only what is there.

const module = "scaperound/"

// domainOrder is the stack of the domain, lowest first. A package imports only
// those of the lines above its own; those of one line do as the compiler lets
// them. A package that is not named is a field of science.
var domainOrder = [][]string{
	{"fault"},
	{"num", "quantity"},
	{"say"},
	{"typed"},
	{"shop"},
	{"tank", "staff", "customer"},
	{"visit"},
	{"calc", sciences}, // the registry of calculations, and what it offers
	{"forecast"},
	{"care"},
	{"share", "due", "counter", "triage"},
	{"wire"},
}

const sciences = "(any science)"

// roundKnows is what the planner of rounds may import: it knows no tank.
var roundKnows = []string{"domain/fault", "domain/num", "domain/quantity", "domain/say"}

// pureStd is the part of the standard library that neither reads a clock nor
// touches the world outside.
var pureStd = []string{
	"bytes", "cmp", "container/heap", "crypto/hmac", "crypto/sha256", "crypto/subtle", "encoding/base64", "encoding/binary", "encoding/hex", "errors", "fmt", "hash", "hash/fnv",
	"iter", "maps", "math", "math/big", "math/bits", "math/rand/v2", "reflect", "slices", "sort", "strconv", "strings",
	"sync", "time", "unicode", "unicode/utf8",
	// For text that is searched and sorted; as pure as the rest.
	"golang.org/x/text",
}

// layers says what the rest may import besides the standard library: of the
// house, and of other people's libraries. Tests are freer, see testMayImport.
var layers = []struct {
	dir   string // the longest that fits a package counts
	house []string
	libs  []string
}{
	{"migrations", nil, nil},
	{"domain", nil, nil}, // its packages have their own order, above
	{"static", nil, []string{"github.com/evanw/esbuild"}},
	{"store", []string{"domain", "migrations", "store"}, []string{"github.com/jackc/pgx/v5", "github.com/pressly/goose/v3", "golang.org/x/sys", "golang.org/x/text"}},
	{"web/view", []string{"domain", "web/view"}, []string{"github.com/a-h/templ", "rsc.io/qr"}},
	{"web", []string{"domain", "web", "static"}, []string{"github.com/go-chi/chi/v5", "github.com/alexedwards/scs/v2", "github.com/alexedwards/argon2id", "github.com/a-h/templ", "golang.org/x/crypto", "golang.org/x/sync", "rsc.io/qr", "github.com/arran4/golang-ical"}},
	{"cmd/tablet/build", []string{"domain", "static"}, []string{"github.com/andybalholm/brotli"}},
	{"cmd/tablet", []string{"domain"}, nil},
	{"cmd", []string{"domain", "migrations", "store", "web", "static", "cmd"}, []string{"github.com/jackc/pgx/v5", "github.com/alexedwards/argon2id", "github.com/alexedwards/scs/v2", "github.com/alexedwards/scs/pgxstore", "golang.org/x/term", "golang.org/x/sys"}},
}

// onlyTests are packages that nothing but tests may import.
var onlyTests = []string{"store/storetest", "web/webtest"}

func TestImportDirections(t *testing.T) {
	sources := readSources(t)
	if len(sources) < 10 {
		t.Fatalf("only %d files found: this test looks in the wrong place", len(sources))
	}
	for _, s := range sources {
		for _, spec := range s.parsed.Imports {
			imported, _ := strconv.Unquote(spec.Path.Value)
			if why := breach(s, imported); why != "" {
				t.Errorf("%s imports %s: %s", s.name, imported, why)
			}
		}
	}
}

// breach says what is wrong with an import; "" where nothing is.
func breach(s source, imported string) string {
	inside, ours := strings.CutPrefix(imported, module)
	helper := slices.ContainsFunc(onlyTests, func(dir string) bool { return within(s.pkg(), dir) })
	if s.test || helper {
		return testBreach(s, inside, ours)
	}
	if slices.Contains(onlyTests, inside) {
		return "only tests may"
	}
	if rest, ok := strings.CutPrefix(s.pkg(), "domain/"); ok {
		return domainBreach(rest, imported, inside, ours)
	}
	for _, l := range layers {
		if !within(s.pkg(), l.dir) {
			continue
		}
		allowed := l.libs
		if ours {
			imported, allowed = inside, l.house
		} else if !strings.Contains(strings.Split(imported, "/")[0], ".") {
			return "" // the standard library
		}
		if slices.ContainsFunc(allowed, func(a string) bool { return within(imported, a) }) {
			return ""
		}
		return l.dir + " may import only " + strings.Join(allowed, ", ")
	}
	return "its folder has no line in the table of layers"
}

// testBreach holds tests to less: they may use any library, and in the domain
// still no store, page or command.
func testBreach(s source, inside string, ours bool) string {
	if ours && within(s.pkg(), "domain") && !within(inside, "domain") {
		return "the domain's tests need nothing outside the domain"
	}
	return ""
}

func domainBreach(pkg, imported, inside string, ours bool) string {
	first := strings.Split(pkg, "/")[0]
	if !ours {
		if slices.ContainsFunc(pureStd, func(p string) bool {
			return imported == p || (strings.Contains(p, ".") && within(imported, p))
		}) {
			return ""
		}
		if imported == "encoding/json" && first == "wire" {
			return "the codec is written by hand"
		}
		return "the domain is pure"
	}
	other, ok := strings.CutPrefix(inside, "domain/")
	if !ok {
		return "the domain knows nothing outside itself"
	}
	other = strings.Split(other, "/")[0]
	if first == "round" {
		if slices.Contains(roundKnows, inside) || other == "round" {
			return ""
		}
		return "a round knows no tank"
	}
	// due hands a need to the round.
	if other == "round" {
		if first == "due" {
			return ""
		}
		return "only due may"
	}
	mine, theirs := place(first), place(other)
	if theirs > mine {
		return "domain/" + other + " stands above domain/" + first
	}
	return ""
}

// place is the line of a package of the domain.
func place(pkg string) int {
	on := func(name string) int {
		return slices.IndexFunc(domainOrder, func(line []string) bool { return slices.Contains(line, name) })
	}
	if i := on(pkg); i >= 0 {
		return i
	}
	return on(sciences)
}

// within reports whether a path is a folder or below it.
func within(p, dir string) bool { return p == dir || strings.HasPrefix(p, dir+"/") }

// The order of the layers matters to breach: the first that fits counts.
func TestLayersAreListedNarrowFirst(t *testing.T) {
	for i, l := range layers {
		for _, wider := range layers[:i] {
			if within(l.dir, wider.dir) {
				t.Errorf("%s never counts: %s comes before it", l.dir, wider.dir)
			}
		}
	}
}

// The rules themselves are tried, so that a table that lets all through fails.
func TestBreachesAreSeen(t *testing.T) {
	for _, c := range []struct {
		file, imported string
		allowed        bool
	}{
		{"domain/tank/setup.go", "scaperound/domain/quantity", true},
		{"domain/quantity/units.go", "scaperound/domain/tank", false},
		{"domain/tank/setup.go", "context", false},
		{"domain/tank/setup.go", "encoding/json", false},
		{"domain/wire/assess.go", "encoding/json", false},
		{"domain/tank/setup.go", "gonum.org/v1/gonum/mat", false},
		{"domain/tank/setup_test.go", "gonum.org/v1/gonum/mat", true},
		{"domain/tank/setup_test.go", "scaperound/store", false},
		{"domain/care/rules.go", "scaperound/domain/forecast", true},
		{"domain/forecast/state.go", "scaperound/domain/care", false},
		{"domain/care/rules.go", "scaperound/domain/round", false},
		{"domain/round/solve.go", "scaperound/domain/tank", false},
		{"domain/due/need.go", "scaperound/domain/round", true},
		{"domain/chem/davies.go", "scaperound/domain/num", true},
		{"domain/chem/davies.go", "scaperound/domain/volume", true},
		{"domain/chem/davies.go", "scaperound/domain/care", false},
		{"domain/tank/setup.go", "scaperound/domain/chem", false},
		{"web/visit_submit.go", "scaperound/store", false},
		{"web/visit_submit.go", "github.com/jackc/pgx/v5", false},
		{"web/visit_submit.go", "scaperound/web/view", true},
		{"web/view/visit.go", "scaperound/web", false},
		{"web/view/visit.go", "github.com/go-chi/chi/v5", false},
		{"web/visit_test.go", "scaperound/store", true},
		{"store/visit.go", "scaperound/web", false},
		{"store/visit.go", "scaperound/store/storetest", false},
		{"store/visit_test.go", "scaperound/store/storetest", true},
		{"web/webtest/server.go", "scaperound/store/storetest", true},
		{"cmd/scaperound/serve.go", "scaperound/store", true},
		{"cmd/scaperound/serve.go", "scaperound/web/webtest", false},
		{"extra/thing.go", "scaperound/store", false},
	} {
		why := breach(source{name: c.file, test: strings.HasSuffix(c.file, "_test.go")}, c.imported)
		if (why == "") != c.allowed {
			t.Errorf("%s importing %s: allowed is %v, want %v (%s)", c.file, c.imported, why == "", c.allowed, why)
		}
	}
}
