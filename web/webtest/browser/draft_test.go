package browser

import (
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// begin writes half a visit down, up to the middle of a word.
func (b *Tab) begin() {
	b.t.Helper()
	b.tick("since", "nothing_new")
	b.Tap(`[data-clock][data-minutes="10"]`)
	b.Until(`document.querySelectorAll(".clock-face").length === 1`)
	b.meter("temp.before", "24.7")
	b.drops("kh.before", 3)
	b.tick("work.water_change", "on")
	b.Fill(`[name="work.water_change.litres"]`, "31")
	b.Fill(`[name="note.inside"]`, "The outlet hums when the pu")
	b.kept()
}

// begun fails unless the form holds what begin typed.
func (b *Tab) begun(after string) {
	b.t.Helper()
	b.awake()
	b.Until(`document.querySelector('[name="note.inside"]').value !== ""`)
	b.Until(`document.querySelectorAll(".clock-face").length === 1`)
	for selector, want := range map[string]string{
		`[name="note.inside"]`:                                        "The outlet hums when the pu",
		`[name="work.water_change.litres"]`:                           "31",
		`[name="work.water_change"]:checked`:                          "on",
		`[name="since"]:checked`:                                      "nothing_new",
		reading("kh.before") + " .drops input.figure":                 "3",
		reading("temp.before") + " .way:not([disabled]) input.figure": "24.7",
	} {
		if !b.Has(selector) {
			b.t.Errorf("%s: %s is lost", after, selector)
		} else if got := b.Value(selector); got != want {
			b.t.Errorf("%s: %s holds %q, want %q", after, selector, got, want)
		}
	}
}

// TestLockForWiping: a cloth that goes over the locked screen changes nothing and
// opens nothing; two touches in turn do.
func TestLockForWiping(t *testing.T) {
	d := shop(t)
	b := d.signedIn(t, d.Technician, Upright)
	b.openVisit(d.tank(t, "Conservatory"))
	form := `JSON.stringify([...new FormData(document.getElementById("visit"))])`
	before := Eval[string](b, form)
	open := `document.querySelector("[data-lock-screen]").open`
	b.TapText("Lock touch")
	b.Until(open)
	for y := int64(30); y < Upright.Height; y += 90 {
		for x := int64(30); x < Upright.Width; x += 190 {
			over := Eval[string](b, `document.elementFromPoint(%s, %s)?.closest("[data-unlock]")?.dataset.unlock ?? ""`, x, y)
			if over == "" {
				b.do("wipe", chromedp.TapXY(float64(x), float64(y)))
			}
		}
	}
	b.Tap(`[data-unlock="2"]`) // the second alone is not enough
	if !Eval[bool](b, open) {
		t.Fatal("wiping opened the lock")
	}
	if after := Eval[string](b, form); after != before {
		t.Error("wiping changed the form")
	}
	b.Tap(`[data-unlock="1"]`)
	b.Tap(`[data-unlock="2"]`)
	b.Until("!" + open)
}

// TestDraftOutlivesItsPage: what is typed is on the tablet before anything else
// happens to it, and is sent as one visit.
func TestDraftOutlivesItsPage(t *testing.T) {
	d := shop(t)
	tank := d.tank(t, "Conservatory")
	before := d.count(t, `SELECT count(*) FROM visit WHERE tank = $1`, tank)
	b := d.signedIn(t, d.Technician, Upright)
	b.openVisit(tank)
	b.begin()
	key := b.Value(`[name="visit"]`)

	b.Reload()
	b.begun("a reload")
	b.Go("/")
	b.Until(`document.querySelector("[data-outbox]").innerText.includes("Conservatory: begun, not finished")`)
	b.Back()
	b.begun("going on and back")

	second := b.Beside()
	second.Go("/tanks/" + tank + "/visits/new")
	second.Until(`document.getElementById("visit").inert`)
	if said := second.Text("[data-says]"); !strings.Contains(said, "open in another tab") {
		t.Errorf("a second tab says %q", said)
	}
	second.Close()

	after := b.Beside()
	b.Crash()
	after.Go("/tanks/" + tank + "/visits/new")
	after.begun("the tab's death")
	if got := after.Value(`[name="visit"]`); got != key {
		t.Errorf("the visit has another key: %s, was %s", got, key)
	}
	after.tick("leave.all", "checked")
	if id := after.send(); id != key {
		t.Errorf("sent as %s, begun as %s", id, key)
	}
	if n := d.count(t, `SELECT count(*) FROM visit WHERE tank = $1`, tank); n != before+1 {
		t.Errorf("%d visits came of one", n-before)
	}
	after.openVisit(tank)
	if got := after.Value(`[name="note.inside"]`); got != "" {
		t.Errorf("what was sent is still a draft: %q", got)
	}
}

// TestDraftOutlivesTheBrowser kills the whole browser without warning, as an
// empty battery does.
func TestDraftOutlivesTheBrowser(t *testing.T) {
	d := shop(t)
	tank := d.tank(t, "Top floor")
	profile := Profile(t)
	first := Launch(t, profile)
	b := first.Tab(t, d.URL, Upright)
	b.signIn(d.Technician)
	b.openVisit(tank)
	b.begin()
	first.Kill(t)

	b = Launch(t, profile).Tab(t, d.URL, Upright)
	if status := b.Go("/tanks/" + tank + "/visits/new"); status != 200 || strings.HasPrefix(b.Path(), "/sign-in") {
		// The cookie may not have reached the disk; the draft must have.
		b.signIn(d.Technician)
		b.Go("/tanks/" + tank + "/visits/new")
	}
	b.begun("the browser's death")
}

// TestARefusedVisitDoesNotWriteOverOneThatIsBegun: what was refused waits while
// another visit to the same tank is being written down, and says why.
func TestARefusedVisitDoesNotWriteOverOneThatIsBegun(t *testing.T) {
	d := shop(t)
	tank := d.tank(t, "Osteria bar")
	b := d.signedIn(t, d.Technician, Upright)
	b.openVisit(tank)
	b.fill()
	b.Fill(`[name="note.inside"]`, "Of yesterday")
	b.kept()
	d.Line.Cut()
	defer d.Line.Mend()
	b.sendInVain()
	Eval[bool](b, `(async () => {
		const [x] = await scaperound.outbox.all();
		await scaperound.outbox.put({ ...x, state: "refused", status: 422, said: { faults: [{ text: "That cannot be." }] } });
		return true;
	})()`)
	d.Line.Mend()
	b.openVisit(tank)
	b.Fill(`[name="note.inside"]`, "Of today")
	b.kept()
	b.Go("/")
	b.Until(`document.querySelector("[data-outbox]").textContent.includes("That cannot be.")`)
	again := func() { Eval[bool](b, `(document.querySelector("[data-outbox] .links a").click(), true)`) }
	again()
	b.Until(`document.querySelector("[data-outbox] [role=status]")?.textContent.includes("Another visit to Osteria bar is begun")`)
	notes := `Promise.all([scaperound.outbox.all(), scaperound.drafts.all()]).then(([o, d]) => [new URLSearchParams(o[0]?.body).get("note.inside"), Object.fromEntries(d[0]?.pairs ?? [])["note.inside"]])`
	if got := Eval[[]string](b, notes); got[0] != "Of yesterday" || got[1] != "Of today" {
		t.Errorf("what waits and what is begun hold %q", got)
	}
	b.look(t)
	b.openVisit(tank)
	b.TapTo(`[data-says] button`) // begin afresh
	b.Go("/")
	b.Until(`document.querySelector("[data-outbox]").textContent.includes("That cannot be.")`)
	b.leave(again)
	b.awake()
	if got := b.Value(`[name="note.inside"]`); got != "Of yesterday" {
		t.Errorf("opened again it holds %q", got)
	}
}

// TestAFullTabletSaysSo: where nothing more can be kept, the form says so and
// sends as a plain form does; without a signal a page keeps it as long as it is open.
func TestAFullTabletSaysSo(t *testing.T) {
	d := shop(t)
	tank := d.tank(t, "Corridor")
	b := d.signedIn(t, d.Technician, Upright)
	b.Go("/")
	b.Until(`document.querySelector("[data-on-board]")?.dataset.onBoard === "taken"`)
	b.openVisit(tank)
	Eval[bool](b, `(IDBObjectStore.prototype.put = () => { throw new DOMException("full", "QuotaExceededError"); }, true)`)
	b.tick("since", "nothing_new")
	b.tick("leave.all", "checked")
	b.Fill(`[name="note.inside"]`, "Written on a full tablet")
	b.Until(`document.querySelector("[data-kept-bar].urgent-text")?.textContent.includes("is full and cannot keep what you type")`)
	d.Line.Cut()
	defer d.Line.Mend()
	b.Offline(true)
	b.TapTo("[data-send]")
	if got := b.Text("h1"); got != "Not sent" {
		t.Fatalf("after sending in vain: %s", b.Text("body"))
	}
	d.Line.Mend()
	b.Offline(false)
	b.TapTextTo("Send it now")
	if n := d.count(t, `SELECT count(*) FROM visit_revision r JOIN visit v ON v.id = r.visit WHERE v.tank = $1 AND note_inside = 'Written on a full tablet'`, tank); n != 1 {
		t.Errorf("kept %d times, at %s: %s", n, b.Path(), b.Text("main"))
	}
}
