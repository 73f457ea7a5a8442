//go:build linux || darwin

package localpg

import (
	"context"
	"fmt"
	"io"
	"os"
	"os/exec"
	"strings"
	"syscall"
	"time"

	"github.com/jackc/pgx/v5"
)

// poll is how often we look whether something has happened.
const poll = 5 * time.Millisecond

// memoryWait is how long the helpers of a killed server may hold its shared
// memory before we believe that they will never let go.
const memoryWait = 15 * time.Second

// launch starts the server and waits until it answers. What an earlier server
// left behind is ended first.
func (s *Server) launch(ctx context.Context, extra ...string) error {
	for start := time.Now(); ; time.Sleep(100 * time.Millisecond) {
		if err := s.endLeftovers(ctx); err != nil {
			return err
		}
		said, err := s.launchOnce(ctx, extra)
		if err == nil || time.Since(start) > memoryWait || ctx.Err() != nil ||
			!strings.Contains(said, "pre-existing shared memory block") {
			return err
		}
	}
}

// launchOnce also returns what the server wrote to its log where it failed.
func (s *Server) launchOnce(ctx context.Context, extra []string) (said string, err error) {
	log, err := s.openLog()
	if err != nil {
		return "", err
	}
	defer log.Close()
	from, err := log.Seek(0, io.SeekEnd)
	if err != nil {
		return "", err
	}
	cmd := exec.Command(s.bin.Postgres(), append(s.settings(), extra...)...)
	cmd.Dir, cmd.Env = s.files.server(), serverEnv()
	cmd.Stdout, cmd.Stderr = log, log
	cmd.SysProcAttr = serverAttr(s.files.account)

	s.mu.Lock()
	if s.stopping {
		s.mu.Unlock()
		return "", errStopping
	}
	c, err := startChild(cmd)
	if err == nil {
		s.child = c
	}
	s.mu.Unlock()
	if err != nil {
		return "", fmt.Errorf("start the database server: %w", err)
	}
	if err := s.awaitReady(ctx, c); err != nil {
		c.end(stopGrace)
		said := tail(s.files.serverLog(), from)
		return said, fmt.Errorf("the database server did not come up: %w\n%s", err, said)
	}
	return "", nil
}

// settings are the server's command line. They come from here and not from the
// database folder, so that an old folder runs with the program's ideas.
func (s *Server) settings() []string {
	args := []string{"-D", s.files.pgdata()}
	set := func(name, value string) { args = append(args, "-c", name+"="+value) }
	set("listen_addresses", "")
	set("unix_socket_directories", `"`+strings.ReplaceAll(s.sock, `"`, `""`)+`"`)
	set("unix_socket_permissions", "0700")
	set("port", socketPort)
	set("logging_collector", "off")
	set("log_destination", "stderr")
	set("log_timezone", "UTC")
	set("timezone", "UTC")
	set("lc_messages", "C")
	// Details of errors quote whole rows: names, addresses, codes of doors.
	set("log_error_verbosity", "terse")
	set("max_connections", "60")
	if s.opts.Throwaway {
		set("max_connections", "400")
		set("fsync", "off")
		set("synchronous_commit", "off")
		set("full_page_writes", "off")
		set("wal_level", "minimal")
		set("max_wal_senders", "0")
		set("autovacuum", "off")
		// In the data folder, which is thrown away; elsewhere a kill leaves it.
		set("dynamic_shared_memory_type", "mmap")
	}
	return args
}

// maxLog is the size at which the server's log begins anew, keeping one old.
const maxLog = 4 << 20

func (s *Server) openLog() (*os.File, error) {
	path := s.files.serverLog()
	if info, err := os.Lstat(path); err == nil && info.Size() > maxLog {
		if err := os.Rename(path, path+".old"); err != nil {
			return nil, err
		}
	}
	return os.OpenFile(path, os.O_RDWR|os.O_CREATE|os.O_APPEND|syscall.O_NOFOLLOW, 0o600)
}

// tail returns the last lines that were written to the log after an offset.
func tail(path string, from int64) string {
	f, err := os.Open(path)
	if err != nil {
		return ""
	}
	defer f.Close()
	if info, err := f.Stat(); err == nil {
		from = max(from, info.Size()-4000)
	}
	raw, _ := io.ReadAll(io.NewSectionReader(f, from, 4000))
	return strings.TrimSpace(string(raw))
}

// awaitReady waits until the pid file is the child's and says ready, and the
// socket answers. A recovery may take its time; it is reported, not cut short.
func (s *Server) awaitReady(ctx context.Context, c *child) error {
	report := time.Now().Add(5 * time.Second)
	for {
		pid := readPidFile(s.files.pidFile())
		if pid.pid == c.pid() && pid.status == "ready" {
			return s.answers(ctx, c)
		}
		if now := time.Now(); now.After(report) {
			s.logf("The database is still recovering; this may take a while after a power cut.")
			report = now.Add(30 * time.Second)
		}
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-c.done:
			return fmt.Errorf("it ended at once (%v)", c.err)
		case <-time.After(poll):
		}
	}
}

// answers checks the socket itself; a refused password is an answer as well.
func (s *Server) answers(ctx context.Context, c *child) error {
	for start := time.Now(); ; time.Sleep(poll) {
		conn, err := pgx.Connect(ctx, s.URL())
		if err == nil {
			return conn.Close(ctx)
		}
		if isRefusal(err) {
			return nil
		}
		if time.Since(start) > 10*time.Second || ctx.Err() != nil || c.ended() {
			return err
		}
	}
}
