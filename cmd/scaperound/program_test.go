package main

import (
	"bufio"
	"bytes"
	"context"
	"io"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"scaperound/store/localpg"
	"scaperound/store/storetest"
)

// The tests of the whole program run it as a process of its own: this test
// binary, which becomes the program where it finds this variable.
const asProgram = "BECOME_SCAPEROUND"

func TestMain(m *testing.M) {
	if os.Getenv(asProgram) != "" {
		os.Exit(mainStatus())
	}
	os.Exit(m.Run())
}

// A program is scaperound running as a process.
type program struct {
	cmd    *exec.Cmd
	ended  chan struct{}
	mu     sync.Mutex
	stdout bytes.Buffer
	stderr bytes.Buffer
	grew   chan struct{} // gets something whenever standard output grows
}

// start runs the program with the environment given and nothing else.
func start(t testing.TB, environ []string, args ...string) *program {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	p := &program{cmd: exec.Command(self, args...), ended: make(chan struct{}), grew: make(chan struct{}, 1)}
	p.cmd.Env = append([]string{asProgram + "=1", "PATH=" + os.Getenv("PATH"), "HOME=" + t.TempDir()}, environ...)
	p.cmd.Dir = t.TempDir()
	p.cmd.Stderr = writerFunc(func(b []byte) { p.mu.Lock(); p.stderr.Write(b); p.mu.Unlock() })
	out, err := p.cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := p.cmd.Start(); err != nil {
		t.Fatal(err)
	}
	go func() {
		lines := bufio.NewReader(out)
		for {
			line, err := lines.ReadString('\n')
			p.mu.Lock()
			p.stdout.WriteString(line)
			p.mu.Unlock()
			select {
			case p.grew <- struct{}{}:
			default:
			}
			if err != nil {
				break
			}
		}
		p.cmd.Wait()
		close(p.ended)
	}()
	t.Cleanup(func() {
		select {
		case <-p.ended:
		default:
			p.cmd.Process.Kill()
			<-p.ended
		}
		if t.Failed() {
			t.Logf("scaperound %s\nstandard output:\n%s\nstandard error:\n%s", strings.Join(args, " "), p.out(), p.errs())
		}
	})
	return p
}

type writerFunc func([]byte)

func (f writerFunc) Write(b []byte) (int, error) { f(b); return len(b), nil }

func (p *program) out() string  { p.mu.Lock(); defer p.mu.Unlock(); return p.stdout.String() }
func (p *program) errs() string { p.mu.Lock(); defer p.mu.Unlock(); return p.stderr.String() }

// patience is how long a test waits for what takes a second on an idle machine.
const patience = 60 * time.Second

// says waits until standard output holds the text.
func (p *program) says(t testing.TB, text string) {
	t.Helper()
	late := time.After(patience)
	for !strings.Contains(p.out(), text) {
		select {
		case <-p.grew:
		case <-p.ended:
			if !strings.Contains(p.out(), text) {
				t.Fatalf("it ended without saying %q", text)
			}
		case <-late:
			t.Fatalf("it did not say %q in time", text)
		}
	}
}

// stop sends the signal and returns the exit status, -1 where a signal ended it.
func (p *program) stop(t testing.TB, sig os.Signal) int {
	t.Helper()
	if err := p.cmd.Process.Signal(sig); err != nil {
		t.Fatal(err)
	}
	return p.status(t)
}

func (p *program) status(t testing.TB) int {
	t.Helper()
	select {
	case <-p.ended:
	case <-time.After(patience):
		t.Fatal("it did not end in time")
	}
	return p.cmd.ProcessState.ExitCode()
}

// needPostgres skips the test where no private database can run.
func needPostgres(t testing.TB) {
	t.Helper()
	if _, err := localpg.FindBinaries(); err != nil {
		storetest.SkipFor(t, "db", "%v", err)
	}
}

// newFolder is the path of a data folder that does not exist yet and that
// Postgres' own user can reach, which the test framework's folders are not when
// started as root.
func newFolder(t testing.TB) string {
	t.Helper()
	dir, err := os.MkdirTemp("", "scaperound-test-")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.RemoveAll(dir) })
	if err := os.Chmod(dir, 0o711); err != nil {
		t.Fatal(err)
	}
	return filepath.Join(dir, "data")
}

// get asks without following redirects and returns status and body.
func get(t testing.TB, url string) (int, string) {
	t.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), patience)
	defer cancel()
	req, err := http.NewRequestWithContext(ctx, http.MethodGet, url, nil)
	if err != nil {
		t.Fatal(err)
	}
	answer, err := direct.Do(req)
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	body, err := io.ReadAll(answer.Body)
	if err != nil {
		t.Fatal(err)
	}
	return answer.StatusCode, string(body)
}

var direct = &http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}

var (
	terminate = syscall.SIGTERM
	interrupt = os.Interrupt
)
