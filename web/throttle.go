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
// Attempts from one place queue behind each other, so that trying many at once
// wins nothing; attempts at one account from many places are each delayed.
type throttle struct {
	now func() time.Time

	mu       sync.Mutex
	places   map[string]*failures
	accounts map[string]*failures
}

type failures struct {
	count int
	last  time.Time
	next  time.Time // when the next attempt from here may be looked at
}

const (
	freeFailures  = 3                // typing slips cost nothing
	slowest       = 4 * time.Second  // the longest delay between two attempts
	longestQueue  = 12 * time.Second // beyond it, one is told to come back
	forgetAfter   = 15 * time.Minute
	mostRemembers = 10_000 // entries; the oldest go first
)

func newThrottle(now func() time.Time) *throttle {
	return &throttle{now: now, places: map[string]*failures{}, accounts: map[string]*failures{}}
}

func (f *failures) delay() time.Duration {
	if f.count < freeFailures {
		return 0
	}
	d := 250 * time.Millisecond << min(f.count-freeFailures, 8)
	return min(d, slowest)
}

// wait holds an attempt back as long as its place and account have earned, and
// counts it as failed until forgive or succeeded says otherwise, so that many
// at once are counted too. It returns Unavailable where the queue of the place
// is too long.
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
	now := t.now()
	here, there := entry(t.places, place, now), entry(t.accounts, account, now)
	at := now
	if here.next.After(now) {
		at = here.next
	}
	if at.Sub(now) > longestQueue {
		return 0, fault.New(fault.Unavailable, "There were many failed sign-ins from where you are. Please wait a minute.")
	}
	d := there.delay()
	if own := here.delay(); own > 0 {
		here.next = at.Add(own)
		d = max(d, here.next.Sub(now))
	}
	for _, f := range []*failures{here, there} {
		f.count++
		f.last = now
	}
	return d, nil
}

// entry is what is remembered of the key, made where there is nothing.
func entry(m map[string]*failures, key string, now time.Time) *failures {
	f := m[key]
	if f == nil || now.Sub(f.last) > forgetAfter {
		makeRoom(m, now)
		f = &failures{}
		m[key] = f
	}
	return f
}

// forgive takes back an attempt that was never decided.
func (t *throttle) forgive(place, account string) {
	t.mu.Lock()
	defer t.mu.Unlock()
	for _, f := range []*failures{t.places[place], t.accounts[account]} {
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
	delete(t.accounts, account)
}

// makeRoom bounds the memory that strangers can make us use.
func makeRoom(m map[string]*failures, now time.Time) {
	if len(m) < mostRemembers {
		return
	}
	oldest, at := "", now
	for key, f := range m {
		if now.Sub(f.last) > forgetAfter {
			delete(m, key)
		} else if !f.last.After(at) {
			oldest, at = key, f.last
		}
	}
	if len(m) >= mostRemembers {
		delete(m, oldest)
	}
}
