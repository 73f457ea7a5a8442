package webtest

import (
	"net"
	"sync"
)

// Line is the line between a site and its visitors. Cut drops every connection
// and refuses new ones, as a dead spot does: a browser goes on believing that it
// is online, and its service worker is cut off with its pages.
type Line struct {
	net.Listener

	mu   sync.Mutex
	cut  bool
	open map[net.Conn]struct{}
}

func newLine(ln net.Listener) *Line {
	return &Line{Listener: ln, open: map[net.Conn]struct{}{}}
}

// Cut ends the line until Mend.
func (l *Line) Cut() {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.cut = true
	for c := range l.open {
		c.Close()
	}
	clear(l.open)
}

// Mend lets visitors through again.
func (l *Line) Mend() {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.cut = false
}

// Accept waits for the next visitor who gets through.
func (l *Line) Accept() (net.Conn, error) {
	for {
		c, err := l.Listener.Accept()
		if err != nil {
			return nil, err
		}
		l.mu.Lock()
		if l.cut {
			l.mu.Unlock()
			c.Close()
			continue
		}
		l.open[c] = struct{}{}
		l.mu.Unlock()
		return &lineConn{Conn: c, line: l}, nil
	}
}

// lineConn leaves the line's books when it is closed.
type lineConn struct {
	net.Conn
	line *Line
}

func (c *lineConn) Close() error {
	c.line.mu.Lock()
	delete(c.line.open, c.Conn)
	c.line.mu.Unlock()
	return c.Conn.Close()
}
