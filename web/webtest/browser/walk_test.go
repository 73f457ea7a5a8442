package browser

import (
	"net/http"
	"strings"
	"testing"

	"github.com/chromedp/chromedp/kb"
)

// fromTheRound arrives at the first stop that falls due and opens its first
// tank.
func (b *Tab) fromTheRound() {
	b.t.Helper()
	b.TapTextTo("Arrive")
	if !strings.HasPrefix(b.Path(), "/stops/") {
		b.t.Fatalf("arrived at %s", b.Path())
	}
	b.TapTo(`main a[href*="/visits/new"]`)
	b.awake()
}

// fromTheTanks finds a tank among all of them and arrives there: the stop that
// nobody planned.
func (b *Tab) fromTheTanks(name string) {
	b.t.Helper()
	b.TapTextTo("Tanks")
	b.Fill(`main input[name="q"]`, strings.ToLower(name[:5]))
	b.leave(func() { b.Press(kb.Enter) })
	b.TapTextTo(name)
	if got := b.Text("h1"); got != name {
		b.t.Fatalf("%s, not %s, at %s", got, name, b.Path())
	}
	b.picture("tank")
	b.TapTextTo("Arrive")
	b.awake()
}

// TestVisitFromArrivalToPaper walks the whole path by touch: the round, the
// stop, the form in the order of the work, the tasks, the sheet given, the link
// opened by the customer, the paper.
func TestVisitFromArrivalToPaper(t *testing.T) {
	d := shop(t)
	for _, on := range []Screen{Upright, Lying} {
		t.Run(on.Name, func(t *testing.T) {
			b := d.signedIn(t, d.Technician, on)
			if on == Upright {
				b.picture("round")
				b.fromTheRound()
			} else {
				b.fromTheTanks("Lobby left")
			}
			tank := b.Attr("#visit", "data-tank")
			name := b.Attr("#visit", "data-tank-name")

			b.Tap(`[data-stamp="arrived"] [data-now]`)
			b.Until(`document.querySelector('[name="arrived"]').value !== ""`)
			b.tick("since", "nothing_new")
			for _, look := range Eval[[]string](b, `[...new Set([...document.querySelectorAll('[name^="look."]')].map(x => x.name))]`) {
				b.tick(look, "fine")
			}
			b.Tap(`[data-stamp="drawn"] [data-now]`)
			b.tick("work.water_change", "on")
			b.Fill(`[name="work.water_change.litres"]`, "20")
			b.tick("work.glass", "on")

			b.meter("temp.before", "24.6")
			b.drops("kh.before", 5)
			b.colour("tan.before", "0")
			cards := b.classes("no3.before")
			most := cards[len(cards)-3]
			b.colour("no3.before", most) // more than any animal should have

			// What it means, in the foot strip.
			b.Until(`document.querySelector("[data-foot-list]").textContent.includes("What the readings say")`)
			if on == Upright {
				b.picture("visit")
			}
			before := Eval[float64](b, "document.querySelector('[data-send]').getBoundingClientRect().top + scrollY")
			b.Tap("[data-foot-open]")
			b.Until(`document.getElementById("foot-list").matches(":popover-open")`)
			foot := b.Text("#foot-list")
			for _, want := range []string{"What the readings say", "The customer will read"} {
				if !strings.Contains(foot, want) {
					t.Errorf("the foot strip does not say %q: %s", want, foot)
				}
			}
			for _, x := range b.Barriers() {
				t.Errorf("with the foot strip open: %s", x)
			}
			if after := Eval[float64](b, "document.querySelector('[data-send]').getBoundingClientRect().top + scrollY"); after != before {
				t.Errorf("the foot strip pushed the form by %g px", after-before)
			}
			b.Tap("[data-foot-open]")
			b.Until(`!document.getElementById("foot-list").matches(":popover-open")`)

			b.tick("leave.all", "checked")
			b.Fill(`[name="note.customer"]`, "The moss on the left root has settled in well.")
			b.Tap(`[data-stamp="left"] [data-now]`)
			visit := b.send()

			if n := d.count(t, `SELECT count(*) FROM visit WHERE id = $1 AND tank = $2`, visit, tank); n != 1 {
				t.Errorf("%d visits are kept", n)
			}
			for kind, typed := range map[string]string{"temp": "24.6", "kh": "5", "tan": "0", "no3": most} {
				if n := d.count(t, `SELECT count(*) FROM reading JOIN visit_revision ON visit_revision.id = reading.revision WHERE visit = $1 AND kind = $2 AND typed = $3`, visit, kind, typed); n != 1 {
					t.Errorf("%s as typed, %s, is kept %d times", kind, typed, n)
				}
			}
			// A change was made: the next reading tells whether it was enough.
			if page := b.Text("main"); !strings.Contains(page, "Read NO3") {
				t.Errorf("after %s mg/L of nitrate the next visit does not read it again: %s", most, page)
			}

			b.TapTextTo("See the sheet as the customer will")
			top := b.Text(".care-top")
			if top == "" || !strings.Contains(b.Text(".care"), "The moss on the left root has settled in well.") {
				t.Errorf("the sheet says: %s", b.Text(".care"))
			}
			b.TapTextTo("Give this sheet to the customer")
			link := Eval[string](b, `[...document.querySelectorAll("a")].find(a => a.pathname.startsWith("/s/"))?.href ?? ""`)
			if link == "" {
				t.Fatalf("no link is shown: %s", b.Text("main"))
			}

			// The customer's own telephone, where nobody has signed in.
			c := Open(t, d.URL, Phone)
			if status := c.Go(link); status != http.StatusOK {
				t.Fatalf("the link answers %d: %s", status, c.Text("body"))
			}
			if got := c.Text(".care-top"); got != top {
				t.Errorf("the customer reads %q, the technician saw %q", got, top)
			}
			if got := c.Text("h1"); got != name {
				t.Errorf("the sheet is headed %q, want %q", got, name)
			}
			if c.Has(".menu") || c.Has("form") {
				t.Error("the customer is offered something to do in the house")
			}
			if on == Upright {
				c.picture("sheet")
			}
			c.look(t)
			for _, on := range []Paper{A4, Letter} {
				n := Pages(c.Print(on))
				if n < 1 || n > 2 {
					t.Errorf("%s: %d pages, two at most", on.Name, n)
				}
				t.Logf("%s on %s: %d pages", name, on.Name, n)
			}
			if status := c.Go("/"); !strings.HasPrefix(c.Path(), "/sign-in") || status != http.StatusOK {
				t.Errorf("the customer who asks for the house is at %s", c.Path())
			}
		})
	}
}
