package browser

import (
	"context"
	"net/http"
	"strings"
	"testing"
	"time"

	"scaperound/domain/due"
	"scaperound/domain/quantity"
	"scaperound/domain/share"
	"scaperound/web"
	"scaperound/web/webtest"
)

// onARound is the made-up shop at six in the morning of a day, three weeks from
// now, for which a round is handed out to the technician.
func (d demo) onARound(t *testing.T) (demo, due.Route) {
	t.Helper()
	monday := d.week(t, 3)
	v := d.SignIn(t, d.Owner)
	d.plan(t, v, monday)
	w, err := d.DB.RoundWeek(context.Background(), monday)
	if err != nil {
		t.Fatal(err)
	}
	v.Post("/round-book/weeks/"+monday.String()+"/hand-out", "draft", w.Draft.ID).Wants(http.StatusSeeOther)
	for _, r := range w.Draft.Routes {
		if r.Person != d.Technician.ID || len(r.Stops) < 2 {
			continue
		}
		m := r.Day.Midnight()
		early := time.Date(m.Year(), m.Month(), m.Day(), 6, 0, 0, 0, d.zone(t))
		site := webtest.Serve(t, d.DB, func(c *web.Config) {
			c.Now, c.LinkKey = func() time.Time { return early }, share.Key{7: 1, 11: 2}
		})
		site.Owner, site.Technician = d.Owner, d.Technician
		return demo{site, d.Made}, r
	}
	t.Fatalf("the technician has no day of two stops in the week of %s", monday)
	return demo{}, due.Route{}
}

// What is ticked off the load list stays so through a reload and without a
// signal, and is of that day alone.
func TestTheVanIsLoadedFromTheList(t *testing.T) {
	d, _ := shop(t).onARound(t)
	b := d.signedIn(t, d.Technician, Upright)
	b.Go("/")
	b.Until(`document.querySelector("[data-on-board]")?.dataset.onBoard === "taken"`)
	ticked := func() []string {
		return Eval[[]string](b, `[...document.querySelectorAll("[data-ticks] :checked")].map(x => x.value)`)
	}
	all := Eval[int](b, `document.querySelectorAll("[data-ticks] input").length`)
	if all < 2 || len(ticked()) > 0 {
		t.Fatalf("%d things to load, ticked off already: %q", all, ticked())
	}
	// The whole line is touched, not only its box.
	last := `.load > div:last-child li:last-child .load-thing`
	b.Tap(last + " > span")
	want := Eval[string](b, `document.querySelector("`+last+` input").value`)
	check := func(when string, want ...string) {
		t.Helper()
		if got := ticked(); strings.Join(got, "|") != strings.Join(want, "|") {
			t.Errorf("%s: ticked off %q, want %q", when, got, want)
		}
	}
	check("touched", want)
	if text := b.Text(".load > div:last-child h3"); !strings.Contains(text, "1 of ") {
		t.Errorf("the head says %q", text)
	}
	b.Reload()
	check("after a reload", want)
	b.look(t)

	d.Line.Cut()
	b.Offline(true)
	b.Reload()
	b.Until(`document.querySelector("[data-on-board]")?.dataset.onBoard === "kept"`)
	check("without a signal", want)
	b.Tap(last + " > span")
	b.Reload()
	check("taken off again without a signal")
	b.Tap(last + " > span")
	d.Line.Mend()
	b.Offline(false)
	b.Go("/?day=" + Eval[string](b, `document.querySelector("[data-ticks]").dataset.ticks.slice(-10)`))
	check("the same day", want)
	if next := Eval[string](b, `[...document.querySelectorAll(".link-row a[href^=\"/?day=\"]")].at(-1).getAttribute("href")`); b.Go(next) == 200 && b.Has("[data-ticks]") {
		check("another day")
	}

	plain := Open(t, d.URL, Upright)
	plain.NoScript()
	plain.signIn(d.Technician)
	plain.Go("/")
	if !plain.Has(".load-thing input") {
		t.Error("without script there is nothing to tick off")
	}
}

// A day that slips: what follows, whom to phone, and what is only later.
func TestADayThatSlips(t *testing.T) {
	d, r := shop(t).onARound(t)
	first := r.Stops[0]
	begin := quantity.MinuteOfDay(first.Begin / 60)
	id, err := d.DB.AddPromise(context.Background(), d.Owner.ID, due.Promise{Site: first.Site, Day: r.Day, From: begin, To: begin + 30})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _, _ = d.DB.WithdrawPromise(context.Background(), d.Owner.ID, id, true) })
	b := d.signedIn(t, d.Technician, Upright)
	b.Go("/late")
	b.Choose(`[name="stop"]`, first.Job)
	b.Tap(`label:has([name="minutes"][value="90"])`)
	b.TapTo(`main form[action="/late"] button[type=submit]`)
	text := b.Text("main")
	for _, want := range []string{"What follows", "To phone", "it was promised by " + (begin + 30).String(), (begin + 90).String() + " instead of " + begin.String()} {
		if !strings.Contains(text, want) {
			t.Errorf("it does not say %q: %.900s", want, text)
		}
	}
	if !b.Has(`main a[href^="tel:"]`) {
		t.Error("no telephone number to touch")
	}
	b.look(t)
}
