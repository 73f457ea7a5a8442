package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// The templates are generated anew in a folder apart and compared with what
// stands beside them.
func TestGeneratedCodeIsFresh(t *testing.T) {
	if testing.Short() {
		t.Skip("generating is left to the long run")
	}
	top, apart := root(t), t.TempDir()
	var templates, generated []string
	walk(t, func(name string) {
		switch {
		case strings.HasSuffix(name, ".templ"):
			templates = append(templates, name)
			copyFile(t, filepath.Join(top, name), filepath.Join(apart, name))
		case strings.HasSuffix(name, "_templ.go"):
			generated = append(generated, name)
		}
	})
	copyFile(t, filepath.Join(top, "go.mod"), filepath.Join(apart, "go.mod"))
	cmd := exec.Command("go", "tool", "templ", "generate", "-path", apart)
	cmd.Dir = top
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	for _, name := range templates {
		name = strings.TrimSuffix(name, ".templ") + "_templ.go"
		want, err := os.ReadFile(filepath.Join(apart, name))
		if err != nil {
			t.Fatal(err)
		}
		got, err := os.ReadFile(filepath.Join(top, name))
		if err != nil {
			t.Errorf("%s was never generated: run go tool templ generate", name)
		} else if !bytes.Equal(got, want) {
			t.Errorf("%s is older than its template: run go tool templ generate", name)
		}
	}
	for _, name := range generated {
		if _, err := os.Stat(filepath.Join(top, strings.TrimSuffix(name, "_templ.go")+".templ")); err != nil {
			t.Errorf("%s has lost its template", name)
		}
	}
}

func copyFile(t *testing.T, from, to string) {
	t.Helper()
	b, err := os.ReadFile(from)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.MkdirAll(filepath.Dir(to), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(to, b, 0o644); err != nil {
		t.Fatal(err)
	}
}
