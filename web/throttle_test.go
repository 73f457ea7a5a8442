package web_test

import (
	"fmt"
	"testing"
	"time"

	"scaperound/domain/fault"
	"scaperound/web"
)

func TestThrottleSlowsGuessingAndLocksNobodyOut(t *testing.T) {
	now := time.Date(2026, 11, 24, 9, 0, 0, 0, time.UTC)
	th := web.NewThrottle(func() time.Time { return now })
	for i := range 3 {
		if d, err := th.Attempt("a", "maren"); d != 0 || err != nil {
			t.Errorf("slip %d is held back %v, %v", i, d, err)
		}
	}
	// One place that tries many at once queues behind itself, then is sent away.
	var last time.Duration
	refused := false
	for range 30 {
		d, err := th.Attempt("a", "maren")
		if err != nil {
			refused = true
			break
		}
		if d <= last {
			t.Errorf("held back %v after %v: trying at once wins", d, last)
		}
		last = d
	}
	if !refused {
		t.Error("the queue has no end")
	}
	// The owner herself, elsewhere, is never refused and never waits long.
	if d, err := th.Attempt("b", "maren"); err != nil || d > 4*time.Second {
		t.Errorf("elsewhere: %v, %v", d, err)
	}
	// And somebody else, elsewhere, does not notice.
	if d, err := th.Attempt("c", "ilo"); err != nil || d != 0 {
		t.Errorf("somebody else: %v, %v", d, err)
	}
	now = now.Add(time.Hour)
	if d, err := th.Attempt("a", "maren"); err != nil || d != 0 {
		t.Errorf("an hour later: %v, %v", d, err)
	}
}

func TestOwnSuccessBuysNoGuesses(t *testing.T) {
	now := time.Date(2026, 11, 24, 9, 0, 0, 0, time.UTC)
	th := web.NewThrottle(func() time.Time { return now })
	for i := range 10 {
		if _, err := th.Attempt("a", fmt.Sprint("guess ", i)); err != nil {
			t.Fatal(err)
		}
		if _, err := th.Attempt("a", "own"); err != nil {
			t.Fatal(err)
		}
		th.Succeeded("a", "own")
		now = now.Add(10 * time.Second)
	}
	if d, _ := th.Attempt("a", "next guess"); d < time.Second {
		t.Errorf("held back only %v after ten guesses", d)
	}
}

// Whoever works in the same room, and has signed in from there before, notices
// nothing of a colleague who has forgotten his password or of a guesser; who is
// new there waits a second at most, and nobody is refused by the first slips.
func TestSlipsOfOneAccountDoNotKeepNeighboursOut(t *testing.T) {
	now := time.Date(2026, 11, 24, 9, 0, 0, 0, time.UTC)
	th := web.NewThrottle(func() time.Time { return now })
	if _, err := th.Attempt("shop", "maren"); err != nil {
		t.Fatal(err)
	}
	th.Succeeded("shop", "maren")
	for range 9 {
		if _, err := th.Attempt("shop", "ilo"); err != nil {
			break
		}
		now = now.Add(5 * time.Second)
	}
	if d, err := th.Attempt("shop", "maren"); err != nil || d != 0 {
		t.Errorf("who was here before waits %v, %v", d, err)
	}
	if d, err := th.Attempt("shop", "new"); err != nil || d > time.Second {
		t.Errorf("who is new here waits %v, %v", d, err)
	}
	if d, err := th.Attempt("shop", "ilo"); err != nil || d < 3*time.Second {
		t.Errorf("the account itself waits %v, %v", d, err)
	}
	var err error
	for range 60 {
		if _, err = th.Attempt("shop", fmt.Sprint("guess ", now)); err != nil {
			break
		}
	}
	if !fault.Is(err, fault.TooOften) {
		t.Errorf("many at once end in %v", err)
	}
	if d, err := th.Attempt("shop", "maren"); err != nil || d != 0 {
		t.Errorf("beside a guesser, who was here before waits %v, %v", d, err)
	}
}

func TestThrottleMemoryIsBounded(t *testing.T) {
	now := time.Date(2026, 11, 24, 9, 0, 0, 0, time.UTC)
	th := web.NewThrottle(func() time.Time { return now })
	for i := range 12_000 {
		now = now.Add(time.Millisecond)
		if _, err := th.Attempt(fmt.Sprint("place ", i), fmt.Sprint("account ", i)); err != nil {
			t.Fatal(err)
		}
	}
	if n := th.Remembered(); n > 30_000 {
		t.Errorf("%d keys are held", n)
	}
}
