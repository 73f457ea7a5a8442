package main_test

import (
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
			nothingLarge(t, filepath.Join("..", "..", dir))
		}
	}
	if ours < 10 {
		t.Errorf("only %d of our packages are in it", ours)
	}
}

// large are functions that bring much with them, for what a few lines do: the
// table of zones, layouts of any kind, a tree of all that is to be replaced.
var large = map[string]bool{"LoadLocation": true, "Format": true, "Parse": true, "NewReplacer": true, "Quote": true}

// nothingLarge looks for such functions, and for %q, which the browser build's
// sentences cannot fill.
func nothingLarge(t *testing.T, dir string) {
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
			switch x := n.(type) {
			case *ast.SelectorExpr:
				if from, is := x.X.(*ast.Ident); is && large[x.Sel.Name] && (from.Name == "time" || from.Name == "strings" || from.Name == "strconv" || x.Sel.Name == "Format") {
					t.Errorf("%s: %s.%s", name, from.Name, x.Sel.Name)
				}
			case *ast.BasicLit:
				if strings.Contains(x.Value, "%q") {
					t.Errorf("%s: %s", name, x.Value)
				}
			}
			return true
		})
	}
}

// ceiling is what the browser build may weigh, packed by brotli, in bytes: what a
// poor signal brings in half a minute. A third of it is the runtime, most of the
// rest the rules.
const ceiling = 700_000

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
	t.Logf("%d bytes by brotli, %d unpacked", b.Brotli, b.Plain)
	if b.Brotli > ceiling || b.Brotli < 100_000 {
		t.Errorf("%d bytes by brotli, want %d at the most", b.Brotli, ceiling)
	}
}
