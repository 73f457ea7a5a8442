package demoshop

import (
	"context"
	"slices"
	"time"

	"scaperound/domain/customer"
	"scaperound/domain/fault"
	"scaperound/store"
)

// What was said on the phone: whose customer, days ago, who wrote it down.
var phoneCalls = []struct {
	customer string
	ago, who int
	they, we string
}{
	{"The Alder Table", 9, 0, "The kitchen says the water smells of nothing, which they like. Could we come before ten?", "Before ten from December on. Nothing changes this month."},
	{"The Alder Table", 1, 1, "Fish at the surface again this morning, before the light came on.", "CO2 stays shut and the air stays on until we have been there. Nobody turns the valve."},
	{"Cora Lindqvist-Hale", 22, 0, "Asked whether the carpet may grow over the stones.", "It may. We cut it back in spring."},
	{"Greta Mulqueen", 12, 2, "Says two pinches a day, the neighbour says five.", "One pinch a day, and none on Sundays. We bring a small spoon."},
	{"Anselm Brody", 5, 0, "Black tufts are back on the wood. A friend told him to black the tank out.", "No dark days: the filter and the CO2 first. We look again in two weeks."},
	{"Maud and Finbar Quill", 3, 1, "When may fish go in?", "When two tests in a row, five days apart, show neither ammonia nor nitrite. We bring the kit."},
	{"Bellwether Insurance", 30, 0, "No budget for a second light before January.", "Noted: we ask again in January."},
	{"Yusra Benali-Kerr", 40, 2, "", "Winter dates sent by post."},
}

// office writes down what the shop knows of its customers besides their tanks:
// calls, absences, keys, problems and one mishap.
func (l *loader) office(ctx context.Context, made []madeTank) error {
	return l.db.Tx(ctx, func(ctx context.Context, tx store.Tx) error {
		for _, c := range phoneCalls {
			at := l.ago(c.ago).Add(time.Duration(9+c.who) * time.Hour)
			who, err := l.customerAt(ctx, c.customer)
			if err != nil {
				return err
			}
			if _, err := store.AddContactNote(ctx, tx, l.req.Staff[c.who].ID, customer.ContactNote{Customer: who, At: at, TheySaid: c.they, WeSaid: c.we}); err != nil {
				return err
			}
		}
		if err := l.absences(ctx, tx); err != nil {
			return err
		}
		if err := l.keys(ctx, tx); err != nil {
			return err
		}
		return l.troubles(ctx, tx, made)
	})
}

func (l *loader) absences(ctx context.Context, tx store.Tx) error {
	for _, a := range []struct {
		customer string
		from, to int // days from today
		why, who string
	}{
		{"Cora Lindqvist-Hale", 6, 20, "walking in the south", "Her sister Ines, +353 1 555 0181, feeds the day packets"},
		{"Lorcan Eyre", -2, 5, "at sea", "nobody: the feeder was tried a week before"},
		{"Northfield Primary School", 28, 45, "holidays", "The caretaker lets us in by the yard"},
	} {
		_, err := store.AddAway(ctx, tx, l.owner, customer.Away{Site: l.siteAt(a.customer), Why: a.why, StandIn: a.who,
			From: l.req.Today.Add(a.from), To: l.req.Today.Add(a.to)})
		if err != nil {
			return err
		}
	}
	return nil
}

func (l *loader) keys(ctx context.Context, tx store.Tx) error {
	for _, k := range []struct {
		number, customer string
		holder, ago      int // a person's place among the staff, -1 for nobody; days out
	}{
		{"K-04", "Halloran Dental", 2, 16}, {"K-07", "The Alder Table", 1, 1}, {"K-09", "Bellwether Insurance", -1, 0}, {"K-11", "Rowan House Hotel", -1, 0}, {"K-12", "The Heron Barge", -1, 0},
	} {
		id, err := store.AddKey(ctx, tx, l.owner, l.siteAt(k.customer), k.number)
		if err != nil {
			return err
		}
		if k.holder < 0 {
			continue
		}
		out := l.ago(k.ago).Add(8 * time.Hour)
		if _, err := tx.Exec(ctx, `UPDATE site_key SET holder = $2, out_at = $3, in_at = NULL WHERE id = $1`, id, l.req.Staff[k.holder].ID, out); err != nil {
			return err
		}
		if err := store.Audit(ctx, tx, l.req.Staff[k.holder].ID, "handed out", "key", id, nil, map[string]any{"holder": l.req.Staff[k.holder].Name}); err != nil {
			return err
		}
	}
	return nil
}

// troubles opens two problems and records a mishap.
func (l *loader) troubles(ctx context.Context, tx store.Tx, made []madeTank) error {
	for _, p := range []struct {
		tank, title, belief, next, tried, result string
		ago                                      int
	}{
		{"The cube", "Black tufts on the wood", "CO2 swings in the mornings, and little flow behind the wood", "Outlet along the front pane; look in two weeks",
			"Opened the needle valve two marks", "New growth is clean, the old tufts stay", 35},
		{"Ground floor", "Nitrate does not come down", "Fed by two people, who do not know of each other", "A spoon for the day, and one name beside it",
			"Changed half at each visit", "Back within ten days", 60},
	} {
		id, by := store.NewID(), l.req.Staff[1].ID
		if _, err := tx.Exec(ctx, `INSERT INTO problem (id, tank, title, belief, next, opened_at, opened_by) VALUES ($1, $2, $3, $4, $5, $6, $7)`,
			id, made[indexOf(p.tank)].id, p.title, p.belief, p.next, l.ago(p.ago), by); err != nil {
			return err
		}
		if _, err := tx.Exec(ctx, `INSERT INTO problem_try (id, problem, at, staff, tried, result) VALUES ($1, $2, $3, $4, $5, $6)`,
			store.NewID(), id, l.ago(p.ago-14), l.req.Staff[2].ID, p.tried, p.result); err != nil {
			return err
		}
	}
	_, err := tx.Exec(ctx, `INSERT INTO incident (id, site, noticed_at, what, done, told, staff, recorded_at) VALUES ($1, $2, $3, $4, $5, $6, $7, $3)`,
		store.NewID(), l.siteAt("The Heron Barge"), l.ago(51).Add(11*time.Hour), "The swell lifted the return pipe off its hook; about two litres on the deck, none near a socket.",
		"Pipe tied down with two clips, deck dried, level checked.", "The bar manager, at once and in these words.", l.req.Staff[2].ID)
	return err
}

func placeOf(name string) int {
	return slices.IndexFunc(places, func(p place) bool { return p.customer == name })
}

func (l *loader) siteAt(name string) string { return l.sites[placeOf(name)] }

func (l *loader) customerAt(ctx context.Context, name string) (string, error) {
	i := placeOf(name)
	if i < 0 {
		return "", fault.New(fault.Internal, "The made-up shop has no customer %s.", name)
	}
	s, err := l.db.Site(ctx, l.sites[i])
	return s.Customer, err
}
