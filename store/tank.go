package store

import (
	"context"
	"strings"
	"time"

	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
)

// lines splits what is kept one to a line; empty lines do not count.
func lines(text string) []string {
	var out []string
	for l := range strings.Lines(text) {
		if l = strings.TrimSpace(l); l != "" {
			out = append(out, l)
		}
	}
	return out
}

// CreateTank makes a tank at a site and returns its id. It has a state and a
// place since then, and nothing else yet.
func CreateTank(ctx context.Context, tx Tx, by string, n tank.New, since time.Time) (string, error) {
	if n.ID == "" {
		n.ID = NewID()
	}
	if n.State == "" {
		n.State = tank.Running
	}
	if !ValidID(n.Site) {
		return "", errNoSite()
	}
	_, err := tx.Exec(ctx, `
INSERT INTO tank (id, name, set_up_on, state, pinned, search, sort_key, created_at, updated_at)
VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $8)`,
		n.ID, n.Name, null(n.SetUpOn), n.State, strings.Join(n.Pinned, "\n"), Fold(n.Name), SortKey(n.Name), tx.Now)
	if err != nil {
		return "", asFault(err)
	}
	if err := MoveTank(ctx, tx, by, n.ID, since, n.Site); err != nil {
		return "", err
	}
	if err := SetState(ctx, tx, by, n.ID, since, n.State); err != nil {
		return "", err
	}
	return n.ID, Audit(ctx, tx, by, "made", "tank", n.ID, nil, n)
}

func errNoSite() error { return fault.New(fault.NotFound, "There is no such site.") }

// MoveTank says at which site the tank stands since then.
func MoveTank(ctx context.Context, tx Tx, by, tankID string, since time.Time, site string) error {
	if !ValidID(site) {
		return errNoSite()
	}
	since, err := datedRow(ctx, tx, siteRows, tankID, since)
	if err != nil {
		return err
	}
	tag, err := tx.Exec(ctx, `INSERT INTO tank_site (tank, site, since) SELECT $1, id, $3 FROM site WHERE id = $2`, tankID, site, since)
	if err != nil {
		return asFault(err)
	}
	if tag.RowsAffected() == 0 {
		return errNoSite()
	}
	return Audit(ctx, tx, by, "placed", "tank", tankID, nil, map[string]any{"Site": site, "Since": since})
}

// SetState says that the tank is starting, running, resting or ended since then.
func SetState(ctx context.Context, tx Tx, by, tankID string, since time.Time, state tank.State) error {
	since, err := datedRow(ctx, tx, stateRows, tankID, since)
	if err != nil {
		return err
	}
	var before tank.State
	if err := tx.QueryRow(ctx, `SELECT state FROM tank WHERE id = $1`, tankID).Scan(&before); err != nil {
		return asFault(err)
	}
	if _, err := tx.Exec(ctx, `INSERT INTO tank_state (tank, since, recorded_at, author, state) VALUES ($1, $2, $3, $4, $5)`,
		tankID, since, tx.Now, nullText(by), state); err != nil {
		return asFault(err)
	}
	// An older date than the newest known leaves today's state as it is.
	var newest time.Time
	var now tank.State
	if err := tx.QueryRow(ctx, `SELECT since, state FROM tank_state WHERE tank = $1 ORDER BY since DESC LIMIT 1`, tankID).Scan(&newest, &now); err != nil {
		return asFault(err)
	}
	var ended q.Opt[q.Date]
	if now == tank.Ended {
		on, err := shopDay(ctx, tx, newest)
		if err != nil {
			return err
		}
		ended = q.Some(on)
	}
	if _, err := tx.Exec(ctx, `UPDATE tank SET row_version = row_version + 1, updated_at = $2, state = $3, ended_on = $4 WHERE id = $1`,
		tankID, tx.Now, now, null(ended)); err != nil {
		return asFault(err)
	}
	return Audit(ctx, tx, by, "state", "tank", tankID, map[string]any{"State": before}, map[string]any{"State": state, "Since": since})
}
