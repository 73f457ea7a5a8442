package browser

import (
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/network"
)

// fill writes a short visit down and leaves the button to the test.
func (b *Tab) fill() {
	b.t.Helper()
	b.tick("since", "nothing_new")
	b.meter("temp.before", "24.2")
	b.tick("leave.all", "checked")
	b.kept()
}

// TestVisitWithoutASignal sends in a dead spot: the browser believes that it is
// online, and nothing comes through. The visit is sent by itself later, once.
func TestVisitWithoutASignal(t *testing.T) {
	d := shop(t)
	tank := d.tank(t, "Reading room")
	b := d.signedIn(t, d.Technician, Upright)
	b.openVisit(tank)
	b.fill()
	key := b.Value(`[name="visit"]`)

	d.Line.Cut()
	defer d.Line.Mend()
	b.Offline(true)
	b.Tap("[data-send]")
	b.Until(`document.querySelector("[data-says]").textContent.includes("No answer from the shop")`)
	if n := d.count(t, `SELECT count(*) FROM visit WHERE id = $1`, key); n != 0 {
		t.Fatal("it was sent through a cut line")
	}
	// The device says that it is online again, and the spot is still dead.
	b.Offline(false)
	b.Until(`document.querySelector("[data-says]").textContent.includes("No answer from the shop")`)

	d.Line.Mend()
	// By the button, unless it goes by itself before.
	Eval[bool](b, `(document.querySelector("[data-says] button")?.click(), true)`)
	b.Until(`location.pathname === %s`, "/visits/"+key)
	if n := d.count(t, `SELECT count(*) FROM visit_revision WHERE visit = $1`, key); n != 1 {
		t.Errorf("the visit is kept %d times", n)
	}
}

// TestVisitIsSentFromAnotherPage: the page on which it was written is gone when
// the signal comes back.
func TestVisitIsSentFromAnotherPage(t *testing.T) {
	d := shop(t)
	tank := d.tank(t, "Children's corner")
	b := d.signedIn(t, d.Technician, Upright)
	b.openVisit(tank)
	b.fill()
	key := b.Value(`[name="visit"]`)
	d.Line.Cut()
	defer d.Line.Mend()
	b.Tap("[data-send]")
	b.Until(`document.querySelector("[data-says]").textContent.includes("No answer from the shop")`)
	d.Line.Mend()
	b.Go("/")
	b.Until(`(async () => (await scaperound.outbox.all()).length === 0)()`)
	if n := d.count(t, `SELECT count(*) FROM visit_revision WHERE visit = $1`, key); n != 1 {
		t.Errorf("the visit is kept %d times", n)
	}
}

// TestSignInIsAskedForAtSending: a sign-in that ended while a visit was written
// down costs nothing that was typed.
func TestSignInIsAskedForAtSending(t *testing.T) {
	d := shop(t)
	tank := d.tank(t, "Surgery")
	b := d.signedIn(t, d.Technician, Upright)
	b.openVisit(tank)
	b.fill()
	key := b.Value(`[name="visit"]`)
	call(b, "forget the sign-in", network.ClearBrowserCookies, cdp.Empty{})
	b.Tap("[data-send]")
	b.Until(`document.querySelector("[data-says]").textContent.includes("Your sign-in is over")`)
	b.TapTextTo("Sign in")
	b.Fill("input[name=email]", d.Technician.Email)
	b.Fill("input[name=password]", "moss on the weir")
	b.TapTo("main form button[type=submit]")
	b.Until(`(async () => (await scaperound.outbox.all()).length === 0)()`)
	if n := d.count(t, `SELECT count(*) FROM visit_revision WHERE visit = $1`, key); n != 1 {
		t.Errorf("the visit is kept %d times, at %s", n, b.Path())
	}
}

// TestUnlikelyIsAskedAboutOnce: an impossible value is refused and an unlikely
// one asked about, beside their fields, all at once, and nothing is lost.
func TestUnlikelyIsAskedAboutOnce(t *testing.T) {
	d := shop(t)
	tank := d.tank(t, "The long tank")
	b := d.signedIn(t, d.Technician, Upright)
	b.openVisit(tank)
	b.meter("temp.before", "245")
	b.drops("kh.before", 3)
	b.tick("work.water_change", "on")
	b.Fill(`[name="work.water_change.litres"]`, "-4")
	b.Fill(`[name="note.inside"]`, "Nothing is lost.")
	b.tick("leave.all", "checked")
	key := b.Value(`[name="visit"]`)
	b.Tap("[data-send]")
	b.Until(`document.querySelectorAll("#visit .fault").length >= 2`)
	faults := b.Text("#visit .fault")
	for _, selector := range []string{reading("temp.before") + " .fault", `[id="f-work.water_change"] .fault`} {
		if !b.Has(selector) {
			t.Errorf("nothing beside %s; said: %s", selector, faults)
		}
	}
	for _, x := range b.Barriers() {
		t.Errorf("with faults shown: %s", x)
	}
	if got := b.Value(`[name="note.inside"]`); got != "Nothing is lost." {
		t.Errorf("lost: %q", got)
	}
	if n := d.count(t, `SELECT count(*) FROM visit WHERE id = $1`, key); n != 0 {
		t.Error("kept all the same")
	}
	b.meter("temp.before", "9.5") // possible, and unlikely
	b.Fill(`[name="work.water_change.litres"]`, "40")
	b.Tap("[data-send]")
	b.Until(`[...document.querySelectorAll("#visit .fault button")].some(x => x.textContent.startsWith("Yes"))`)
	b.Tap("#visit .fault button")
	if id := b.send(); id != key {
		t.Errorf("kept as %s, begun as %s", id, key)
	}
	if n := d.count(t, `SELECT count(*) FROM reading JOIN visit_revision ON visit_revision.id = reading.revision WHERE visit = $1 AND kind = 'temp' AND value = 9.5 AND confirmed`, key); n != 1 {
		t.Errorf("9.5 °C, as confirmed, is kept %d times", n)
	}
}
