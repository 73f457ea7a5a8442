package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"
	"testing"
)

// A source is a Go file as the house tests see it.
type source struct {
	name   string // from the project's top, with slashes
	test   bool
	parsed *ast.File
}

func (s source) pkg() string { return path.Dir(s.name) }

// root is the project's top folder.
func root(t *testing.T) string {
	t.Helper()
	dir, err := filepath.Abs("../..")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(filepath.Join(dir, "go.mod")); err != nil {
		t.Fatal("the project's top is not where it was: ", err)
	}
	return dir
}

// walk visits every file of the project that is handed on: no hidden folders
// but .ci, nothing that is built.
func walk(t *testing.T, visit func(name string)) {
	t.Helper()
	top := root(t)
	err := filepath.WalkDir(top, func(full string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		name, _ := filepath.Rel(top, full)
		name = filepath.ToSlash(name)
		if d.IsDir() {
			hidden := strings.HasPrefix(d.Name(), ".") && name != "." && name != ".ci"
			if hidden || name == "bin" {
				return fs.SkipDir
			}
			return nil
		}
		visit(name)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// readSources parses every Go file, whatever system it is for.
func readSources(t *testing.T) []source {
	t.Helper()
	top := root(t)
	set := token.NewFileSet()
	var out []source
	walk(t, func(name string) {
		if !strings.HasSuffix(name, ".go") || strings.Contains(name, "/testdata/") {
			return
		}
		parsed, err := parser.ParseFile(set, filepath.Join(top, name), nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, source{name: name, test: strings.HasSuffix(name, "_test.go"), parsed: parsed})
	})
	return out
}
