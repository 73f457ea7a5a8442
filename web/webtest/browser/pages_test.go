package browser

import (
	"context"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/staff"
	"scaperound/web"
)

// twins are drawn by the template of another page here, which is looked at with
// everything unfolded; once is enough.
var twins = []string{"/visits/{visit}/edit"}

// notPages answer to programs and hold nothing to look at.
var notPages = []string{"/healthz", "/readyz", "/static/*", "/photos/{photo}", "/s/{token}/photos/{photo}",
	"/sw.js", "/app.webmanifest", "/on-board", "/tanks/{tank}/board", "/round-book/run", "/calendar/{token}"}

// notYet are pages that nobody has looked at in this way so far: take one out,
// say in the table below where its record comes from, and mend what is found.
var notYet []string

// found says how to come by the parts of an address: the newest record of the
// made-up shop that fits.
var found = map[string]string{
	"away":     `SELECT id FROM site_away ORDER BY id DESC LIMIT 1`,
	"call":     `SELECT id FROM trouble_call ORDER BY id DESC LIMIT 1`,
	"customer": `SELECT id FROM customer ORDER BY id LIMIT 1`,
	"key":      `SELECT id FROM site_key ORDER BY id LIMIT 1`,
	"kit":      `SELECT id FROM kit ORDER BY id LIMIT 1`,
	"person":   `SELECT id FROM staff WHERE role = 'technician' ORDER BY id LIMIT 1`,
	"problem":  `SELECT id FROM problem ORDER BY id LIMIT 1`,
	"profile":  `SELECT profile FROM tank_profile ORDER BY profile LIMIT 1`,
	"site":     `SELECT site FROM tank_site ORDER BY site LIMIT 1`,
	"source":   `SELECT source FROM source_version ORDER BY source LIMIT 1`,
	"stop":     `SELECT stop FROM visit WHERE stop IS NOT NULL ORDER BY id DESC LIMIT 1`,
	"task":     `SELECT id FROM task ORDER BY id DESC LIMIT 1`,
	"van":      `SELECT id FROM van ORDER BY id LIMIT 1`,
	"visit":    `SELECT visit FROM sheet ORDER BY id DESC LIMIT 1`,
}

var part = regexp.MustCompile(`\{([a-z]+)\}`)

// address fills a pattern with what the made-up shop has.
func (d demo) address(t testing.TB, pattern string) string {
	t.Helper()
	return part.ReplaceAllStringFunc(pattern, func(p string) string {
		name := strings.Trim(p, "{}")
		switch name {
		case "tank":
			return d.Tank
		case "calc":
			return "stock"
		case "guide":
			return "gasping"
		case "token":
			return d.token(t, pattern)
		case "week":
			return d.nextWeek(t).String()
		case "day":
			return d.nextWeek(t).Add(1).String()
		case "job":
			return d.jobIn(t, d.nextWeek(t))
		}
		sql := found[name]
		if sql == "" {
			t.Fatalf("%s: say in the table above where a %s comes from", pattern, name)
		}
		var id string
		err := d.DB.Pool().QueryRow(context.Background(), sql).Scan(&id)
		if errors.Is(err, pgx.ErrNoRows) {
			t.Fatalf("%s: the made-up shop has no %s", pattern, name)
		}
		if err != nil {
			t.Fatalf("%s: %v", sql, err)
		}
		return id
	})
}

// token is the secret part of an address.
func (d demo) token(t testing.TB, pattern string) string {
	t.Helper()
	switch {
	case strings.HasPrefix(pattern, "/s/"):
		return strings.TrimPrefix(d.Link, "/s/")
	case strings.HasPrefix(pattern, "/invite/"):
		token, _, err := d.DB.InvitePerson(context.Background(), d.Owner.ID, "Tam Rowe", staff.Technician)
		if err != nil {
			t.Fatal(err)
		}
		return token
	}
	t.Fatalf("%s: say here where its token comes from", pattern)
	return ""
}

// TestEveryPage opens every page of the table of routes as the owner, in light
// and in dark, on each screen, and looks for whatever keeps somebody out: what
// axe-core calls serious or critical, what has to be scrolled sideways, and what
// is too small for a finger.
func TestEveryPage(t *testing.T) {
	d := shop(t)
	var patterns []string
	for _, p := range web.Addresses() {
		if !slices.Contains(notPages, p) && !slices.Contains(notYet, p) && !strings.HasPrefix(p, "/first-start/") {
			patterns = append(patterns, p)
		}
	}
	if len(patterns) < 50 {
		t.Fatalf("only %d pages: this test looks in the wrong place", len(patterns))
	}
	in, out := d.signedIn(t, d.Owner, Upright), Open(t, d.URL, Upright)
	for _, p := range patterns {
		t.Run(p, func(t *testing.T) {
			b := in
			if strings.HasPrefix(p, "/s/") || strings.HasPrefix(p, "/invite/") || p == "/sign-in" {
				b = out
			}
			b.inspect(t, d.address(t, p), !slices.Contains(twins, p))
			if p == "/counter" {
				b.picture("counter")
			}
		})
	}
}

// The page of the first start is there only while a shop has no owner.
func TestFirstStartPage(t *testing.T) {
	b, path := firstStart(t)
	b.inspect(t, path, true)
}

// inspect opens a page for the test at hand and tells all that is wrong with it.
func (b *Tab) inspect(t *testing.T, path string, unfold bool) {
	t.Helper()
	outer := b.t
	b.t = t
	defer func() { b.t = outer }()
	b.Turn(Upright)
	b.Dark(false)
	if status := b.Go(path); status != 200 {
		t.Fatalf("%s answers %d: %s", path, status, b.Text("body"))
	}
	if unfold {
		b.Unfold()
	}
	b.look(t)
}

// look tells all that is wrong with the page as it stands.
func (b *Tab) look(t *testing.T) {
	t.Helper()
	outer := b.t
	b.t = t
	defer func() { b.t = outer }()
	for _, x := range b.Barriers() {
		t.Errorf("light: %s", x)
	}
	b.Dark(true)
	for _, x := range b.Barriers("color-contrast", "color-contrast-enhanced") {
		t.Errorf("dark: %s", x)
	}
	b.Dark(false)
	for _, s := range Screens {
		b.Turn(s)
		if over, what := b.Sideways(); over > 0 {
			t.Errorf("%s: %d px stick out sideways: %s", s.Name, over, strings.Join(what, "\n\t"))
		}
		for _, x := range b.Small() {
			t.Errorf("%s: too small to touch: %s", s.Name, x)
		}
	}
	b.Turn(Upright)
	if h := Eval[int](b, "document.querySelectorAll('h1').length"); h != 1 {
		t.Errorf("%d first headings", h)
	}
	if title := Eval[string](b, "document.title"); title == "" {
		t.Error("no title")
	}
	if lost := Eval[[]string](b, deadLinks); len(lost) > 0 {
		t.Errorf("links to nothing on this page: %s", fmt.Sprint(lost))
	}
}

// deadLinks are links to an anchor that the page does not have.
const deadLinks = `[...document.querySelectorAll('a[href^="#"]')].map(a => a.getAttribute("href")).filter(h => h.length > 1 && !document.getElementById(decodeURIComponent(h.slice(1))))`
