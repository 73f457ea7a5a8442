//go:build !linux && !darwin

package localpg

import (
	"context"
	"fmt"
	"runtime"
)

type (
	state     struct{}
	files     struct{}
	passwords struct{ admin, role string }
)

// Start is not available on this system.
func Start(context.Context, Options) (*Server, error) {
	return nil, fmt.Errorf("%w (%s): set DATABASE_URL to a Postgres %d or later that runs already", ErrUnsupported, runtime.GOOS, MinMajor)
}

// Stop does nothing on this system.
func (s *Server) Stop(context.Context) error { return nil }

// Running is never the case on this system.
func Running(string) (url string, ok bool) { return "", false }

// Anew does nothing on this system.
func (s *Server) Anew(context.Context) error { return ErrUnsupported }
