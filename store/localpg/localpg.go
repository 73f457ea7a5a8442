// Package localpg runs a private Postgres for one-command use: a server of the
// program's own, in the program's data folder, reachable through a socket in a
// folder that nobody else may enter, and ending with the program.
//
// A program, a server, or both may be killed at any moment: the next Start
// clears up and recovers by itself. It never deletes a database.
package localpg

import (
	"errors"
	"io"
	"net/url"
	"strings"
	"sync"
)

// Names inside the private cluster.
const (
	// Role is the ordinary role that the program works as; it owns Database
	// and nothing else.
	Role     = "scaperound"
	Database = "scaperound"
	// adminRole is the cluster's superuser, for set-up only.
	adminRole = "postgres"
)

// Options say where the database lives.
type Options struct {
	// Data is the program's data folder; it is made where it is missing.
	Data string
	// Log gets a line for each step that takes time; nil is silence. The
	// server's own log is the file postgres.log in Data.
	Log io.Writer
	// Throwaway trades all safety for speed: nothing reaches the disk for
	// certain, and the socket's folder is the only lock on the door. For tests.
	Throwaway bool
}

// ErrUnsupported is in the chain where the system has no private database.
var ErrUnsupported = errors.New("no private database on this system")

// Server is a running private Postgres.
type Server struct {
	opts  Options
	files files
	pass  passwords
	sock  string // the folder of the socket

	state // what the system needs to run it

	mu       sync.Mutex
	stopping bool
	err      error
	done     chan struct{}
}

// URL is the address of the shop's database for the ordinary role.
func (s *Server) URL() string { return address(Role, s.pass.role, s.sock, Database) }

// AdminURL is the address of the cluster's superuser. Only what sets up roles
// and databases has any use for it.
func (s *Server) AdminURL() string { return address(adminRole, s.pass.admin, s.sock, "postgres") }

// Done is closed when the server has ended for good: after Stop, or when it
// kept dying. Err tells which.
func (s *Server) Done() <-chan struct{} { return s.done }

// Err is nil while the server runs and after Stop.
func (s *Server) Err() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.err
}

// socketPort is only a part of the socket's name: nothing listens on TCP.
const socketPort = "5432"

func address(role, password, sock, database string) string {
	u := url.URL{Scheme: "postgres", User: url.UserPassword(role, password), Path: "/" + database}
	// The reader of the address takes a plus for itself, not for a space.
	u.RawQuery = strings.ReplaceAll(url.Values{"host": {sock}, "port": {socketPort}}.Encode(), "+", "%20")
	return u.String()
}
