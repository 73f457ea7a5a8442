package main

import (
	"crypto/tls"
	"log/slog"
	"sync"
	"time"
)

// certificate is the pair of files, read anew now and then, so that a renewed
// one is taken up without a new start.
type certificate struct {
	certFile, keyFile string
	log               *slog.Logger

	mu   sync.Mutex
	read time.Time
	pair *tls.Certificate
}

// rereadAfter is how old what was read may become.
const rereadAfter = time.Hour

func (c *certificate) get(*tls.ClientHelloInfo) (*tls.Certificate, error) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.pair != nil && time.Since(c.read) < rereadAfter {
		return c.pair, nil
	}
	pair, err := tls.LoadX509KeyPair(c.certFile, c.keyFile)
	switch {
	case err == nil:
		c.pair = &pair
	case c.pair == nil:
		return nil, err
	default:
		// Half-way through a renewal the two files may not fit each other.
		c.log.Warn("the certificate cannot be read again; the old one stays", "err", err)
	}
	c.read = time.Now()
	return c.pair, nil
}
