//go:build linux || darwin

package localpg

import (
	"os"
	"os/exec"
	"runtime"
	"syscall"
	"time"
)

// child is a server process started by us.
type child struct {
	cmd  *exec.Cmd
	done chan struct{} // closed when it has ended and was waited for
	err  error         // how it ended; read after done
}

// startChild starts cmd from a thread that lives as long as the child does:
// Linux sends the signal of a parent's death when the thread that started the
// child ends, and Go ends idle threads whenever it likes.
func startChild(cmd *exec.Cmd) (*child, error) {
	c := &child{cmd: cmd, done: make(chan struct{})}
	started := make(chan error)
	go func() {
		runtime.LockOSThread()
		defer runtime.UnlockOSThread()
		if err := cmd.Start(); err != nil {
			started <- err
			return
		}
		started <- nil
		c.err = cmd.Wait()
		close(c.done)
	}()
	if err := <-started; err != nil {
		return nil, err
	}
	return c, nil
}

func (c *child) pid() int { return c.cmd.Process.Pid }

func (c *child) ended() bool {
	select {
	case <-c.done:
		return true
	default:
		return false
	}
}

// quitGrace is how long Postgres gets to drop everything and leave.
const quitGrace = 5 * time.Second

// end asks for a fast shutdown, after grace for an immediate one, and kills
// what is left after that.
func (c *child) end(grace time.Duration) {
	for _, step := range []struct {
		signal syscall.Signal
		wait   time.Duration
	}{{syscall.SIGINT, grace}, {syscall.SIGQUIT, quitGrace}, {syscall.SIGKILL, quitGrace}} {
		if c.ended() {
			return
		}
		_ = c.cmd.Process.Signal(step.signal)
		select {
		case <-c.done:
			return
		case <-time.After(step.wait):
		}
	}
}

// serverEnv is the environment of Postgres' programs: nothing of ours that
// could point them elsewhere (PGDATA, PGPORT, PGOPTIONS, LC_…).
func serverEnv() []string {
	return []string{"PATH=" + os.Getenv("PATH"), "LC_ALL=C", "TZ=UTC"}
}
