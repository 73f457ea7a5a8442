package web

import (
	"context"
	"crypto/rand"
	"encoding/base32"
	"errors"
	"log/slog"
	"net/http"
	"strings"
	"time"

	"scaperound/domain/staff"
)

// notes is what becomes known of a request on its way.
type notes struct {
	id      string
	route   string // the pattern, never the address: that may hold a token
	status  int
	bytes   int
	err     error
	unseen  bool            // signs that nobody can see were taken out of what was typed
	in      staff.SignIn    // who is signed in; zero for nobody
	session context.Context // carries the session's values once they are read
}

type notesKey struct{}

// note is the request's own notes. Outside a request it is a throw-away.
func note(r *http.Request) *notes {
	if n, ok := r.Context().Value(notesKey{}).(*notes); ok {
		return n
	}
	return &notes{}
}

var idText = base32.NewEncoding("0123456789abcdefghjkmnpqrstvwxyz").WithPadding(base32.NoPadding)

// newRequestID is short enough to be read out on the phone.
func newRequestID() string {
	b := make([]byte, 5)
	_, _ = rand.Read(b) // never fails
	id := idText.EncodeToString(b)
	return id[:4] + "-" + id[4:]
}

// logged writes one line for each request.
func (s *shell) logged(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		n := &notes{id: newRequestID()}
		began := time.Now()
		cw := &counting{ResponseWriter: w, notes: n}
		w.Header().Set("X-Request-Id", n.id)
		defer func() {
			s.logLine(r.Context(), r.Method, n, time.Since(began))
		}()
		next.ServeHTTP(cw, r.WithContext(context.WithValue(r.Context(), notesKey{}, n)))
	})
}

func (s *shell) logLine(ctx context.Context, method string, n *notes, took time.Duration) {
	level := slog.LevelInfo
	// Whoever asked has closed the page meanwhile: nothing went wrong here.
	gone := errors.Is(n.err, context.Canceled) && errors.Is(ctx.Err(), context.Canceled)
	switch {
	case n.status >= 500 && !gone:
		level = slog.LevelError
	case strings.HasPrefix(n.route, "/static/"), n.route == "/healthz", n.route == "/readyz":
		level = slog.LevelDebug
	}
	attrs := []slog.Attr{
		slog.String("request", n.id),
		slog.String("method", method),
		slog.String("route", n.route),
		slog.Int("status", n.status),
		slog.Int("bytes", n.bytes),
		slog.Duration("took", took.Round(10*time.Microsecond)),
	}
	if gone {
		attrs = append(attrs, slog.Bool("gone", true))
	}
	if n.in.Person.ID != "" {
		attrs = append(attrs, slog.String("staff", n.in.Person.ID))
	}
	if n.err != nil {
		attrs = append(attrs, slog.String("error", n.err.Error()))
	}
	s.log.LogAttrs(ctx, level, "request", attrs...)
}

// counting notes what was answered.
type counting struct {
	http.ResponseWriter
	notes *notes
}

func (c *counting) WriteHeader(status int) {
	if c.notes.status == 0 && status >= 200 {
		c.notes.status = status
	}
	c.ResponseWriter.WriteHeader(status)
}

func (c *counting) Write(b []byte) (int, error) {
	if c.notes.status == 0 {
		c.notes.status = http.StatusOK
	}
	n, err := c.ResponseWriter.Write(b)
	c.notes.bytes += n
	return n, err
}

// Unwrap lets http.ResponseController reach the connection.
func (c *counting) Unwrap() http.ResponseWriter { return c.ResponseWriter }
