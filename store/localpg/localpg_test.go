//go:build linux || darwin

package localpg

import (
	"context"
	"os"
	"path/filepath"
	"testing"
)

// dataFolder is a new folder that the server's account can reach, which the
// test framework's own is not when started as root.
func dataFolder(t testing.TB) string {
	t.Helper()
	dir, err := os.MkdirTemp("", "scaperound-localpg-")
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod(dir, 0o711); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.RemoveAll(dir) })
	return filepath.Join(dir, "data")
}

func TestStartTwice(t *testing.T) {
	data := dataFolder(t)
	for range 2 {
		s, err := Start(context.Background(), Options{Data: data})
		if err != nil {
			t.Fatal(err)
		}
		if err := s.Stop(context.Background()); err != nil {
			t.Fatal(err)
		}
	}
}
