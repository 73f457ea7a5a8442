package browser

import (
	"testing"
)

// TestVisitWithoutScript writes a visit down where no script runs: the form is
// posted as it is, a fault brings it back with everything typed, more rows come
// by a post, and what is right is kept once.
func TestVisitWithoutScript(t *testing.T) {
	d := shop(t)
	tank := d.tank(t, "Boardroom")
	b := d.signedIn(t, d.Technician, Upright)
	b.NoScript()
	if status := b.Go("/tanks/" + tank + "/visits/new"); status != 200 {
		t.Fatal(status)
	}
	if Eval[bool](b, "typeof scaperound === 'object'") {
		t.Fatal("script runs")
	}
	if b.Has("button[data-now]:not([hidden])") || b.Has("[data-foot]:not([hidden])") {
		t.Error("something is offered that only script can do")
	}
	key := b.Value(`[name="visit"]`)
	b.tick("since", "died")
	b.Fill(`[name="since.died.note"]`, "two shrimp, Sunday")
	b.meter("temp.before", "245")
	b.tick("work.water_change", "on")
	b.Fill(`[name="work.water_change.litres"]`, "55")

	// More rows keep nothing and lose nothing.
	rows := `document.querySelectorAll('[data-rows="ppfd"] [data-row]').length`
	before := Eval[int](b, rows)
	b.unfoldFor(`[data-more="ppfd"]`)
	b.TapTo(`[data-more="ppfd"]`)
	if after := Eval[int](b, rows); after <= before {
		t.Errorf("%d rows became %d", before, after)
	}
	b.holds("after more rows")

	b.TapTo("[data-send]")
	if got := b.Text(reading("temp.before") + " .fault"); got == "" {
		t.Errorf("nothing is said beside 245 °C: %s", b.Text("main"))
	}
	if !b.Has(".faults") {
		t.Error("no summary of the faults")
	}
	b.holds("after a refusal")
	for _, x := range b.Barriers() {
		t.Errorf("with faults shown: %s", x)
	}
	if n := d.count(t, `SELECT count(*) FROM visit WHERE id = $1`, key); n != 0 {
		t.Error("kept all the same")
	}

	b.meter("temp.before", "24.5")
	b.tick("leave.all", "checked")
	b.TapTo("[data-send]")
	if path := b.Path(); path != "/visits/"+key {
		t.Fatalf("sent, and at %s: %s", path, b.Text("main"))
	}
	if n := d.count(t, `SELECT count(*) FROM visit_revision WHERE visit = $1`, key); n != 1 {
		t.Errorf("kept %d times", n)
	}
	b.Reload() // the answer was a redirect: nothing is posted again
	if n := d.count(t, `SELECT count(*) FROM visit_revision WHERE visit = $1`, key); n != 1 {
		t.Errorf("after a reload kept %d times", n)
	}
}

func (b *Tab) holds(when string) {
	b.t.Helper()
	for selector, want := range map[string]string{
		`[name="since.died.note"]`:                                    "two shrimp, Sunday",
		`[name="since"][value="died"]`:                                "died",
		`[name="work.water_change.litres"]`:                           "55",
		`[name="work.water_change"]:checked`:                          "on",
		reading("temp.before") + " .way:not([disabled]) input.figure": "245",
	} {
		if !b.Has(selector) {
			b.t.Errorf("%s: %s is lost", when, selector)
		} else if got := b.Value(selector); got != want {
			b.t.Errorf("%s: %s holds %q, want %q", when, selector, got, want)
		}
	}
}
