//go:build linux || darwin

package storetest

import (
	"os"
	"path/filepath"
	"strconv"
	"syscall"
	"testing"
	"time"

	"scaperound/store/localpg"
)

func TestKeeperComesBackAfterAKillAndLeavesWhenUnused(t *testing.T) {
	t.Parallel()
	if _, err := localpg.FindBinaries(); err != nil {
		SkipFor(t, "db", "%v", err)
	}
	dir, err := os.MkdirTemp("", "scaperound-keeper-")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.RemoveAll(dir) })
	if err := os.Chmod(dir, 0o711); err != nil {
		t.Fatal(err)
	}
	first, users, err := join(dir)
	if err != nil {
		t.Fatal(err)
	}
	if same, more, err := join(dir); err != nil || same != first {
		t.Errorf("the second user is at %v, %v; want %v", same, err, first)
	} else {
		more.Close()
	}
	pid, err := strconv.Atoi(first.keeper)
	if err != nil {
		t.Fatal(err)
	}
	if err := syscall.Kill(pid, syscall.SIGKILL); err != nil {
		t.Fatal(err)
	}
	for start := time.Now(); ; time.Sleep(10 * time.Millisecond) {
		if _, ok := running(dir); !ok {
			break
		}
		if time.Since(start) > 20*time.Second {
			t.Fatal("the server outlives its keeper")
		}
	}
	users.Close()
	second, users, err := join(dir)
	if err != nil {
		t.Fatalf("after the kill: %v", err)
	}
	if second.keeper == first.keeper {
		t.Error("the killed keeper answers")
	}
	users.Close()
	for start := time.Now(); ; time.Sleep(50 * time.Millisecond) {
		left, _ := filepath.Glob(filepath.Join(dir, "run-*"))
		_, err := os.Stat(filepath.Join(dir, "users"))
		if len(left) == 0 && os.IsNotExist(err) {
			return
		}
		if time.Since(start) > linger+20*time.Second {
			t.Fatalf("the unused cluster is still there: %v", left)
		}
	}
}

type recorder struct {
	testing.TB
	fatal, skipped bool
}

func (r *recorder) Helper()               {}
func (r *recorder) Fatalf(string, ...any) { r.fatal = true }
func (r *recorder) Skipf(string, ...any)  { r.skipped = true }

func TestWhatIsRequiredIsNotSkipped(t *testing.T) {
	for env, fatal := range map[string]bool{"": false, "browser": false, "db": true, "browser,db": true} {
		t.Setenv(RequireEnv, env)
		r := &recorder{TB: t}
		SkipFor(r, "db", "none here")
		if r.fatal != fatal {
			t.Errorf("%s=%q: fatal %v, want %v", RequireEnv, env, r.fatal, fatal)
		}
		if !r.fatal && !r.skipped {
			t.Errorf("%s=%q: neither failed nor skipped", RequireEnv, env)
		}
	}
}
