package browser

import (
	"context"
	"encoding/base64"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/chromedp/chromedp/kb"

	"scaperound/domain/due"
	"scaperound/domain/quantity"
	"scaperound/domain/share"
	"scaperound/web"
	"scaperound/web/webtest"
)

// nextWeek is the Monday of the week to come, which is planned and not handed
// out. Tests only look at it; one that writes takes a later week.
func (d demo) nextWeek(t testing.TB) quantity.Date {
	t.Helper()
	monday := d.week(t, 1)
	w, err := d.DB.RoundWeek(context.Background(), monday)
	if err != nil {
		t.Fatal(err)
	}
	if w.Planned {
		return monday
	}
	d.plan(t, d.SignIn(t, d.Owner), monday)
	return monday
}

// plan plans a week and waits until the planner rests.
func (d demo) plan(t testing.TB, v *webtest.Visitor, monday quantity.Date) {
	t.Helper()
	v.Post("/round-book/weeks/" + monday.String() + "/plan").Wants(http.StatusSeeOther)
	for range 300 {
		var now struct{ Running bool }
		v.Script("GET", "/round-book/run").Wants(http.StatusOK).JSON(&now)
		if !now.Running {
			return
		}
		time.Sleep(100 * time.Millisecond)
	}
	t.Fatal("the planner does not rest")
}

// zone is the shop's.
func (d demo) zone(t testing.TB) *time.Location {
	t.Helper()
	set, err := d.DB.Shop(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	zone, err := time.LoadLocation(set.Zone)
	if err != nil {
		t.Fatal(err)
	}
	return zone
}

// week is the Monday of the nth week from this one.
func (d demo) week(t testing.TB, n int) quantity.Date {
	t.Helper()
	return due.Monday(quantity.DateOf(time.Now().In(d.zone(t)))).Add(7 * n)
}

// jobIn is a stop of a planned week that goes to one person.
func (d demo) jobIn(t testing.TB, monday quantity.Date) string {
	t.Helper()
	w, err := d.DB.RoundWeek(context.Background(), monday)
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range w.Draft.Routes {
		for _, s := range r.Stops {
			if s.With == "" {
				return s.Job
			}
		}
	}
	t.Fatalf("no stop is planned for the week of %s", monday)
	return ""
}

// TestWeekByKeyboardAlone plans a week, moves a stop with its cost before the
// eyes, lets it go, keeps it, plans again around it, takes that back and hands
// out, without touching the screen once.
func TestWeekByKeyboardAlone(t *testing.T) {
	d := shop(t)
	monday := d.week(t, 2)
	path := "/round-book/weeks/" + monday.String()
	b := Open(t, d.URL, Lying)
	b.Go("/sign-in?next=" + path)
	b.TabTo("input[name=email]")
	b.Type(d.Owner.Email)
	b.TabTo("input[name=password]")
	b.Type("moss on the weir")
	enter := func() { b.leave(func() { b.Press(kb.Enter) }) }
	enter()
	if b.Path() != path {
		t.Fatalf("signed in, and at %s", b.Path())
	}

	// Plan the week; the page says how it goes and shows the week when it is done.
	planned := func(sum string) {
		t.Helper()
		b.TabTo(`form[action$="/plan"] button`)
		enter()
		if !b.Within(60*time.Second, `document.readyState === "complete" && !document.querySelector("[data-running]") && document.querySelector("main").textContent.includes(%s)`, sum) {
			t.Fatalf("planned, and it says: %.600s", b.Text("main"))
		}
	}
	planned("The week was planned, ")
	read := func() due.Week {
		t.Helper()
		w, err := d.DB.RoundWeek(context.Background(), monday)
		if err != nil {
			t.Fatal(err)
		}
		return w
	}
	job := d.jobIn(t, monday)
	was, at, _ := read().Draft.Find(job)

	// To its day, and to the places that there are for it.
	b.TabTo(`a[href="/round-book/days/` + was.Day.String() + `"]`)
	enter()
	b.TabTo(`#stop-` + strings.ReplaceAll(job, ".", `\.`) + ` a.act`)
	enter()
	// Another day, by its link: the cost of its best place stands beside it.
	b.TabTo(`.move-days a`)
	if text := Eval[string](b, `document.activeElement.closest("li").textContent`); !strings.Contains(text, "Best: ") && !strings.Contains(text, "No place") {
		t.Errorf("beside a day it says %q", text)
	}
	enter()
	b.TabTo(`input[name="place"]`)
	b.Press(" ")
	chosen := `document.querySelector('[name="place"]:checked')`
	first := Eval[string](b, chosen+".value")
	b.Press(kb.ArrowDown)
	if Eval[int](b, `document.querySelectorAll('[name="place"]:enabled').length`) > 1 && Eval[string](b, chosen+".value") == first {
		t.Error("an arrow key does not go on to the next place")
	}
	cost := Eval[string](b, chosen+`.closest("label").querySelector(".urgent-text, .quiet").textContent`)
	if cost == "" {
		t.Error("a place is chosen and its cost is not said")
	}
	if now := read().Draft; !sameStop(now, was, at) {
		t.Fatal("it is moved before it is done")
	}
	b.TabTo(`form[action$="/move"] button[type=submit]`)
	enter()
	moved, there, ok := read().Draft.Find(job)
	if !ok || !there.Kept || moved.Day == was.Day || b.Path() != "/round-book/days/"+moved.Day.String() {
		t.Fatalf("moved to %+v, at %s", moved, b.Path())
	}
	if text := b.Text(".notice"); !strings.Contains(text, "is kept there") {
		t.Errorf("the notice says %q", text)
	}

	// Let go, and kept here again.
	own := `form[action="` + path + `/jobs/` + job + `/keep"] button`
	for _, want := range []bool{false, true} {
		b.TabTo(own)
		enter()
		if _, x, _ := read().Draft.Find(job); x.Kept != want {
			t.Errorf("kept: %v, want %v", x.Kept, want)
		}
	}

	// Planned again, it stays; that is taken back; the week is handed out.
	b.TabTo(`a[href="` + path + `"]`)
	enter()
	before := read().Draft.ID
	planned("planned around what is kept")
	if r, x, _ := read().Draft.Find(job); r.Day != moved.Day || r.Person != moved.Person || !x.Kept {
		t.Errorf("planned around it, and it is on %s", r.Day)
	}
	b.TabTo(`form[action$="/undo"] button`)
	enter()
	if read().Draft.ID != before {
		t.Error("not taken back")
	}
	b.TabTo(`form[action$="/hand-out"] button`)
	enter()
	if w := read(); !w.Out() || w.Draft.ID != before {
		t.Errorf("handed out: %v", w.Out())
	}
	if text := b.Text("main"); !strings.Contains(text, "Handed out") {
		t.Errorf("the week says %.300s", text)
	}
}

func sameStop(b due.Book, r due.Route, p due.Placed) bool {
	now, x, ok := b.Find(p.Job)
	return ok && now.Day == r.Day && now.Person == r.Person && x.Begin == p.Begin
}

// aTile is a picture of ground, one pixel of it.
var aTile, _ = base64.StdEncoding.DecodeString("R0lGODlhAQABAIAAAP///wAAACH5BAAAAAAALAAAAAABAAEAAAICRAEAOw==")

// The sketch opens as a map by the keyboard, with pictures of the ground where
// the shop has said from where, and without any where it has not. Without script
// the sketch stays.
func TestADayOpensAsAMap(t *testing.T) {
	d := shop(t)
	monday := d.nextWeek(t)
	job := d.jobIn(t, monday)
	w, err := d.DB.RoundWeek(context.Background(), monday)
	if err != nil {
		t.Fatal(err)
	}
	route, _, _ := w.Draft.Find(job)
	day := "/round-book/days/" + route.Day.String()
	var asked atomic.Int64
	ground := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) {
		asked.Add(1)
		w.Header().Set("Content-Type", "image/gif")
		w.Write(aTile)
	}))
	t.Cleanup(ground.Close)
	tiled := webtest.Serve(t, d.DB, func(c *web.Config) {
		c.LinkKey, c.Tiles = share.Key{7: 1, 11: 2}, web.Tiles{Address: ground.URL + "/{z}/{x}/{y}.gif", Credit: "Ground by <b>nobody</b>"}
	})
	for name, site := range map[string]string{"bare": d.URL, "tiled": tiled.URL} {
		t.Run(name, func(t *testing.T) {
			b := Open(t, site, Upright)
			b.signIn(d.Owner)
			b.Go(day)
			if b.Has(".map") || !b.Has(".sketch svg") || Eval[bool](b, "!!window.L") {
				t.Fatal("the page begins with a map, or without a sketch")
			}
			b.TabTo(".sketch > button")
			b.Press(kb.Enter)
			b.Until(`document.querySelector(".map.leaflet-container") === document.activeElement && document.querySelectorAll(".map .map-mark .sketch-stop").length > 0`)
			if stops, drawn := Eval[int](b, `document.querySelectorAll(".map .sketch-stop").length`), Eval[int](b, `document.querySelectorAll(".sketch > svg .sketch-stop").length`); stops != drawn {
				t.Errorf("%d stops on the map, %d on the sketch", stops, drawn)
			}
			// The ways begin at the shop, and so must they on the map.
			const off = `(() => { const p = document.querySelector(".map path.way"), a = p.getPointAtLength(0).matrixTransform(p.getScreenCTM()), m = document.querySelector(".map .sketch-shop").getBoundingClientRect();
				return Math.hypot(a.x - m.x - m.width / 2, a.y - m.y - m.height / 2) })()`
			if px := Eval[float64](b, off); px > 2 {
				t.Errorf("the shop's mark stands %.1f px beside where the ways begin", px)
			}
			const pane = `document.querySelector(".leaflet-map-pane").style.transform`
			was := Eval[string](b, pane)
			b.Press(kb.ArrowRight)
			b.Until(pane+" !== %s", was)
			b.TabTo(".map-mark:has(.sketch-stop)")
			b.Press(kb.Enter)
			b.Until(`document.querySelector(".leaflet-popup-content")?.textContent.includes("–")`)
			b.look(t)
			if name == "tiled" {
				b.Until(`document.querySelectorAll(".leaflet-tile-loaded").length > 0`)
				if text := b.Text(".leaflet-control-attribution"); text != "Ground by <b>nobody</b>" {
					t.Errorf("beside the tiles stands %q", text)
				}
			} else if n := asked.Load(); b.Has(".leaflet-tile") || b.Has(".leaflet-control-attribution") {
				t.Errorf("a map without tiles asks for %d of them", n)
			}
		})
	}
	t.Run("without script", func(t *testing.T) {
		b := Open(t, d.URL, Upright)
		b.NoScript()
		b.signIn(d.Owner)
		b.Go(day)
		if b.Has(".sketch > button") || !b.Has(".sketch svg .sketch-stop") {
			t.Error("no sketch, or a button that does nothing")
		}
	})
	v := d.SignIn(t, d.Owner)
	if policy := v.Get(day).Wants(http.StatusOK).Header.Get("Content-Security-Policy"); !strings.Contains(policy, "img-src 'self' data: blob:;") {
		t.Errorf("without tiles the page may load %s", policy)
	}
	elsewhere := tiled.SignIn(t, d.Owner)
	if policy := elsewhere.Get(day).Header.Get("Content-Security-Policy"); !strings.Contains(policy, "img-src 'self' "+ground.URL+" data:") {
		t.Errorf("with tiles the page may load %s", policy)
	}
	if policy := elsewhere.Get("/").Header.Get("Content-Security-Policy"); strings.Contains(policy, ground.URL) {
		t.Error("another page may load tiles too")
	}
}
