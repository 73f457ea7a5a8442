package static_test

import (
	"testing"
	"testing/fstest"

	"scaperound/static"
)

// The hash of a folder follows its sources and nothing else.
func TestSourceSumFollowsTheSources(t *testing.T) {
	sum := func(fs fstest.MapFS) string {
		t.Helper()
		s, err := static.SourceSum(fs, "x")
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	file := func(s string) *fstest.MapFile { return &fstest.MapFile{Data: []byte(s)} }
	base := sum(fstest.MapFS{"x/a.go": file("package x")})
	if got := sum(fstest.MapFS{"x/a.go": file("package x"), "x/a_test.go": file("package x"), "x/n.txt": file("n"), "x/y/b.go": file("package y")}); got != base {
		t.Error("a test, a text or another folder changes it")
	}
	for name, other := range map[string]fstest.MapFS{
		"content": {"x/a.go": file("package x // more")},
		"name":    {"x/b.go": file("package x")},
		"another": {"x/a.go": file("package x"), "x/b.go": file("")},
	} {
		if sum(other) == base {
			t.Errorf("another %s does not change it", name)
		}
	}
	if _, err := static.SourceSum(fstest.MapFS{}, "x"); err == nil {
		t.Error("a folder that is not there has a sum")
	}
}

// A build that nobody can compare with is never called fresh.
func TestBrowserBuildWithoutItsSources(t *testing.T) {
	if b := static.BrowserBuild(fstest.MapFS{}); b.Made && !b.Older {
		t.Error("made from nothing, and fresh")
	}
}
