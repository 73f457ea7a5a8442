package browser

import (
	"context"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/page"

	"scaperound/static"
)

// installable fails unless a tablet would offer to put the house on its home
// screen.
func (b *Tab) installable(t *testing.T) {
	t.Helper()
	for _, e := range call(b, "what keeps it from being installed", page.GetInstallabilityErrors, cdp.Empty{}).InstallabilityErrors {
		if e.ErrorID != "in-incognito" { // as every browser of these tests is
			t.Errorf("it cannot be installed: %s %v", e.ErrorID, e.ErrorArguments)
		}
	}
	manifest := call(b, "the manifest", page.GetAppManifest, page.GetAppManifestParams{})
	for _, e := range manifest.Errors {
		t.Errorf("the manifest: %s", e.Message)
	}
	if !strings.Contains(manifest.Data, "maskable") {
		t.Errorf("the manifest reads %q", manifest.Data)
	}
}

// opensWithoutASignal looks at what is on board beside today's tanks: the
// person's own visits of seven days, and a form for any tank, kind and stop.
func (b *Tab) opensWithoutASignal(t *testing.T, d demo) {
	t.Helper()
	var own, name string
	const newest = `SELECT visit.id::text, tank.name FROM visit JOIN tank ON tank.id = visit.tank
		WHERE performer = $1 AND performed_at > now() - interval '6 days' AND withdrawn_at IS NULL ORDER BY performed_at LIMIT 1`
	if err := d.DB.Pool().QueryRow(context.Background(), newest, d.Technician.ID).Scan(&own, &name); err != nil {
		t.Fatalf("a visit of the technician's own: %v", err)
	}
	if status := b.Go("/visits/" + own); status != 200 || b.Text("h1") != name {
		t.Errorf("a visit of this week answers %d with %q", status, b.Text("h1"))
	}
	const stop = "01a2130e-7fa1-7bff-98bc-6892fa0b74c0"
	far := "/tanks/" + d.tank(t, "The barge") + "/visits/new?stop=" + stop
	for kind, want := range map[string]struct{ without, with string }{
		"by_phone":  {`[data-part="read"], [data-rail="read"], [data-photo-step]`, `[data-part="looks"]`},
		"gear_only": {`[data-part="since"], [id="f-look.plants"], #s-work > .works > .work:not([data-gear]), .rest .work[data-gear], #s-read > .reading`, `#s-work > .rest [data-rows="dose"]`},
	} {
		b.Go(far + "&kind=" + kind)
		b.awake()
		if got := b.Value(`[name="kind"]`); got != kind {
			t.Errorf("asked for %s, the form is of the kind %q", kind, got)
		}
		if got := b.Value(`[name="stop"]`); got != stop {
			t.Errorf("the form is of the stop %q", got)
		}
		if b.Has(want.without) || !b.Has(want.with) {
			t.Errorf("the form of %s is not as it is: %s", kind, b.Text(".rail"))
		}
	}
	if b.Go("/customers") != 503 || !strings.Contains(b.Text("main"), "not on this tablet") {
		t.Errorf("a page that was not taken along says %q", b.Text("main"))
	}
	b.look(t)
}

// TestRoundWithoutASignal takes the day along, goes down to a cellar, and works
// there: the round and the form open, the tablet judges as the shop would, and
// the visit reaches the shop once.
func TestRoundWithoutASignal(t *testing.T) {
	d := shop(t)
	b := d.signedIn(t, d.Technician, Upright)
	b.Go("/")
	b.Until(`document.querySelector("[data-on-board]")?.dataset.onBoard === "taken"`)
	if says := b.Text("[data-on-board]"); !strings.Contains(says, "whole") || !strings.Contains(says, "Nothing is unsent") {
		t.Errorf("on board it says %q", says)
	}
	if lasts := Eval[bool](b, `navigator.storage.persisted()`); lasts == strings.Contains(b.Text("[data-on-board]"), "would not promise to keep") {
		t.Errorf("the browser keeps for good: %t, and the page says %q", lasts, b.Text("[data-on-board]"))
	}
	b.installable(t)
	form := "/tanks/" + d.Tank2 + "/visits/new"
	if n := Eval[int](b, `(async () => { let n = 0; for (const name of await caches.keys()) for (const k of await (await caches.open(name)).keys()) if (k.url.endsWith("/board")) n++; return n })()`); n != d.count(t, `SELECT count(*) FROM tank WHERE state <> 'ended'`) {
		t.Errorf("the boards of %d tanks are on board, not of each", n)
	}
	if bad := Eval[[]string](b, `(async () => { const bad = []; for (const n of await caches.keys()) for (const k of await (await caches.open(n)).keys()) { const r = await (await caches.open(n)).match(k); if (r.redirected || (await r.clone().text()).includes('name="password"')) bad.push(k.url); } return bad })()`); len(bad) > 0 {
		t.Errorf("kept, and leads to a sign-in: %v", bad)
	}

	d.Line.Cut()
	defer d.Line.Mend()
	b.Offline(true)
	b.Reload()
	b.Until(`document.querySelector("[data-on-board]")?.dataset.onBoard === "kept"`)
	if says := b.Text("[data-on-board]"); !strings.Contains(says, "No signal") {
		t.Errorf("without a signal it says %q", says)
	}
	b.opensWithoutASignal(t, d)
	b.Go(form)
	b.awake()
	b.meter("temp.before", "31.5")
	key := b.Value(`[name="visit"]`)
	if static.Has("assess.wasm") {
		b.Until(`document.getElementById("visit").dataset.judged === "here"`)
		here := Eval[string](b, `scaperound.page.judged`)
		d.Line.Mend()
		b.Offline(false)
		Eval[bool](b, `(scaperound.page.preview(), true)`)
		b.Until(`document.getElementById("visit").dataset.judged === "shop"`)
		if shop := strings.TrimSpace(Eval[string](b, `scaperound.page.judged`)); shop != here {
			t.Errorf("the shop says\n%s\nand the tablet\n%s", shop, here)
		}
		d.Line.Cut()
		b.Offline(true)
	}
	b.tick("since", "nothing_new")
	b.tick("leave.all", "checked")
	b.kept()
	b.Tap("[data-send]")
	b.Until(`document.querySelector("[data-says]").textContent.includes("No answer from the shop")`)
	b.Go("/")
	b.Until(`document.querySelector("[data-on-board]")?.textContent.includes("1 visit is unsent")`)
	d.Line.Mend()
	b.Offline(false)
	b.Until(`(async () => (await scaperound.outbox.all()).length === 0)()`)
	if n := d.count(t, `SELECT count(*) FROM visit_revision WHERE visit = $1`, key); n != 1 {
		t.Errorf("the visit is kept %d times", n)
	}
	t.Run("three visits", func(t *testing.T) { threeVisits(t, d, b) })
}
