package demoshop

import (
	"context"
	"slices"
	"time"

	"scaperound/domain/customer"
	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
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
// calls, absences, keys and troubles.
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
		if err := l.absences(ctx, tx, made); err != nil {
			return err
		}
		if err := l.keys(ctx, tx); err != nil {
			return err
		}
		return l.troubles(ctx, tx, made)
	})
}

// absences are those of customers, with what is settled for their tanks: one
// next week with packets for the stand-in, one under way with a feeder.
func (l *loader) absences(ctx context.Context, tx store.Tx, made []madeTank) error {
	day := l.req.Today
	for _, a := range []struct {
		customer string
		from, to int // days from today
		why, who string
		packets  map[string]customer.Packets // by the tank's name
	}{
		{"Cora Lindqvist-Hale", 6, 20, "walking in the south", "Her sister Ines, +353 1 555 0181, feeds the day packets", map[string]customer.Packets{
			"Living room": {EveryDays: 2, Grams: q.Some(q.Gram(0.4)), Note: "The packets lie on the cabinet, each with its day."},
			"Desk cube":   {EveryDays: 3, Grams: q.Some(q.Gram(0.1)), Note: "Half of it sinks; that is right."}}},
		{"Lorcan Eyre", -2, 5, "at sea", "Nobody: the feeder was tried a week before", nil},
		{"Northfield Primary School", 28, 45, "holidays", "The caretaker lets us in by the yard", nil},
	} {
		away := customer.Away{Site: l.siteAt(a.customer), Why: a.why, StandIn: a.who, From: day.Add(a.from), To: day.Add(a.to)}
		id, err := store.AddAway(ctx, tx, l.owner, away)
		if err != nil {
			return err
		}
		var all []customer.Packets
		for i, t := range tanks {
			x, settled := a.packets[t.name]
			if a.customer == "Lorcan Eyre" {
				x, settled = customer.Packets{EveryDays: 1, Feeder: true, FeederTried: q.Some(away.From.Add(-customer.FeederDays))}, true
			}
			if settled && t.place == placeOf(a.customer) {
				x.Tank = made[i].id
				all = append(all, x)
			}
		}
		if len(all) == 0 {
			continue
		}
		if err := store.KeepAwayPackets(ctx, tx, l.owner, id, all, time.Time{}); err != nil {
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
