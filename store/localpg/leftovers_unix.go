//go:build linux || darwin

package localpg

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"time"
)

// pidInfo is what we need of postmaster.pid: line 1 and line 8.
type pidInfo struct {
	pid    int
	status string
}

func readPidFile(path string) pidInfo {
	raw, err := os.ReadFile(path)
	if err != nil {
		return pidInfo{}
	}
	lines := strings.Split(string(raw), "\n")
	pid, err := strconv.Atoi(strings.TrimSpace(lines[0]))
	if err != nil {
		return pidInfo{}
	}
	info := pidInfo{pid: pid}
	if len(lines) >= 8 {
		info.status = strings.TrimSpace(lines[7])
	}
	return info
}

// endLeftovers ends what still works on the database folder: the server of a
// program that was killed, or the helpers of a server that was. We hold the
// folder's lock, so none of them belongs to a living program. A pid file that
// names a living stranger is removed, since Postgres would believe it.
func (s *Server) endLeftovers(ctx context.Context) error {
	dir := s.files.pgdata()
	for _, step := range []struct {
		signal syscall.Signal
		wait   time.Duration
	}{{syscall.SIGINT, stopGrace}, {syscall.SIGQUIT, quitGrace}, {syscall.SIGKILL, quitGrace}} {
		pids, err := processesIn(dir)
		if err != nil {
			return err
		}
		if len(pids) == 0 {
			break
		}
		server := readPidFile(s.files.pidFile()).pid
		for _, pid := range pids {
			// While its server lives a helper is the server's to end.
			if pid == server || !slices.Contains(pids, server) {
				_ = syscall.Kill(pid, step.signal)
			}
		}
		for start := time.Now(); len(pids) > 0 && time.Since(start) < step.wait; time.Sleep(poll) {
			if ctx.Err() != nil {
				return ctx.Err()
			}
			if pids, err = processesIn(dir); err != nil {
				return err
			}
		}
	}
	pids, err := processesIn(dir)
	if err != nil {
		return err
	}
	if len(pids) > 0 {
		return fmt.Errorf("processes %v still work on %s and could not be ended", pids, dir)
	}
	if left := readPidFile(s.files.pidFile()); left.pid != 0 && alive(left.pid) {
		if err := os.Remove(s.files.pidFile()); err != nil {
			return err
		}
	}
	return s.clearSocket()
}

// clearSocket removes a dead server's socket and its lock file, which may name
// a process number that a stranger has by now.
func (s *Server) clearSocket() error {
	if s.sock == "" {
		return nil
	}
	left, err := filepath.Glob(filepath.Join(globQuote(s.sock), ".s.PGSQL.*"))
	if err != nil {
		return err
	}
	for _, path := range left {
		if err := os.Remove(path); err != nil && !os.IsNotExist(err) {
			return err
		}
	}
	return nil
}

func globQuote(path string) string {
	return strings.NewReplacer(`\`, `\\`, `*`, `\*`, `?`, `\?`, `[`, `\[`).Replace(path)
}

func alive(pid int) bool {
	err := syscall.Kill(pid, 0)
	return err == nil || err == syscall.EPERM
}
