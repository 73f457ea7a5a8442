package demoshop

import (
	"context"
	"time"

	q "scaperound/domain/quantity"
	"scaperound/domain/triage"
	"scaperound/store"
)

// troubles are one of each: two problems that are open, a mishap that is over
// with the call that began it, and a tank that is kept apart.
func (l *loader) troubles(ctx context.Context, tx store.Tx, made []madeTank) error {
	for _, p := range []struct {
		tank, title, belief, next, told, tried, result string
		ago                                            int
	}{
		{"The cube", "Black tufts on the wood", "CO2 swings in the mornings, and little flow behind the wood", "Outlet along the front pane; look in two weeks",
			"The dark tufts come from an uneven morning, and we are steadying it. Old ones stay until we cut them off; please put nothing in against them.",
			"Opened the needle valve two marks", "New growth is clean, the old tufts stay", 35},
		{"Ground floor", "Nitrate does not come down", "Fed by two people, who do not know of each other", "A spoon for the day, and one name beside it",
			"", "Changed half at each visit", "Back within ten days", 60},
	} {
		id, by := store.NewID(), l.req.Staff[1].ID
		if _, err := tx.Exec(ctx, `INSERT INTO problem (id, tank, title, belief, next, told, opened_at, opened_by) VALUES ($1, $2, $3, $4, $5, $6, $7, $8)`,
			id, made[indexOf(p.tank)].id, p.title, p.belief, p.next, p.told, l.ago(p.ago), by); err != nil {
			return err
		}
		if _, err := tx.Exec(ctx, `INSERT INTO problem_try (id, problem, at, staff, tried, result) VALUES ($1, $2, $3, $4, $5, $6)`,
			store.NewID(), id, l.ago(p.ago-14), l.req.Staff[2].ID, p.tried, p.result); err != nil {
			return err
		}
	}
	if err := l.mishap(ctx, tx, made[indexOf("The barge")].id); err != nil {
		return err
	}
	return l.keptApart(ctx, tx, made[indexOf("Side tank")].id)
}

// mishap is some water on a deck seven weeks ago: the call, settled since, and
// what was written down of it.
func (l *loader) mishap(ctx context.Context, tx store.Tx, tankID string) error {
	at, by := l.ago(51).Add(11*time.Hour), l.req.Staff[2].ID
	replies := []string{"near_power=no", "falling=no", "glass=no", "much=no", "below=yes"}
	const call = `INSERT INTO trouble_call (id, tank, at, staff, guide, replies, words, read_aloud, advised, going, goes, settled_at, settled_by)
		VALUES ($1, $2, $3, $4, 'water_on_floor', $5, $6, '{0,1,2}', $7, $7, $4, $8, $4)`
	if _, err := tx.Exec(ctx, call, store.NewID(), tankID, at.Add(-80*time.Minute), by, replies, "The bar manager: a puddle in front of the tank, not growing.", triage.GoToday, at.Add(50*time.Minute)); err != nil {
		return err
	}
	_, err := tx.Exec(ctx, `INSERT INTO incident (id, site, tank, kind, noticed_at, what, done, told, staff, recorded_at) VALUES ($1, $2, $3, 'leak', $4, $5, $6, $7, $8, $4)`,
		store.NewID(), l.siteAt("The Heron Barge"), tankID, at, "The swell lifted the return pipe off its hook; about two litres on the deck, none near a socket.",
		"Pipe tied down with two clips, deck dried, level checked. Looked at again a week later: dry.", "The bar manager, at once and in these words.", by)
	return err
}

// keptApart keeps a tank apart: white spots seen at the last visit.
func (l *loader) keptApart(ctx context.Context, tx store.Tx, tankID string) error {
	_, err := tx.Exec(ctx, `UPDATE tank SET keep_apart_since = $2, pinned = $3, row_version = row_version + 1 WHERE id = $1`,
		tankID, q.Date(l.req.Today.Add(-6)).Midnight(), "White spots on two fish. Own net, in the bag with its name.")
	return err
}
