package browser

import (
	"context"
	"net/http"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/network"

	"scaperound/domain/wire"
	"scaperound/static"
	"scaperound/web/webtest"
)

// A badDay answers what is posted as a failing house, a slow line and a line
// that breaks between doing and answering do.
type badDay struct {
	mu     sync.Mutex
	failed []string       // paths that were answered 500
	seen   map[string]int // posts by what they send
	held   chan struct{}  // closed when a post is held back
	freed  chan struct{}  // closed to let it go
}

func sends(r *http.Request) bool {
	return r.Method == http.MethodPost && (strings.HasSuffix(r.URL.Path, "/visits") || strings.HasSuffix(r.URL.Path, "/photos"))
}

func (d *badDay) fails(w http.ResponseWriter, r *http.Request, house http.Handler) {
	if !sends(r) {
		house.ServeHTTP(w, r)
		return
	}
	d.mu.Lock()
	d.failed = append(d.failed, r.URL.Path)
	d.mu.Unlock()
	http.Error(w, "something broke", http.StatusInternalServerError)
}

func (d *badDay) failures(end string) int {
	d.mu.Lock()
	defer d.mu.Unlock()
	n := 0
	for _, p := range d.failed {
		if strings.HasSuffix(p, end) {
			n++
		}
	}
	return n
}

// stumbles holds the first post back until it is freed, and does what the second
// visit and the first photograph ask for without an answer.
func (d *badDay) stumbles(w http.ResponseWriter, r *http.Request, house http.Handler) {
	if !sends(r) {
		house.ServeHTTP(w, r)
		return
	}
	d.mu.Lock()
	if d.seen == nil {
		d.seen = map[string]int{}
	}
	end := r.URL.Path[strings.LastIndex(r.URL.Path, "/"):]
	d.seen[end]++
	n := d.seen[end]
	d.mu.Unlock()
	switch {
	case end == "/visits" && n == 1:
		close(d.held)
		<-d.freed
		house.ServeHTTP(w, r)
	case end == "/visits" && n == 2, end == "/photos" && n == 1:
		webtest.CutAfter(w, r, house)
	default:
		house.ServeHTTP(w, r)
	}
}

// threeVisits are a whole round in a dead spot: three visits
// with photographs, one of them through the death of its page; then the shop
// answers by failing, by asking to sign in, late, and by breaking off after it
// has kept what it was sent. Each visit arrives once, judged as on the tablet,
// and each photograph once.
func threeVisits(t *testing.T, d demo, b *Tab) {
	outer := b.t
	b.t = t
	defer func() { b.t = outer }()
	names := []string{"Waiting room", "School hall", "The cellar"}
	b.Go("/")
	b.Until(`document.querySelector("[data-on-board]")?.dataset.onBoard === "taken"`)
	d.Line.Cut()
	defer d.Line.Mend()
	b.Offline(true)
	b.Reload()
	b.Until(`document.querySelector("[data-on-board]")?.dataset.onBoard === "kept"`)

	file := lying(t)
	keys, hashes := make([]string, 3), make([]string, 3)
	for i, name := range names {
		form := "/tanks/" + d.tank(t, name) + "/visits/new"
		b.Go(form)
		b.awake()
		b.shoot("before", file)
		b.tick("since", "nothing_new")
		b.drops("kh.before", 3+i)
		if i == 1 {
			b.Fill(`[name="note.inside"]`, "The outlet hums when the pu")
			b.kept()
			after := b.Beside()
			b.Crash()
			b = after
			b.Offline(true)
			b.Go(form)
			b.awake()
			b.Until(`document.querySelector('[name="note.inside"]').value === "The outlet hums when the pu"`)
			b.Until(`document.querySelectorAll("[data-photo-taken] li").length === 1`)
		}
		b.meter("temp.before", "24.6")
		b.shoot("after", file)
		b.tick("leave.all", "checked")
		keys[i] = b.Value(`[name="visit"]`)
		if static.Has("assess.wasm") {
			hashes[i] = b.judgedHere()
		}
		b.kept()
		b.Tap("[data-send]")
		b.Until(`document.querySelector("[data-says]").textContent.includes("No answer from the shop")`)
	}
	b.Go("/")
	b.Until(`document.querySelector("[data-on-board]")?.textContent.includes("3 visits are unsent")`)
	b.Until(`document.querySelector("[data-photo-queue]")?.textContent.includes("6 photographs still to send.")`)
	if n := d.count(t, `SELECT count(*) FROM visit WHERE id = ANY ($1::uuid[])`, keys); n != 0 {
		t.Fatalf("%d visits came through a cut line", n)
	}

	day := &badDay{held: make(chan struct{}), freed: make(chan struct{})}
	defer d.Meddle(nil)
	d.Meddle(day.fails)
	d.Line.Mend()
	b.Offline(false)
	b.waitFor("every visit and a photograph meet a failing house", func() bool { return day.failures("/visits") >= 3 && day.failures("/photos") >= 1 })
	b.Until(`scaperound.outbox.all().then(all => all.length === 3 && all.every(x => x.state === "waiting"))`)

	d.Meddle(nil)
	call(b, "forget the sign-in", network.ClearBrowserCookies, cdp.Empty{})
	b.Until(`scaperound.sendAll().then(() => document.querySelector("[data-outbox]").textContent.includes("Sign in, and it is sent."))`)
	if n := d.count(t, `SELECT count(*) FROM visit WHERE id = ANY ($1::uuid[])`, keys); n != 0 {
		t.Fatalf("%d visits were taken from nobody", n)
	}
	d.Meddle(day.stumbles)
	b.signIn(d.Technician)
	<-day.held
	if n := Eval[int](b, `scaperound.outbox.all().then(all => all.length)`); n != 3 {
		t.Errorf("while the first is on its way, %d are kept, want 3", n)
	}
	close(day.freed)
	// The one of which nobody heard that it arrived is sent again.
	b.Until(`scaperound.sendAll().then(() => scaperound.outbox.all()).then(all => all.length === 0)`)
	b.Until(`scaperound.photos.sendAll().then(() => scaperound.photos.left()).then(n => n === 0)`)

	for i, key := range keys {
		if n := d.count(t, `SELECT count(*) FROM visit_revision WHERE visit = $1`, key); n != 1 {
			t.Errorf("the visit at %s is kept %d times", names[i], n)
		}
		rows, err := d.DB.Pool().Query(context.Background(), `SELECT purpose FROM photo WHERE visit = $1 ORDER BY ord`, key)
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for rows.Next() {
			var purpose string
			if err := rows.Scan(&purpose); err != nil {
				t.Fatal(err)
			}
			got = append(got, purpose)
		}
		if !slices.Equal(got, []string{"before", "after"}) {
			t.Errorf("the photographs at %s are %v", names[i], got)
		}
		e, err := d.DB.EvaluationOf(context.Background(), key)
		if err != nil {
			t.Fatal(err)
		}
		if static.Has("assess.wasm") && wire.Hash(e.Assessment) != hashes[i] {
			t.Errorf("at %s the tablet judged %s and the shop %s", names[i], hashes[i], wire.Hash(e.Assessment))
		}
	}
	if n := d.count(t, `SELECT count(*) FROM visit_revision WHERE visit = $1 AND note_inside = 'The outlet hums when the pu'`, keys[1]); n != 1 {
		t.Error("what was typed up to the middle of a word is not with its visit")
	}
}

// judgedHere waits until the tablet has judged what stands in the form now and
// returns the judgement's hash.
func (b *Tab) judgedHere() string {
	b.t.Helper()
	b.Until(`scaperound.judgeHere(document.getElementById("visit"), scaperound.page.pairs()).then(x => x.said.hash !== "" && x.said.hash === scaperound.page.acted.hash)`)
	return Eval[string](b, `scaperound.page.acted.hash`)
}

// waitFor waits for something outside the page.
func (b *Tab) waitFor(what string, is func() bool) {
	b.t.Helper()
	for late := time.Now().Add(patience); !is(); time.Sleep(40 * time.Millisecond) {
		if time.Now().After(late) {
			b.t.Fatalf("in vain: %s", what)
		}
	}
}
