package main_test

import (
	"bytes"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"scaperound/domain"
	"scaperound/static"
)

// What crosses the wire has no room for these, and no business with most.
var notInTablet = []string{"encoding/json", "net", "os", "fmt", "crypto", "github.com", "gonum.org", "golang.org", "scaperound/store", "scaperound/web", "scaperound/static"}

func reached(t *testing.T) []string {
	t.Helper()
	cmd := exec.Command("go", "list", "-deps", ".")
	cmd.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	return strings.Fields(string(out))
}

func TestTabletReachesNothingHeavy(t *testing.T) {
	pkgs := reached(t)
	if len(pkgs) < 20 {
		t.Fatalf("only %v", pkgs)
	}
	ours := 0
	for _, pkg := range pkgs {
		for _, not := range notInTablet {
			if pkg == not || strings.HasPrefix(pkg, not+"/") {
				t.Errorf("the browser build reaches %s", pkg)
			}
		}
		if dir, ok := strings.CutPrefix(pkg, "scaperound/"); ok {
			ours++
			noZones(t, filepath.Join("..", "..", dir))
		}
	}
	if ours < 10 {
		t.Errorf("only %d of our packages are in it", ours)
	}
}

// noZones looks for time.LoadLocation, with which the zones' table would come.
func noZones(t *testing.T, dir string) {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(dir, "*.go"))
	if err != nil || len(files) == 0 {
		t.Fatalf("%s: %v", dir, err)
	}
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(f, func(n ast.Node) bool {
			if x, ok := n.(*ast.SelectorExpr); ok && x.Sel.Name == "LoadLocation" {
				t.Errorf("%s: time.LoadLocation", name)
			}
			return true
		})
	}
}

// aim is what the browser build should weigh, packed by brotli, in bytes. It is
// not reached: half of it is the runtime, most of the rest the rules. ceiling
// keeps it from growing unseen meanwhile; an older toolchain's is a little larger.
const (
	aim     = 700_000
	ceiling = 777_000
	older   = 20_000
)

func TestBrowserBuildIsSmallAndFresh(t *testing.T) {
	b := static.BrowserBuild(domain.Sources)
	if !b.Made {
		if strings.Contains(os.Getenv("SCAPEROUND_REQUIRE"), "browser") {
			t.Fatal("there is no browser build; go generate ./static makes it")
		}
		t.Skip("there is no browser build; go generate ./static makes it")
	}
	if b.Older {
		t.Error("the browser build is older than the domain: go generate ./static")
	}
	sums, err := os.ReadFile("../../static/assess.sum")
	if err != nil {
		t.Fatal(err)
	}
	limit := ceiling
	if !bytes.Contains(sums, []byte("toolchain go1.27")) {
		limit += older
	}
	t.Logf("%d bytes by brotli (the aim is %d), %d unpacked", b.Brotli, aim, b.Plain)
	if b.Brotli > limit || b.Brotli < 100_000 {
		t.Errorf("%d bytes by brotli, want %d at the most", b.Brotli, limit)
	}
}
