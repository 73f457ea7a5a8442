package browser

import (
	"context"
	"os"
	"slices"
	"sync"
	"testing"
	"time"

	"scaperound/cmd/scaperound/demoshop"
	"scaperound/domain/quantity"
	"scaperound/domain/share"
	"scaperound/domain/staff"
	"scaperound/store"
	"scaperound/store/storetest"
	"scaperound/web"
	"scaperound/web/webtest"
)

func TestMain(m *testing.M) {
	code := m.Run()
	shared.end()
	for _, fn := range slices.Backward(later) {
		fn()
	}
	os.Exit(code)
}

// later is what is cleaned up after all tests of the run.
var later []func()

// lasting is a test whose clean-up waits for the end of the run, so that what
// was made for it can serve the others.
type lasting struct{ testing.TB }

func (l lasting) Cleanup(fn func()) { later = append(later, fn) }

// A demo is the made-up shop on the real router.
type demo struct {
	*webtest.Site
	demoshop.Made
}

var (
	demoOnce sync.Once
	demoSite demo
)

// shop is the made-up shop that all tests of a run share: each takes a tank of
// its own where it writes.
func shop(t testing.TB) demo {
	t.Helper()
	if _, err := find(); err != nil {
		storetest.SkipFor(t, "browser", "%v", err)
	}
	demoOnce.Do(func() { demoSite = load(lasting{t}) })
	if demoSite.Site == nil {
		t.Fatal("the made-up shop could not be made; an earlier test says why")
	}
	return demoSite
}

func load(t testing.TB) demo {
	t.Helper()
	ctx := context.Background()
	db := storetest.New(t)
	hash, err := web.HashPassword(webtest.Password)
	if err != nil {
		t.Fatal(err)
	}
	var people []staff.Person
	err = db.Tx(ctx, func(ctx context.Context, tx store.Tx) error {
		if err := tx.MakeShop(ctx, demoshop.Settings()); err != nil {
			return err
		}
		for _, draft := range demoshop.People() {
			p, err := tx.AddPerson(ctx, "", draft, hash)
			if err != nil {
				return err
			}
			people = append(people, p)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	key := share.Key{7: 1, 11: 2}
	zone, err := time.LoadLocation(demoshop.Settings().Zone)
	if err != nil {
		t.Fatal(err)
	}
	made, err := demoshop.Load(ctx, db, demoshop.Request{Seed: 1, Today: quantity.DateOf(time.Now().In(zone)), Staff: people, LinkKey: key})
	if err != nil {
		t.Fatalf("make the made-up shop: %v", err)
	}
	site := webtest.Serve(t, db, func(c *web.Config) { c.LinkKey, c.PlanFor = key, 2*time.Second })
	site.Owner, site.Technician = people[0], people[1]
	return demo{site, made}
}

// signedIn opens a fresh browser in which the person has signed in.
func (d demo) signedIn(t testing.TB, p staff.Person, on Screen) *Tab {
	t.Helper()
	b := Open(t, d.URL, on)
	b.signIn(p)
	return b
}

func (b *Tab) signIn(p staff.Person) {
	b.t.Helper()
	if status := b.Go("/sign-in"); status != 200 {
		b.t.Fatalf("the sign-in page answers %d", status)
	}
	b.Fill("input[name=email]", p.Email)
	b.Fill("input[name=password]", webtest.Password)
	b.TapTo("main form button[type=submit]")
	if b.Path() != "/" {
		b.t.Fatalf("signed in, and at %s: %s", b.Path(), b.Text("main"))
	}
}

// firstStart is a shop that nobody owns yet, and the address of its first start.
func firstStart(t testing.TB) (*Tab, string) {
	t.Helper()
	site := webtest.StartEmpty(t)
	token, err := site.DB.OfferFirstStart(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return Open(t, site.URL, Upright), web.FirstStartPath(token)
}
