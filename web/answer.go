package web

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"runtime/debug"
	"strconv"
	"strings"
	"time"

	"github.com/a-h/templ"

	"scaperound/domain/fault"
	"scaperound/web/view"
)

// answer turns a route into a handler: it decides who may, runs it, and answers
// for whatever comes back.
func (s *shell) answer(rt route) http.HandlerFunc {
	limit := rt.MaxBody
	if limit == 0 {
		limit = usualBody
	}
	return func(w http.ResponseWriter, r *http.Request) {
		note(r).route = rt.Pattern
		r.Body = http.MaxBytesReader(w, r.Body, limit)
		err := s.admit(w, r, rt.Access)
		if err == nil {
			err = guarded(rt.Handler, w, r)
		}
		if err != nil {
			s.fail(w, r, err)
		}
	}
}

// guarded turns a panic into an error, so that one request's fault stays its own.
func guarded(h handler, w http.ResponseWriter, r *http.Request) (err error) {
	defer func() {
		switch p := recover(); p {
		case nil:
		case http.ErrAbortHandler:
			panic(p)
		default:
			err = &fault.Error{Kind: fault.Internal, Err: fmt.Errorf("panic: %v\n%s", p, debug.Stack())}
		}
	}()
	return h(w, r)
}

var statuses = map[fault.Kind]int{
	fault.Internal:        http.StatusInternalServerError,
	fault.Malformed:       http.StatusBadRequest,
	fault.Unauthenticated: http.StatusUnauthorized,
	fault.Forbidden:       http.StatusForbidden,
	fault.NotFound:        http.StatusNotFound,
	fault.Conflict:        http.StatusConflict,
	fault.TooLarge:        http.StatusRequestEntityTooLarge,
	fault.Invalid:         http.StatusUnprocessableEntity,
	fault.Unavailable:     http.StatusServiceUnavailable,
	fault.TooOften:        http.StatusTooManyRequests,
}

var titles = map[fault.Kind]string{
	fault.Internal:        "That was our fault",
	fault.Malformed:       "That could not be read",
	fault.Unauthenticated: "Please sign in again",
	fault.Forbidden:       "That is not open to you",
	fault.NotFound:        "Not found",
	fault.Conflict:        "Somebody was here before you",
	fault.TooLarge:        "Too much at once",
	fault.Invalid:         "That needs another look",
	fault.Unavailable:     "Not just now",
	fault.TooOften:        "Too often",
}

// fail answers an error: JSON to a script, a page to a person, and the sign-in
// page to a person who asked for a page and is not signed in.
func (s *shell) fail(w http.ResponseWriter, r *http.Request, err error) {
	f := fault.Of(err)
	n := note(r)
	n.err = err
	if n.status != 0 {
		// Something has gone out already; all that is left is to break off, so
		// that half an answer is not taken for a whole one.
		panic(http.ErrAbortHandler)
	}
	status := statuses[f.Kind]
	switch f.Kind {
	case fault.Unavailable:
		w.Header().Set("Retry-After", "5")
	case fault.TooOften:
		w.Header().Set("Retry-After", strconv.Itoa(int(longestQueue/time.Second)))
	}
	if status >= 400 {
		w.Header().Set("Cache-Control", "no-store")
	}
	if wantsJSON(r) {
		s.failScript(w, r, f, status)
		return
	}
	if f.Kind == fault.Unauthenticated && (r.Method == get || r.Method == http.MethodHead) {
		to := "/sign-in"
		if r.URL.Path != "/" {
			to += "?next=" + url.QueryEscape(r.URL.RequestURI())
		}
		http.Redirect(w, r, to, http.StatusSeeOther)
		return
	}
	if f.Kind == fault.Internal {
		s.writeLastWord(w, r)
		return
	}
	p := view.Fault{Text: f.Msg, Do: waysOut(r, f.Kind)}
	for _, x := range f.Fields {
		p.Lines = append(p.Lines, x.Text)
	}
	if status >= 500 {
		p.Request = n.id
	}
	if p.Text == "" {
		p.Text = "That did not work."
	}
	if err := s.page(w, r, status, view.Frame{Title: titles[f.Kind]}, view.FaultBody(p)); err != nil {
		n.err = errors.Join(n.err, err)
		s.writeLastWord(w, r)
	}
}

func waysOut(r *http.Request, kind fault.Kind) []view.Link {
	switch kind {
	case fault.Unauthenticated:
		return []view.Link{{Label: "Sign in", Href: "/sign-in"}}
	case fault.Unavailable:
		if r.Method == get {
			return []view.Link{{Label: "Try again", Href: r.URL.RequestURI()}}
		}
		return nil
	}
	return []view.Link{{Label: "To the first page", Href: "/"}}
}

type jsonField struct {
	Field   string `json:"field"`
	Kind    string `json:"kind"`
	Text    string `json:"text"`
	Confirm string `json:"confirm,omitempty"`
}

type jsonFault struct {
	Error   string      `json:"error"`
	Text    string      `json:"text"`
	Faults  []jsonField `json:"faults"`
	Request string      `json:"request"`
}

func (s *shell) failScript(w http.ResponseWriter, r *http.Request, f *fault.Error, status int) {
	out := jsonFault{Error: f.Code, Text: f.Msg, Faults: []jsonField{}, Request: note(r).id}
	if out.Error == "" {
		out.Error = f.Kind.String()
	}
	if out.Text == "" {
		out.Text = titles[f.Kind] + "."
	}
	for _, x := range f.Fields {
		out.Faults = append(out.Faults, jsonField{x.Name, x.Kind, x.Text, x.Confirm})
	}
	if err := s.json(w, r, status, out); err != nil {
		s.writeLastWord(w, r)
	}
}

// wantsJSON reports whether a script asks. It is never redirected: a redirect to
// a sign-in page would read as success.
func wantsJSON(r *http.Request) bool {
	return strings.Contains(r.Header.Get("Accept"), "application/json")
}

// json answers a script. The text that went out is what v says at this moment.
func (s *shell) json(w http.ResponseWriter, r *http.Request, status int, v any) error {
	b, err := json.Marshal(v)
	if err != nil {
		return &fault.Error{Kind: fault.Internal, Err: err}
	}
	s.write(w, r, status, "application/json; charset=utf-8", append(b, '\n'))
	return nil
}

// page answers with a page. It is rendered to memory first, so that a fault on
// the way can still be answered.
func (s *shell) page(w http.ResponseWriter, r *http.Request, status int, f view.Frame, body templ.Component) error {
	s.fill(w, r, &f)
	var b bytes.Buffer
	if err := view.Page(f, body).Render(r.Context(), &b); err != nil {
		return &fault.Error{Kind: fault.Internal, Err: fmt.Errorf("rendering %q: %w", f.Title, err)}
	}
	s.write(w, r, status, "text/html; charset=utf-8", b.Bytes())
	return nil
}

func (s *shell) write(w http.ResponseWriter, r *http.Request, status int, mime string, body []byte) {
	h := w.Header()
	h.Set("Content-Type", mime)
	h.Set("Content-Length", strconv.Itoa(len(body)))
	h.Add("Vary", "Accept, Cookie")
	w.WriteHeader(status)
	if r.Method != http.MethodHead {
		// Whoever asked may have gone; there is nobody left to tell.
		_, _ = w.Write(body)
	}
}

const requestMark = "REQUEST-ID"

func (s *shell) renderLastWord(ctx context.Context) ([]byte, error) {
	p := view.Fault{
		Text:    "Something broke on our side. What you typed is still in the page before this one: go back, see whether it was kept, and try again.",
		Do:      []view.Link{{Label: "To the first page", Href: "/"}},
		Request: requestMark,
	}
	var b bytes.Buffer
	err := view.Page(view.Frame{Title: titles[fault.Internal], Assets: assets}, view.FaultBody(p)).Render(ctx, &b)
	return b.Bytes(), err
}

func (s *shell) writeLastWord(w http.ResponseWriter, r *http.Request) {
	body := bytes.ReplaceAll(s.lastWord, []byte(requestMark), []byte(note(r).id))
	s.write(w, r, http.StatusInternalServerError, "text/html; charset=utf-8", body)
}
