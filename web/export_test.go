package web

import (
	"context"
	"net/http"
	"time"
)

// Decision is one line of the table, for the matrix test.
type Decision struct {
	Method, Pattern                       string
	Nobody, Technician, Owner, LinkHolder bool
	Undecided                             bool
}

// Table is the table of routes with what was decided.
func Table() []Decision {
	var out []Decision
	for _, rt := range (&shell{}).table() {
		has := func(a access) bool { return rt.Access&a != 0 }
		out = append(out, Decision{
			Method: rt.Method, Pattern: rt.Pattern, Undecided: rt.Access == 0,
			Nobody: has(nobody), Technician: has(technician), Owner: has(owner), LinkHolder: has(linkHolder),
		})
	}
	return out
}

// Menu lists the patterns of the menu.
func Menu() []string {
	var out []string
	for _, m := range menu {
		out = append(out, m.pattern)
	}
	return out
}

// Throttle is the throttle alone, without its waiting.
type Throttle struct{ t *throttle }

// NewThrottle makes one that reads the given clock.
func NewThrottle(now func() time.Time) Throttle { return Throttle{newThrottle(now)} }

// Attempt says how long an attempt is held back.
func (t Throttle) Attempt(place, account string) (time.Duration, error) {
	return t.t.reserve(place, account)
}

// Succeeded notes a success.
func (t Throttle) Succeeded(place, account string) { t.t.succeeded(place, account) }

// Forgive takes an attempt back.
func (t Throttle) Forgive(place, account string) { t.t.forgive(place, account) }

// Remembered is how many keys are held.
func (t Throttle) Remembered() int {
	return len(t.t.pairs) + len(t.t.places) + len(t.t.accounts) + len(t.t.friends)
}

// SafeNext is where a sign-in leads.
var SafeNext = safeNext

// NewWith is New with one more route.
func NewWith(cfg Config, pattern string, may uint8, h func(http.ResponseWriter, *http.Request) error) (http.Handler, error) {
	s, err := newShell(cfg)
	if err != nil {
		return nil, err
	}
	s.routes = append(s.routes, route{Method: get, Pattern: pattern, Access: access(may), Handler: h})
	return s.router()
}

// Anyone is the decision that lets anyone in.
const Anyone = uint8(anyone)

// Hasher is the hasher alone.
type Hasher struct{ h *hasher }

// NewHasher makes one whose callers wait only so long.
func NewHasher(patience time.Duration) Hasher {
	h := newHasher()
	h.patience = patience
	return Hasher{h}
}

// Fill takes every place and returns how to give them back.
func (h Hasher) Fill() (release func()) {
	for range cap(h.h.places) {
		h.h.places <- struct{}{}
	}
	return func() {
		for range cap(h.h.places) {
			<-h.h.places
		}
	}
}

// Matches compares a password with a hash.
func (h Hasher) Matches(ctx context.Context, password, hash string) (bool, error) {
	return h.h.matches(ctx, password, hash)
}

// CalcHref is the bench's page of what a finding computed.
var CalcHref = calcHref
