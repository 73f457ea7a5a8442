package web

import (
	"context"
	"encoding/json"
	"net/http"
	"time"

	"github.com/alexedwards/scs/v2"

	"scaperound/domain/fault"
	"scaperound/domain/staff"
	"scaperound/web/view"
)

// A session lasts this long from the sign-in on, used or not. There is no idle
// timeout: it would write at every request.
const sessionLife = 30 * 24 * time.Hour

// How stale the note of when somebody was last here may become.
const touchEvery = 10 * time.Minute

// sessionStore is what every request of somebody signed in asks for.
type sessionStore interface {
	// SignedIn returns a sign-in that has not ended, with its person as they
	// are now and the shop; NotFound otherwise.
	SignedIn(ctx context.Context, id string) (staff.SignIn, error)
	// TouchSignIn notes that the person is still here.
	TouchSignIn(ctx context.Context, id string) error
}

// The session's keys.
const (
	keySignIn = "sign_in" // id of the sign_in row
	keyEpoch  = "epoch"   // the person's epoch when they signed in
	keyNotice = "notice"  // a view.Notice, as JSON, for the next page
)

func newSessions(cfg Config) *scs.SessionManager {
	m := scs.New()
	m.Store = cfg.Sessions
	m.Lifetime = sessionLife
	m.IdleTimeout = 0
	m.HashTokenInStore = true
	m.Cookie.HttpOnly = true
	m.Cookie.Path = "/"
	m.Cookie.Persist = true
	m.Cookie.SameSite = http.SameSiteLaxMode
	m.Cookie.Name = "scaperound"
	if cfg.Public.Scheme == "https" {
		m.Cookie.Name = "__Host-scaperound"
		m.Cookie.Secure = true
	}
	return m
}

// who is the person who asks; a zero SignIn is nobody.
func who(r *http.Request) staff.SignIn { return note(r).in }

// admit decides whether the request may use a route. Routes open to anyone, and
// those of link holders, do not read the session.
func (s *shell) admit(w http.ResponseWriter, r *http.Request, may access) error {
	if may&(nobody|linkHolder) != 0 {
		return nil
	}
	if err := s.recognise(w, r); err != nil {
		return err
	}
	var is access
	switch who(r).Person.Role {
	case staff.Owner:
		is = owner
	case staff.Technician:
		is = technician
	default:
		return fault.New(fault.Unauthenticated, "Your sign-in is over. What you typed is still in the page before this one: sign in, then go back and send it again.")
	}
	if may&is == 0 {
		return fault.New(fault.Forbidden, "Only the owner can do this.")
	}
	return nil
}

// recognise reads the session and who it belongs to. Nobody is no error.
func (s *shell) recognise(w http.ResponseWriter, r *http.Request) error {
	n := note(r)
	if n.session != nil {
		return nil
	}
	token := ""
	if c, err := r.Cookie(s.sessions.Cookie.Name); err == nil {
		token = c.Value
	}
	session, err := s.sessions.Load(r.Context(), token)
	if err != nil {
		return fault.Wrap(fault.Unavailable, err, "The database does not answer at the moment. What you typed is still in the page before this one.")
	}
	n.session = session
	id := s.sessions.GetString(session, keySignIn)
	if id == "" {
		return nil
	}
	in, err := s.cfg.Store.SignedIn(r.Context(), id)
	switch {
	case fault.Is(err, fault.NotFound):
		s.endSession(w, r)
		return nil
	case err != nil:
		return err
	}
	if in.Person.Deactivated || in.Person.Epoch != s.sessions.GetInt(session, keyEpoch) {
		s.endSession(w, r)
		return nil
	}
	n.in = in
	if s.cfg.Now().Sub(in.Seen) >= touchEvery {
		if err := s.cfg.Store.TouchSignIn(r.Context(), id); err != nil {
			s.log.WarnContext(r.Context(), "the time of a sign-in was not noted", "request", n.id, "error", err)
		}
	}
	return nil
}

// beginSession makes the browser that of the person: under a new token, so that
// one planted before is worth nothing.
func (s *shell) beginSession(w http.ResponseWriter, r *http.Request, signIn string, epoch int) error {
	if err := s.recognise(w, r); err != nil {
		return err
	}
	ctx := note(r).session
	if err := s.sessions.RenewToken(ctx); err != nil {
		return sessionFault(err)
	}
	s.sessions.Put(ctx, keySignIn, signIn)
	s.sessions.Put(ctx, keyEpoch, epoch)
	return s.saveSession(w, r)
}

func (s *shell) saveSession(w http.ResponseWriter, r *http.Request) error {
	ctx := note(r).session
	token, expiry, err := s.sessions.Commit(ctx)
	if err != nil {
		return sessionFault(err)
	}
	s.sessions.WriteSessionCookie(ctx, w, token, expiry)
	return nil
}

// endSession forgets the browser. The row may stay behind when the database
// does not answer; it is worth nothing without its sign-in.
func (s *shell) endSession(w http.ResponseWriter, r *http.Request) {
	ctx := note(r).session
	if err := s.sessions.Destroy(ctx); err != nil {
		s.log.WarnContext(r.Context(), "a session was not removed", "request", note(r).id, "error", err)
	}
	s.sessions.WriteSessionCookie(ctx, w, "", time.Time{})
	note(r).in = staff.SignIn{}
}

func sessionFault(err error) error {
	return fault.Wrap(fault.Unavailable, err, "The database does not answer at the moment. Please try again.")
}

// leaveNotice keeps a notice for the next page.
func (s *shell) leaveNotice(w http.ResponseWriter, r *http.Request, n view.Notice) error {
	b, err := json.Marshal(n)
	if err != nil {
		return &fault.Error{Kind: fault.Internal, Err: err}
	}
	s.sessions.Put(note(r).session, keyNotice, string(b))
	return s.saveSession(w, r)
}

// takeNotice is the notice kept for this page, if any, which is then gone.
func (s *shell) takeNotice(r *http.Request) *view.Notice {
	ctx := note(r).session
	if ctx == nil {
		return nil
	}
	text := s.sessions.PopString(ctx, keyNotice)
	if text == "" {
		return nil
	}
	if _, _, err := s.sessions.Commit(ctx); err != nil {
		s.log.WarnContext(r.Context(), "a notice will be shown twice", "request", note(r).id, "error", err)
	}
	var n view.Notice
	if json.Unmarshal([]byte(text), &n) != nil {
		return nil
	}
	return &n
}
