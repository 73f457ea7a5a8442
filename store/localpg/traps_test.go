//go:build linux || darwin

package localpg

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
)

// sleeper is a living process that has nothing to do with a database. It runs
// as the server's account, since Postgres takes others' processes for dead.
func sleeper(t *testing.T, a Account) int {
	t.Helper()
	cmd := exec.Command("sleep", "300")
	cmd.SysProcAttr = a.Attr()
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = cmd.Process.Kill(); _ = cmd.Wait() })
	return cmd.Process.Pid
}

func pgxConnect(url string) (*pgx.Conn, error) {
	ctx, cancel := context.WithTimeout(context.Background(), 5*time.Second)
	defer cancel()
	return pgx.Connect(ctx, url)
}

// serverPid is the process number of the server that runs at the moment.
func (s *Server) serverPid() int {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.child.pid()
}

func write(t *testing.T, path, content string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(content), 0o600); err != nil {
		t.Fatal(err)
	}
}

// made is a data folder with a database that was stopped in order.
func made(t *testing.T) (data string, f files) {
	t.Helper()
	data = oldFolder(t)
	f, err := newFiles(data)
	if err != nil {
		t.Fatal(err)
	}
	return data, f
}

func TestPidFileThatNamesALivingStranger(t *testing.T) {
	t.Parallel()
	data, f := made(t)
	stranger := sleeper(t, f.account)
	write(t, f.pidFile(), fmt.Sprintf("%d\n%s\n1\n5432\n%s\n\n\nready\n", stranger, f.pgdata(), f.nearSocket()))
	if err := f.account.Own(f.pidFile()); err != nil {
		t.Fatal(err)
	}
	connect(t, start(t, data).URL())
	if !alive(stranger) {
		t.Error("the stranger was ended")
	}
}

func TestStrangerWhoStandsInTheDatabaseFolder(t *testing.T) {
	t.Parallel()
	data, f := made(t)
	cmd := exec.Command("sleep", "300") // as it were a person's shell
	cmd.Dir, cmd.SysProcAttr = f.pgdata(), f.account.Attr()
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	ended := make(chan struct{})
	go func() { _ = cmd.Wait(); close(ended) }()
	t.Cleanup(func() { _ = cmd.Process.Kill(); <-ended })
	connect(t, start(t, data).URL())
	select {
	case <-ended:
		t.Error("the stranger was ended")
	default:
	}
}

func TestSocketLockThatNamesALivingStranger(t *testing.T) {
	t.Parallel()
	data, f := made(t)
	if err := os.MkdirAll(f.nearSocket(), 0o700); err != nil {
		t.Fatal(err)
	}
	lock := filepath.Join(f.nearSocket(), ".s.PGSQL.5432.lock")
	write(t, lock, fmt.Sprintf("%d\n%s\n1\n5432\n%s\n", sleeper(t, f.account), f.pgdata(), f.nearSocket()))
	connect(t, start(t, data).URL())
}

func TestHalfMadeClusterIsMadeAnew(t *testing.T) {
	t.Parallel()
	need(t)
	data := dataFolder(t)
	f, err := newFiles(data)
	if err != nil {
		t.Fatal(err)
	}
	half := f.pgdata() + ".new-cutshort"
	if err := os.Mkdir(half, 0o700); err != nil {
		t.Fatal(err)
	}
	write(t, filepath.Join(half, "PG_VERSION"), "15\n")
	connect(t, start(t, data).URL())
	if _, err := os.Stat(half); err == nil {
		t.Errorf("%s is still there", half)
	}
}

func TestSetUpCutShortBeforeTheDatabaseWasMade(t *testing.T) {
	t.Parallel()
	data := oldFolder(t)
	s := start(t, data)
	admin := connect(t, s.AdminURL())
	if _, err := admin.Exec(t.Context(), `DROP DATABASE `+Database); err != nil {
		t.Fatal(err)
	}
	stop(t, s)
	connect(t, start(t, data).URL())
}

func TestLostPasswordsAreSetAnew(t *testing.T) {
	t.Parallel()
	data, f := made(t)
	if err := os.Remove(f.passwords()); err != nil {
		t.Fatal(err)
	}
	s := start(t, data)
	connect(t, s.AdminURL())
	stranger := strings.Replace(s.AdminURL(), s.pass.admin, "guessed", 1)
	if conn, err := pgxConnect(stranger); err == nil {
		conn.Close(t.Context())
		t.Error("the door stayed open after the passwords were set")
	}
}

func TestFolderThatIsNoDatabaseIsLeftAlone(t *testing.T) {
	t.Parallel()
	need(t)
	data := dataFolder(t)
	f, err := newFiles(data)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Mkdir(f.pgdata(), 0o755); err != nil {
		t.Fatal(err)
	}
	precious := filepath.Join(f.pgdata(), "thesis.txt")
	write(t, precious, "words")
	_, err = Start(t.Context(), Options{Data: data})
	if err == nil || !strings.Contains(err.Error(), f.pgdata()) {
		t.Errorf("got %v, want an error that names the folder", err)
	}
	if _, err := os.Stat(precious); err != nil {
		t.Errorf("the folder was touched: %v", err)
	}
}

func TestOtherMajorIsRefusedUntouched(t *testing.T) {
	t.Parallel()
	data, f := made(t)
	version := filepath.Join(f.pgdata(), "PG_VERSION")
	write(t, version, "97\n")
	_, err := Start(t.Context(), Options{Data: data})
	if !errors.Is(err, ErrNoBinaries) || !strings.Contains(err.Error(), "Postgres 97") {
		t.Errorf("got %v, want a refusal that names the version", err)
	}
	if raw, err := os.ReadFile(version); err != nil || string(raw) != "97\n" {
		t.Errorf("the folder was touched: %q, %v", raw, err)
	}
}

func TestFolderBelowAClosedOneIsRefusedByName(t *testing.T) {
	t.Parallel()
	need(t)
	if os.Geteuid() != 0 {
		t.Skip("only root hands the server to another account")
	}
	closed := filepath.Join(openFolder(t), "home")
	if err := os.Mkdir(closed, 0o700); err != nil {
		t.Fatal(err)
	}
	_, err := Start(t.Context(), Options{Data: filepath.Join(closed, "data")})
	if err == nil || !strings.Contains(err.Error(), "folder "+closed+" ") {
		t.Errorf("got %v, want an error that names %s", err, closed)
	}
}

func TestCancelledStartLeavesNothingBehind(t *testing.T) {
	t.Parallel()
	data, f := made(t)
	ctx, cancel := context.WithTimeout(t.Context(), 15*time.Millisecond)
	defer cancel()
	if s, err := Start(ctx, Options{Data: data}); err == nil {
		stop(t, s)
		t.Skip("the server was faster than the cancellation")
	}
	if left, err := processesIn(f.pgdata()); err != nil || len(left) > 0 {
		t.Errorf("processes %v are left, %v", left, err)
	}
	connect(t, start(t, data).URL())
}

func TestKilledServerIsStartedAgainAtTheSameAddress(t *testing.T) {
	t.Parallel()
	s := start(t, oldFolder(t))
	if err := syscall.Kill(s.serverPid(), syscall.SIGKILL); err != nil {
		t.Fatal(err)
	}
	deadline := time.Now().Add(20 * time.Second)
	for {
		if conn, err := pgxConnect(s.URL()); err == nil {
			conn.Close(t.Context())
			break
		} else if time.Now().After(deadline) {
			t.Fatalf("it did not come back: %v", err)
		}
		time.Sleep(20 * time.Millisecond)
	}
}

func TestServerThatKeepsDyingIsGivenUp(t *testing.T) {
	t.Parallel()
	s := start(t, oldFolder(t))
	killed := 0
	for deadline := time.After(60 * time.Second); ; {
		select {
		case <-s.Done():
			if s.Err() == nil {
				t.Error("it gave up without a word")
			}
			if killed != maxRestarts+1 {
				t.Errorf("given up after %d kills, want %d", killed, maxRestarts+1)
			}
			return
		case <-deadline:
			t.Fatal("it never gave up")
		case <-time.After(5 * time.Millisecond):
			if pid := readPidFile(s.files.pidFile()); pid.status == "ready" && pid.pid == s.serverPid() && alive(pid.pid) {
				if syscall.Kill(pid.pid, syscall.SIGKILL) == nil {
					killed++
				}
				for alive(pid.pid) {
					time.Sleep(time.Millisecond)
				}
			}
		}
	}
}
