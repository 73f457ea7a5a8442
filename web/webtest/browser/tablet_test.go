package browser

import (
	"context"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// clock sets the tablet's clock wrong, from the next page on, and returns what
// sets it right again. The service worker's own stays right.
func (b *Tab) clock(off time.Duration) (right func()) {
	b.t.Helper()
	script := call(b, "set the clock", page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: fmt.Sprintf(`(() => {
		const off = %d, D = Date;
		globalThis.Date = class extends D {
			constructor(...a) { if (a.length === 0) super(D.now() + off); else super(...a); }
			static now() { return D.now() + off; }
		};
	})()`, off.Milliseconds())})
	return func() {
		call(b, "set the clock right", page.RemoveScriptToEvaluateOnNewDocument, page.RemoveScriptToEvaluateOnNewDocumentParams(script))
	}
}

// sendInVain touches the button where nothing gets through.
func (b *Tab) sendInVain() {
	b.t.Helper()
	b.Tap("[data-send]")
	b.Until(`document.querySelector("[data-says]").textContent.includes("No answer from the shop")`)
}

// arrived waits until everything that the tablet kept has reached the shop.
func (b *Tab) arrived() {
	b.t.Helper()
	b.Until(`scaperound.sendAll().then(() => scaperound.outbox.all()).then(all => all.length === 0)`)
	b.Until(`scaperound.photos.sendAll().then(() => scaperound.photos.left()).then(n => n === 0)`)
}

// TestTenDaysAwayWithAWrongClock: a tablet whose clock is two hours fast comes
// back after ten days. All of it arrives, at the time at which it was done.
func TestTenDaysAwayWithAWrongClock(t *testing.T) {
	d := shop(t)
	const away, fast = 10 * 24 * time.Hour, 2 * time.Hour
	b := d.signedIn(t, d.Technician, Upright)
	began := time.Now().Add(-away)
	right := b.clock(fast - away)
	b.openVisit(d.tank(t, "Breakfast room"))
	d.Line.Cut()
	defer d.Line.Mend()
	b.Offline(true)
	b.fill()
	b.shoot("before", lying(t))
	key := b.Value(`[name="visit"]`)
	b.sendInVain()
	ended := time.Now().Add(-away)

	// No attempt of the first page is under way any more: what it says of the time
	// would come true ten days later.
	b.Until(`scaperound.photos.sendAll().then(() => scaperound.photos.left()).then(n => n === 1)`)
	b.do("leave the page", chromedp.Navigate("about:blank"))
	right()
	b.clock(fast)
	d.Line.Mend()
	b.Offline(false)
	b.Go("/")
	b.arrived()
	var performed, taken time.Time
	var skew int
	err := d.DB.Pool().QueryRow(context.Background(), `SELECT r.performed_at, r.skew_seconds, photo.taken_at FROM visit_revision r JOIN photo ON photo.visit = r.visit WHERE r.visit = $1`, key).
		Scan(&performed, &skew, &taken)
	if err != nil {
		t.Fatalf("the visit with its photograph: %v", err)
	}
	// The form knows minutes; a post may take some seconds.
	const slack = 2 * time.Minute
	for what, at := range map[string]time.Time{"visit": performed, "photograph": taken} {
		if at.Before(began.Add(-slack)) || at.After(ended.Add(slack)) {
			t.Errorf("the %s was made between %v and %v, and is kept as of %v", what, began, ended, at)
		}
	}
	if got := time.Duration(skew) * time.Second; got < fast-slack || got > fast+slack {
		t.Errorf("the clock was %v fast, and is said to have been %v", fast, got)
	}
	b.Go("/visits/" + key)
	if said := b.Text("main"); !strings.Contains(said, "clock was 120 minutes fast") {
		t.Errorf("the visit does not say that the clock was wrong: %s", said)
	}
}

// TestTwoTabletsAtOneTank: two people write down the same tank where neither
// has a signal, and the tank's record changes meanwhile. Both visits are kept,
// and the one that came later says what its writer could not see.
func TestTwoTabletsAtOneTank(t *testing.T) {
	d := shop(t)
	tank := d.tank(t, "Osteria")
	before := d.count(t, `SELECT count(*) FROM visit WHERE tank = $1`, tank)
	first, second := d.signedIn(t, d.Technician, Upright), d.signedIn(t, d.Owner, Lying)
	first.openVisit(tank)
	second.openVisit(tank)
	card, err := d.DB.TankCard(context.Background(), tank)
	if err != nil {
		t.Fatal(err)
	}
	card.Pinned = []string{"The lid sticks at the left."}
	if err := d.DB.ChangeCard(context.Background(), d.Owner.ID, card, time.Now()); err != nil {
		t.Fatal(err)
	}
	d.Line.Cut()
	defer d.Line.Mend()
	var keys []string
	for i, b := range []*Tab{first, second} {
		b.Offline(true)
		b.tick("since", "nothing_new")
		b.meter("temp.before", []string{"24.2", "25.9"}[i])
		b.tick("leave.all", "checked")
		b.kept()
		keys = append(keys, b.Value(`[name="visit"]`))
		b.sendInVain()
	}
	d.Line.Mend()
	for _, b := range []*Tab{first, second} {
		b.Offline(false)
		b.arrived()
	}
	if n := d.count(t, `SELECT count(*) FROM visit WHERE tank = $1`, tank); n != before+2 {
		t.Errorf("%d visits came of two", n-before)
	}
	second.Go("/visits/" + keys[1])
	said := second.Text("main")
	for _, want := range []string{"came in while this was written down. Both are kept.", "25.9 °C here and 24.2 °C there", "Changed while this was written down", "The lid sticks at the left."} {
		if !strings.Contains(said, want) {
			t.Errorf("the later visit does not say %q: %s", want, said)
		}
	}
	first.Go("/visits/" + keys[0])
	if said := first.Text("main"); !strings.Contains(said, "Changed while this was written down") || strings.Contains(said, "Both are kept.") {
		t.Errorf("the earlier visit says: %s", said)
	}
}

// TestSomebodyElseOnTheTablet: one person signs out with a visit begun and
// another one open, and somebody else signs in. Nothing of the first shows or is
// sent in the other's name, and all of it is there when they are back.
func TestSomebodyElseOnTheTablet(t *testing.T) {
	d := shop(t)
	b := d.signedIn(t, d.Technician, Upright)
	b.openVisit(d.tank(t, "Wheelhouse"))
	b.Fill(`[name="note.inside"]`, "Mine alone")
	b.kept()
	b.openVisit(d.tank(t, "The passage"))
	b.fill()
	key := b.Value(`[name="visit"]`)

	other := b.Beside()
	other.Go("/")
	other.Until(`caches.keys().then(all => all.some(n => n.startsWith("pages.")))`)
	signOut := func() {
		other.leave(func() { Eval[bool](other, `(document.querySelector('form[action="/sign-out"] button').click(), true)`) })
		other.Until(`caches.keys().then(all => !all.some(n => /^(pages|access)\./.test(n)))`)
	}
	signOut()
	other.signIn(d.Owner)
	b.Tap("[data-send]")
	b.Until(`document.querySelector("[data-says]").textContent.includes("written by somebody else")`)
	if n := d.count(t, `SELECT count(*) FROM visit WHERE id = $1`, key); n != 0 {
		t.Fatal("it was sent in somebody else's name")
	}
	other.Go("/")
	other.Until(`scaperound.sendAll().then(() => true)`)
	if n := Eval[int](other, `scaperound.outbox.all().then(all => all.length)`); n != 1 {
		t.Errorf("%d visits of somebody else are kept, want 1", n)
	}
	if said := other.Text("[data-outbox]"); said != "" {
		t.Errorf("somebody else reads %q", said)
	}
	signOut()
	other.signIn(d.Technician)
	other.Until(`document.querySelector("[data-outbox]").innerText.includes("Wheelhouse: begun, not finished")`)
	other.arrived()
	if n := d.count(t, `SELECT count(*) FROM visit_revision WHERE visit = $1 AND staff = $2`, key, d.Technician.ID); n != 1 {
		t.Errorf("the visit is kept %d times", n)
	}
	other.openVisit(d.tank(t, "Wheelhouse"))
	if got := other.Value(`[name="note.inside"]`); got != "Mine alone" {
		t.Errorf("the draft holds %q", got)
	}
}
