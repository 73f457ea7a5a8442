package web

import "time"

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
func (t Throttle) Remembered() int { return len(t.t.places) + len(t.t.accounts) }

// SafeNext is where a sign-in leads.
var SafeNext = safeNext
