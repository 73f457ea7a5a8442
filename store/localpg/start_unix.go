//go:build linux || darwin

package localpg

import (
	"context"
	"errors"
	"fmt"
	"os"
	"strings"
	"time"
)

// state is what a running server holds on to.
type state struct {
	bin   Binaries
	lock  *os.File // keeps the data folder ours for as long as it is referenced
	child *child
}

// Start starts the private Postgres of a data folder and returns once it
// answers and the shop's role and database exist. A folder without a database
// gets one. Cancelling ctx later does not stop the server; Stop does.
//
// The variables of the environment that point Postgres' programs and drivers
// at other databases (PGHOST, PGSERVICE, PGOPTIONS …) are removed from it.
func Start(ctx context.Context, opts Options) (*Server, error) {
	for _, pair := range os.Environ() {
		if name, _, _ := strings.Cut(pair, "="); strings.HasPrefix(name, "PG") {
			os.Unsetenv(name)
		}
	}
	f, err := newFiles(opts.Data)
	if err != nil {
		return nil, err
	}
	lock, err := f.take()
	if err != nil {
		return nil, err
	}
	s := &Server{opts: opts, files: f, done: make(chan struct{})}
	s.lock = lock
	if err := s.start(ctx); err != nil {
		if s.child != nil {
			s.child.end(stopGrace)
		}
		f.dropFarSocket()
		lock.Close()
		return nil, err
	}
	go s.supervise()
	return s, nil
}

func (s *Server) start(ctx context.Context) error {
	major, err := s.files.version()
	if err != nil {
		return err
	}
	if major == 0 {
		s.bin, err = FindBinaries()
	} else {
		s.bin, err = FindMajor(major)
		if err != nil {
			err = fmt.Errorf("the database in %s was written by Postgres %d and only that version can read it. It is left as it is. Install that version again, or restore a backup into a new data folder: %w", s.files.data, major, err)
		}
	}
	if err != nil {
		return err
	}
	if s.pass, err = s.files.loadPasswords(); err != nil {
		return err
	}
	if major == 0 {
		if err := s.initdb(ctx); err != nil {
			return err
		}
	}
	if s.sock, err = s.files.socketFolder(); err != nil {
		return err
	}
	if err := s.launch(ctx); err != nil {
		return err
	}
	err = s.ensureDatabase(ctx)
	if !errors.Is(err, errPassword) {
		return err
	}
	s.child.end(stopGrace)
	if err := s.resetPasswords(ctx); err != nil {
		return err
	}
	if err := s.launch(ctx); err != nil {
		return err
	}
	return s.ensureDatabase(ctx)
}

func (s *Server) logf(format string, args ...any) {
	if s.opts.Log != nil {
		fmt.Fprintf(s.opts.Log, format+"\n", args...)
	}
}

// How often a server that dies under us is started again before we give up.
const (
	maxRestarts   = 5
	restartWindow = time.Minute
)

// supervise starts the server again when it ends without having been asked. The
// socket's path stays the same, so that open pools find the way back.
func (s *Server) supervise() {
	defer close(s.done)
	var restarts []time.Time
	for {
		<-s.child.done
		s.mu.Lock()
		stopping := s.stopping
		s.mu.Unlock()
		if stopping {
			return
		}
		now := time.Now()
		for len(restarts) > 0 && now.Sub(restarts[0]) > restartWindow {
			restarts = restarts[1:]
		}
		if len(restarts) >= maxRestarts {
			s.fail(fmt.Errorf("the database server ended %d times within %v (%v); see %s", len(restarts)+1, restartWindow, s.child.err, s.files.serverLog()))
			return
		}
		restarts = append(restarts, now)
		s.logf("The database server ended unexpectedly (%v); starting it again.", s.child.err)
		before := s.child
		err := s.launch(context.Background())
		switch {
		case errors.Is(err, errStopping):
			return
		case err != nil && s.child == before: // it could not even be tried
			s.fail(err)
			return
		case err != nil: // its child has ended, which counts
			s.logf("%v", err)
		}
	}
}

var errStopping = errors.New("stopping")

func (s *Server) fail(err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if !s.stopping {
		s.err = err
	}
}

// stopGrace is how long an orderly end may take before it is forced.
const stopGrace = 20 * time.Second

// Stop ends the server in order: transactions under way are rolled back, the
// rest is on the disk. When ctx ends or patience does, the end is forced, which
// loses nothing either: the next Start recovers.
func (s *Server) Stop(ctx context.Context) error {
	s.mu.Lock()
	again := s.stopping
	s.stopping = true
	current := s.child
	s.mu.Unlock()
	if again {
		<-s.done
		return nil
	}
	grace := stopGrace
	if deadline, ok := ctx.Deadline(); ok {
		grace = min(grace, max(time.Until(deadline), 0))
	}
	ended := make(chan struct{})
	go func() { current.end(grace); close(ended) }()
	select {
	case <-ended:
	case <-ctx.Done():
		current.end(0)
		<-ended
	}
	<-s.done
	s.files.dropFarSocket()
	return s.lock.Close()
}
