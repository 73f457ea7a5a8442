package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path"
	"slices"
	"strconv"
	"testing"
)

// notInDomain are calls that a pure package does not make though it may import
// their package for something else.
var notInDomain = map[string][]string{
	"time": {"Now", "Since", "Until", "LoadLocation", "Local", "Sleep", "After", "AfterFunc", "Tick", "NewTimer", "NewTicker"},
	// The generators with a seed of one's own are fine: New, NewPCG, NewChaCha8.
	"math/rand/v2": {"Int", "IntN", "Int32", "Int32N", "Int64", "Int64N", "Uint32", "Uint32N", "Uint64", "Uint64N", "UintN", "Uint", "Float32", "Float64", "ExpFloat64", "NormFloat64", "N", "Perm", "Shuffle"},
	// They differ between targets in the last bits; domain/num has its own.
	"math": {"Exp", "Exp2", "Expm1", "Log", "Log2", "Log10", "Log1p", "Pow", "Sin", "Cos", "Tan", "Sinh", "Cosh", "Tanh", "Asin", "Acos", "Atan", "Atan2", "Cbrt", "Hypot", "Erf", "Erfc", "Gamma", "Lgamma"},
	"fmt":  {"Print", "Println", "Printf", "Scan", "Scanln", "Scanf"},
}

func TestDomainIsPure(t *testing.T) {
	for _, s := range readSources(t) {
		if s.test || !within(s.pkg(), "domain") {
			continue
		}
		for _, what := range impure(s.parsed) {
			t.Errorf("%s: %s", s.name, what)
		}
	}
}

// impure lists calls that reach for the clock, for chance or for the terminal,
// and tags on struct fields.
func impure(f *ast.File) []string {
	local := map[string]string{} // name in this file -> import path
	for _, spec := range f.Imports {
		p, _ := strconv.Unquote(spec.Path.Value)
		name := path.Base(p)
		if p == "math/rand/v2" {
			name = "rand"
		}
		if spec.Name != nil {
			name = spec.Name.Name
		}
		local[name] = p
	}
	var found []string
	ast.Inspect(f, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.SelectorExpr:
			id, ok := n.X.(*ast.Ident)
			if ok && id.Obj == nil && slices.Contains(notInDomain[local[id.Name]], n.Sel.Name) {
				found = append(found, id.Name+"."+n.Sel.Name+" is not pure")
			}
		case *ast.Field:
			if n.Tag != nil {
				found = append(found, "a struct field has the tag "+n.Tag.Value)
			}
		}
		return true
	})
	return found
}

func TestImpurityIsSeen(t *testing.T) {
	const text = "package x\nimport (\"time\"; r \"math/rand/v2\"; \"fmt\")\n" +
		"type T struct { A int `json:\"a\"` }\n" +
		"func f() { _ = time.Now(); _ = r.IntN(3); _ = r.New(r.NewPCG(1, 2)); fmt.Println(fmt.Sprint(1)) }\n"
	f, err := parser.ParseFile(token.NewFileSet(), "x.go", text, 0)
	if err != nil {
		t.Fatal(err)
	}
	if got := impure(f); len(got) != 4 {
		t.Errorf("found %q, want the tag, the clock, the chance and the printing", got)
	}
}
