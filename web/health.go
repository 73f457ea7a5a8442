package web

import (
	"context"
	"net/http"

	"scaperound/domain/fault"
	"scaperound/static"
)

// readyStore says whether the database answers.
type readyStore interface {
	Ping(ctx context.Context) error
}

type health struct{ store readyStore }

// process answers as long as the program runs.
func (health) process(w http.ResponseWriter, _ *http.Request) error {
	return plain(w, "running\n")
}

// database answers 503 while the database does not.
func (h health) database(w http.ResponseWriter, r *http.Request) error {
	if err := h.store.Ping(r.Context()); err != nil {
		note(r).err = err
		w.Header().Set("Retry-After", "2")
		w.Header().Set("Cache-Control", "no-store")
		http.Error(w, "the database does not answer", statuses[fault.Unavailable])
		return nil
	}
	return plain(w, "ready\n")
}

func plain(w http.ResponseWriter, text string) error {
	w.Header().Set("Content-Type", "text/plain; charset=utf-8")
	w.Header().Set("Cache-Control", "no-store")
	_, _ = w.Write([]byte(text))
	return nil
}

func staticFile(w http.ResponseWriter, r *http.Request) error {
	static.Handler().ServeHTTP(w, r)
	return nil
}

// atTheTop serves a file under the site's first folder: what a worker or an
// installed page may see of the site is measured by its address.
func atTheTop(name string) handler {
	return func(w http.ResponseWriter, r *http.Request) error {
		inside := r.Clone(r.Context())
		inside.URL.Path = static.Prefix + name
		static.Handler().ServeHTTP(w, inside)
		return nil
	}
}
