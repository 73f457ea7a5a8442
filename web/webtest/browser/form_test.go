package browser

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"
)

// The hand of a technician on the visit's form.

// tick touches the tile of a choice.
func (b *Tab) tick(name, value string) {
	b.t.Helper()
	tile := fmt.Sprintf("label:has(> input[name=%q][value=%q])", name, value)
	b.unfoldFor(tile)
	b.Tap(tile)
	b.Until("document.querySelector(%s).querySelector('input').checked", tile)
}

// unfoldFor touches every summary that an element is folded away under.
func (b *Tab) unfoldFor(selector string) {
	b.t.Helper()
	for range 5 {
		folded := Eval[bool](b, `(selector => {
			document.querySelectorAll("[data-test-fold]").forEach(x => x.removeAttribute("data-test-fold"));
			let outer = null;
			for (let d = document.querySelector(selector)?.closest("details"); d; d = d.parentElement.closest("details")) if (!d.open) outer = d;
			outer?.querySelector("summary").setAttribute("data-test-fold", "");
			return outer !== null;
		})(%s)`, selector)
		if !folded {
			return
		}
		b.Tap("[data-test-fold]")
		b.Until("document.querySelector('[data-test-fold]').parentElement.open")
	}
	b.t.Fatalf("%s stays folded away", selector)
}

func reading(name string) string { return fmt.Sprintf("[data-reading=%q]", name) }

// colour touches a class of a colour card.
func (b *Tab) colour(name, class string) {
	b.t.Helper()
	tile := reading(name) + fmt.Sprintf(" .way:not([disabled]) label:has(> input[value=%q])", class)
	b.unfoldFor(tile)
	b.Tap(tile)
	b.Until("document.querySelector(%s).querySelector('input').checked", tile)
}

// classes are what a colour card offers, without what lies between.
func (b *Tab) classes(name string) []string {
	b.t.Helper()
	return Eval[[]string](b, `[...document.querySelectorAll(%s)].filter(l => !l.matches(".between, .no-reading")).map(l => l.querySelector("input").value)`,
		reading(name)+" .way:not([disabled]) .classes label")
}

// drops counts drops by touch.
func (b *Tab) drops(name string, n int) {
	b.t.Helper()
	button := reading(name) + ` .way:not([disabled]) [data-tap="1"]`
	b.unfoldFor(button)
	for range n {
		b.Tap(button)
	}
}

// meter types a number.
func (b *Tab) meter(name, figure string) {
	b.t.Helper()
	field := reading(name) + " .way:not([disabled]) input.figure"
	b.unfoldFor(field)
	b.Fill(field, figure)
}

// tank is the key of a tank of the made-up shop.
func (d demo) tank(t testing.TB, name string) string {
	t.Helper()
	var id string
	if err := d.DB.Pool().QueryRow(context.Background(), `SELECT id FROM tank WHERE name = $1`, name).Scan(&id); err != nil {
		t.Fatalf("the tank %q: %v", name, err)
	}
	return id
}

// openVisit opens the empty form of a visit and waits for its script.
func (b *Tab) openVisit(tank string) {
	b.t.Helper()
	if status := b.Go("/tanks/" + tank + "/visits/new"); status != 200 {
		b.t.Fatalf("the form answers %d: %s", status, b.Text("body"))
	}
	b.awake()
}

// awake waits until the form's script has begun, and restored what was kept.
func (b *Tab) awake() {
	b.t.Helper()
	b.Until(`document.querySelector("[data-foot]") && !document.querySelector("[data-foot]").hidden`)
}

// kept waits until the tablet says that it has kept what stands in the form now.
func (b *Tab) kept() {
	b.t.Helper()
	b.Until(`(async () => {
		const typed = JSON.stringify([...new FormData(document.getElementById("visit"))].filter(([n]) => n.startsWith("reading.") || n.startsWith("note.")));
		const drafts = await scaperound.drafts.all();
		return drafts.some(d => JSON.stringify(d.pairs.filter(([n]) => n.startsWith("reading.") || n.startsWith("note."))) === typed);
	})()`)
}

// send touches the button that keeps the visit and returns the visit's key.
func (b *Tab) send() string {
	b.t.Helper()
	b.TapTo("[data-send]")
	path := b.Path()
	id, ok := strings.CutPrefix(path, "/visits/")
	if !ok {
		b.t.Fatalf("sent, and at %s: %s", path, b.Text("main"))
	}
	return strings.TrimSuffix(id, "?kept=1")
}

// count counts rows.
func (d demo) count(t testing.TB, sql string, args ...any) int {
	t.Helper()
	var n int
	if err := d.DB.Pool().QueryRow(context.Background(), sql, args...).Scan(&n); err != nil {
		t.Fatalf("%s: %v", sql, err)
	}
	return n
}

// TestResultsNeverPushTheForm: however much the strip has to say, and however
// suddenly, what is under the finger stays where it is.
func TestResultsNeverPushTheForm(t *testing.T) {
	d := shop(t)
	tank := d.tank(t, "Hall")
	b := d.signedIn(t, d.Technician, Phone)
	b.openVisit(tank)
	const tops = `[...document.querySelectorAll("#visit [data-part], #visit [data-send], #visit textarea")].filter(x => x.getClientRects().length > 0).map(x => Math.round(x.getBoundingClientRect().top + scrollY))`
	const bar = `Math.round(document.querySelector(".foot-bar").getBoundingClientRect().height)`
	b.tick("since", "nothing_new")
	b.kept()
	before, height := Eval[[]int](b, tops), Eval[int](b, bar)
	Eval[bool](b, `(() => {
		const lines = n => [...Array(n)].map((_, i) => ({ id: "x" + i, text: "A line that says at some length what is to be done here, number " + i, why: "because" }));
		scaperound.page.showPreview({ hash: "1", rules: "1", now: lines(3), pour: lines(5), findings: lines(7), visit: lines(4), next: lines(8), customer: lines(8).map(l => l.text), faults: [] }, "tablet", "");
		return true;
	})()`)
	if after := Eval[[]int](b, tops); !slices.Equal(before, after) {
		t.Errorf("the form was pushed: %v, then %v", before, after)
	}
	if after := Eval[int](b, bar); after != height {
		t.Errorf("the strip's own line grew from %d to %d px", height, after)
	}
	b.Tap("[data-sheet-so-far]")
	b.Until(`document.getElementById("foot-list").matches(":popover-open")`)
	if after := Eval[[]int](b, tops); !slices.Equal(before, after) {
		t.Errorf("the open list pushed the form: %v, then %v", before, after)
	}
}

// TestAnotherKindOfVisitLosesNothing: a visit that turns out to be for the gear
// alone keeps its readings, and what the short form does not ask for stays on
// the tablet until somebody says that it may go.
func TestAnotherKindOfVisitLosesNothing(t *testing.T) {
	d := shop(t)
	tank := d.tank(t, "Kitchen")
	b := d.signedIn(t, d.Technician, Upright)
	b.openVisit(tank)
	b.tick("since", "power_cut")
	b.meter("temp.before", "24.2")
	b.tick("work.trim", "on")
	b.tick("leave.all", "checked")
	b.kept()
	key := b.Value(`[name="visit"]`)
	other := func(kind string) {
		b.leave(func() {
			Eval[bool](b, `(document.querySelector('[data-kind-link=' + JSON.stringify(%s) + ']').click(), true)`, kind)
		})
		b.awake()
		b.Until(`document.querySelector("[data-says]").textContent.includes("What you typed here is back")`)
	}
	other("gear_only")
	if got := b.Value(`[name="reading.temp.before"]`); got != "24.2" {
		t.Errorf("the temperature is %q", got)
	}
	if !Eval[bool](b, `document.querySelector('[name="work.trim"]').checked && document.querySelector("#s-work > .rest").open`) {
		t.Error("what was trimmed does not show")
	}
	b.Tap("[data-send]")
	b.Until(`document.querySelector("[data-says]").textContent.includes("One thing that you typed belongs to another kind of visit")`)
	if n := d.count(t, `SELECT count(*) FROM visit WHERE id = $1`, key); n != 0 {
		t.Fatal("sent without asking")
	}
	other("routine")
	if !Eval[bool](b, `document.querySelector('[name="since"][value="power_cut"]').checked`) {
		t.Error("what happened since last time is gone")
	}
	other("gear_only")
	b.Tap("[data-send]")
	b.Until(`document.querySelector("[data-says]").textContent.includes("Not sent yet.")`)
	b.leave(func() { b.TapText("Send it without") })
	if n := d.count(t, `SELECT count(*) FROM reading JOIN visit_revision r ON r.id = reading.revision WHERE r.visit = $1 AND typed = '24.2'`, key); n != 1 {
		t.Errorf("the temperature is kept %d times", n)
	}
}
