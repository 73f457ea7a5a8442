package browser

import (
	"strings"
	"testing"

	"scaperound/static"
)

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
	form := "/tanks/" + d.Tank2 + "/visits/new"
	board := strings.Replace(form, "/visits/new", "/board", 1)
	whole := Eval[bool](b, `caches.match(%s).then(Boolean)`, board)
	if !whole {
		board = Eval[string](b, `(async () => { for (const n of await caches.keys()) for (const k of await (await caches.open(n)).keys()) if (k.url.endsWith("/board")) return new URL(k.url).pathname; return "" })()`)
		form = strings.Replace(board, "/board", "/visits/new", 1)
	}
	if board == "" {
		t.Fatal("no tank is on board whole")
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
	b.Go(form)
	b.Until(`!document.querySelector("[data-foot]").hidden`)
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
}
