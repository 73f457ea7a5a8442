package web

import (
	"context"
	"sync"
	"time"

	"scaperound/domain/fault"
)

// throttle slows down whoever keeps failing to sign in. It never locks: the
// right password works for everybody at any time, only later.
//
// Attempts at one account from one place queue behind each other, so that
// trying many at once wins nothing; attempts at one account from many places
// are each delayed. Attempts at other accounts from a place queue more gently,
// and not at all for an account that was signed in to from there before: a
// colleague's slips must not keep the rest of the shop out.
type throttle struct {
	now func() time.Time

	mu       sync.Mutex
	pairs    map[string]*failures // of one account at one place
	places   map[string]*failures
	accounts map[string]*failures
	friends  map[string]*failures // pairs that were let in; last says when
}

type failures struct {
	count int
	last  time.Time
	next  time.Time // when the next attempt from here may be looked at
}

// A pace is how many failures are free and how slow it gets after them.
type pace struct {
	free    int
	slowest time.Duration // the longest delay between two attempts
}

var (
	ofAccount = pace{free: 3, slowest: 4 * time.Second} // typing slips cost nothing
	ofPlace   = pace{free: 5, slowest: time.Second}
)

const (
	longestQueue  = 12 * time.Second // beyond it, one is told to come back
	forgetAfter   = 15 * time.Minute
	friendsFor    = 30 * 24 * time.Hour
	mostRemembers = 10_000 // entries of each kind; the oldest go first
)

func newThrottle(now func() time.Time) *throttle {
	return &throttle{now: now, pairs: map[string]*failures{}, places: map[string]*failures{}, accounts: map[string]*failures{}, friends: map[string]*failures{}}
}

func (f *failures) delay(p pace) time.Duration {
	if f.count < p.free {
		return 0
	}
	d := 250 * time.Millisecond << min(f.count-p.free, 8)
	return min(d, p.slowest)
}

// pairOf names an account at a place.
func pairOf(place, account string) string { return place + " " + account }

// wait holds an attempt back as long as its place and account have earned, and
// counts it as failed until forgive or succeeded says otherwise, so that many
// at once are counted too. It returns TooOften where the queue is too long.
func (t *throttle) wait(ctx context.Context, place, account string) error {
	d, err := t.reserve(place, account)
	if err != nil || d <= 0 {
		return err
	}
	timer := time.NewTimer(d)
	defer timer.Stop()
	select {
	case <-timer.C:
		return nil
	case <-ctx.Done():
		return fault.Wrap(fault.Unavailable, ctx.Err(), "The sign-in was given up.")
	}
}

func (t *throttle) reserve(place, account string) (time.Duration, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	now, pair := t.now(), pairOf(place, account)
	both, there := entry(t.pairs, pair, now, forgetAfter), entry(t.accounts, account, now, forgetAfter)
	here := entry(t.places, place, now, forgetAfter)
	waits := []struct {
		f *failures
		p pace
	}{{both, ofAccount}, {here, ofPlace}}
	if friend := t.friends[pair]; friend != nil && now.Sub(friend.last) < friendsFor {
		waits = waits[:1]
	}
	for _, w := range waits {
		if w.f.next.Sub(now) > longestQueue {
			return 0, fault.New(fault.TooOften, "There were many failed sign-ins. Please wait a quarter of a minute, then try again.")
		}
	}
	d := there.delay(ofAccount)
	for _, w := range waits {
		if own := w.f.delay(w.p); own > 0 {
			w.f.next = later(w.f.next, now).Add(own)
			d = max(d, w.f.next.Sub(now))
		}
	}
	for _, f := range []*failures{both, here, there} {
		f.count++
		f.last = now
	}
	return d, nil
}

func later(a, b time.Time) time.Time {
	if a.After(b) {
		return a
	}
	return b
}

// entry is what is remembered of the key, made where there is nothing or it is
// too long ago.
func entry(m map[string]*failures, key string, now time.Time, keep time.Duration) *failures {
	f := m[key]
	if f == nil || now.Sub(f.last) > keep {
		makeRoom(m, now, keep)
		f = &failures{}
		m[key] = f
	}
	return f
}

// forgive takes back an attempt that was never decided.
func (t *throttle) forgive(place, account string) {
	t.mu.Lock()
	defer t.mu.Unlock()
	for _, f := range []*failures{t.pairs[pairOf(place, account)], t.places[place], t.accounts[account]} {
		if f != nil && f.count > 0 {
			f.count--
		}
	}
}

// succeeded forgets the failures of an account that was signed in to. Those of
// the place stay: one's own account must not buy attempts at another.
func (t *throttle) succeeded(place, account string) {
	t.forgive(place, account)
	t.mu.Lock()
	defer t.mu.Unlock()
	pair := pairOf(place, account)
	delete(t.accounts, account)
	delete(t.pairs, pair)
	entry(t.friends, pair, t.now(), friendsFor).last = t.now()
}

// makeRoom bounds the memory that strangers can make us use.
func makeRoom(m map[string]*failures, now time.Time, keep time.Duration) {
	if len(m) < mostRemembers {
		return
	}
	oldest, at := "", now
	for key, f := range m {
		if now.Sub(f.last) > keep {
			delete(m, key)
		} else if !f.last.After(at) {
			oldest, at = key, f.last
		}
	}
	if len(m) >= mostRemembers {
		delete(m, oldest)
	}
}
