package web

import (
	"context"
	"crypto/sha256"
	"net/http"
	"net/url"
)

// onceStore makes what a form asks for once, however often it is sent.
type onceStore interface {
	// Once promises it for the next transaction under the context.
	Once(ctx context.Context, form string, sum []byte) context.Context
	// SentBefore reports whether an error says that the form was answered
	// before, and what it made then.
	SentBefore(err error) (id string, sent bool)
}

// once is the context under which a form makes something: a second tap on its
// button finds what the first one made. The same form with other words is
// another one, as after going back.
func (s *shell) once(r *http.Request, values url.Values) context.Context {
	sum := sha256.Sum256([]byte(r.URL.Path + "\n" + values.Encode()))
	return s.cfg.Store.Once(r.Context(), values.Get("once"), sum[:])
}

// first turns the answer to a second tap into that to the first.
func (s *shell) first(id string, err error) (string, error) {
	if was, sent := s.cfg.Store.SentBefore(err); sent {
		return was, nil
	}
	return id, err
}

// firstOnly is first for what has no page of its own.
func (s *shell) firstOnly(err error) error {
	_, err = s.first("", err)
	return err
}
