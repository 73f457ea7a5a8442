package main

import (
	"context"
	"crypto/tls"
	"errors"
	"log/slog"
	"net"
	"net/http"
	"time"
)

// stopWithin is how long requests under way have to end after a stop was asked
// for.
const stopWithin = 10 * time.Second

// newHTTPServer sets every limit that net/http leaves open by default, but for
// the size of bodies, which each route knows. A handler that streams (an
// export) extends its own write deadline.
func newHTTPServer(h http.Handler, log *slog.Logger) *http.Server {
	return &http.Server{
		Handler:           h,
		ReadHeaderTimeout: 10 * time.Second,
		// A tablet on a bad signal sends its megabyte slowly.
		ReadTimeout:    60 * time.Second,
		WriteTimeout:   90 * time.Second,
		IdleTimeout:    120 * time.Second,
		MaxHeaderBytes: 32 << 10,
		ErrorLog:       slog.NewLogLogger(log.Handler(), slog.LevelWarn),
		TLSConfig:      &tls.Config{MinVersion: tls.VersionTLS12},
	}
}

// serveUntil serves until ctx ends, then lets requests under way finish. It ends
// with an error where the private database ends first.
func serveUntil(ctx context.Context, s *http.Server, ln net.Listener, c *config, db *database, log *slog.Logger) error {
	background, endBackground := context.WithCancel(ctx)
	swept := sweep(background, db, log)
	defer func() {
		endBackground()
		<-swept
	}()
	served := make(chan error, 1)
	go func() {
		if c.tlsCert != "" {
			files := &certificate{certFile: c.tlsCert, keyFile: c.tlsKey, log: log}
			s.TLSConfig.GetCertificate = files.get
			served <- s.ServeTLS(ln, "", "")
		} else {
			served <- s.Serve(ln)
		}
	}()
	var reason error
	select {
	case err := <-served:
		return err
	case <-db.ended():
		reason = db.why()
	case <-ctx.Done():
	}
	grace, cancel := context.WithTimeout(context.WithoutCancel(ctx), stopWithin)
	defer cancel()
	if err := s.Shutdown(grace); err != nil {
		s.Close()
	}
	if err := <-served; !errors.Is(err, http.ErrServerClosed) {
		reason = errors.Join(reason, err)
	}
	return reason
}
