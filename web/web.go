// Package web is the shop's door: routes, sessions, forms and answers. It knows
// neither the store nor the database; each file declares the few functions that
// it needs, and Store is all of them together.
package web

import (
	"context"
	"fmt"
	"log/slog"
	"net/http"
	"net/netip"
	"net/url"
	"time"

	"github.com/alexedwards/scs/v2"

	"scaperound/domain/share"
)

// Config is what the handler needs from outside.
type Config struct {
	// Public is the address that people type: scheme and host only. Links are
	// made from it alone, and a request for another host is refused.
	Public *url.URL
	// Store keeps the facts.
	Store Store
	// LinkKey signs the addresses of care sheets.
	LinkKey share.Key
	// Sessions keeps who is signed in. Tokens reach it hashed.
	Sessions scs.Store
	// Roads knows how long driving takes; nil where no routing service is named.
	Roads Roads
	// Tiles are pictures of the ground for the map of a day.
	Tiles Tiles
	// Life ends when the server is asked to end; nil where it never does. What
	// runs in the background keeps what it has then.
	Life context.Context
	// PlanFor is how long the planner looks for a better week; 0 for the usual.
	PlanFor time.Duration
	// TrustedProxies are believed when they say whom they speak for.
	TrustedProxies []netip.Prefix
	// Log gets one line for each request, with the route's pattern in place of
	// the address: a token never reaches it.
	Log *slog.Logger
	// Now is the clock; time.Now where nil.
	Now func() time.Time
}

// Store is everything that the pages ask for. Each part is declared in the file
// that needs it.
type Store interface {
	readyStore
	onceStore
	troubleStore
	ruleStore
	changeStore
	sessionStore
	signInStore
	inviteStore
	peopleStore
	meStore
	shopStore
	customerStore
	siteStore
	searchStore
	visitStore
	taskStore
	linkStore
	roundStore
	roundPeopleStore
	promiseStore
	planStore
	dayStore
	calendarStore
	stopStore
	tankNameStore
	counterStore
	tankStore
	profileStore
	sourceStore
	kitStore
	problemStore
	photoStore
	benchStore
}

// shell is what every handler stands on: it makes pages and answers.
type shell struct {
	cfg      Config
	log      *slog.Logger
	sessions *scs.SessionManager
	hashes   *hasher
	throttle *throttle
	routes   []route
	lastWord []byte // the 500 page, made at start so that it cannot fail
}

// New builds the handler. It returns an error for a configuration that cannot
// work and for a route without a decision.
func New(cfg Config) (http.Handler, error) {
	s, err := newShell(cfg)
	if err != nil {
		return nil, err
	}
	return s.router()
}

func newShell(cfg Config) (*shell, error) {
	if cfg.Public == nil || cfg.Public.Host == "" {
		return nil, fmt.Errorf("web: the public address is missing")
	}
	if cfg.Store == nil || cfg.Sessions == nil {
		return nil, fmt.Errorf("web: the store is missing")
	}
	if cfg.Now == nil {
		cfg.Now = time.Now
	}
	if cfg.Log == nil {
		cfg.Log = slog.New(slog.DiscardHandler)
	}
	s := &shell{cfg: cfg, log: cfg.Log, hashes: newHasher(), throttle: newThrottle(cfg.Now)}
	s.sessions = newSessions(cfg)
	last, err := s.renderLastWord(context.Background())
	if err != nil {
		return nil, fmt.Errorf("web: the page for our own faults: %w", err)
	}
	s.lastWord = last
	s.routes = s.table()
	return s, nil
}

// https reports whether browsers reach us in a way that keeps secrets.
func (s *shell) https() bool { return s.cfg.Public.Scheme == "https" }

// address is the whole address of a path, for links that leave the house.
func (s *shell) address(path string) string { return s.cfg.Public.JoinPath(path).String() }
