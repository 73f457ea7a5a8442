package store

import (
	"context"
	"time"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/tank"
)

const dosingColumns = `id, solute, mg_per_dose, weekdays, minute, how, by_whom, ml_per_dose, ml_per_stroke, note`

func scanDosing(row pgx.CollectableRow, more ...any) (tank.DosingLine, error) {
	var l tank.DosingLine
	var days int16
	err := row.Scan(append([]any{&l.ID, &l.Solute, &l.PerDose, &days, maybeInt(&l.Minute), &l.How, &l.ByWhom, maybe(&l.MlPerDose), maybe(&l.MlPerStroke), &l.Note}, more...)...)
	l.Weekdays = uint8(days)
	return l, err
}

// SetDosing makes the lines the tank's whole plan since then. Lines that say
// the same as before run on; the others end at that moment. Where a later plan
// is already written down, the new lines end at its first change.
func SetDosing(ctx context.Context, tx Tx, by, tankID string, since time.Time, plan []tank.DosingLine) error {
	if err := lockTank(ctx, tx, tankID); err != nil {
		return err
	}
	since = since.UTC().Truncate(time.Microsecond)
	running, err := dosingAt(ctx, tx, tankID, since)
	if err != nil {
		return err
	}
	var next *time.Time
	// LEAST passes over nulls: whichever change of the plan comes first.
	if err := tx.QueryRow(ctx, `
SELECT LEAST(min(since) FILTER (WHERE since > $2), min(until) FILTER (WHERE until > $2)) FROM dosing_line WHERE tank = $1`,
		tankID, since).Scan(&next); err != nil {
		return asFault(err)
	}
	left := append([]tank.DosingLine(nil), running...)
	var add []tank.DosingLine
	for _, l := range plan {
		l = dosingDefaults(l)
		if i := sameLine(left, l); i >= 0 {
			left = append(left[:i], left[i+1:]...)
			continue
		}
		add = append(add, l)
	}
	for _, l := range left {
		if _, err := tx.Exec(ctx, `UPDATE dosing_line SET until = $2 WHERE id = $1`, l.ID, since); err != nil {
			return asFault(err)
		}
	}
	for _, l := range add {
		_, err := tx.Exec(ctx, `
INSERT INTO dosing_line (id, tank, since, until, recorded_at, author, solute, mg_per_dose, weekdays, minute, how, by_whom, ml_per_dose, ml_per_stroke, note)
VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15)`,
			NewID(), tankID, since, next, tx.Now, nullText(by), l.Solute, l.PerDose, int16(l.Weekdays), null(l.Minute), l.How, l.ByWhom,
			null(l.MlPerDose), null(l.MlPerStroke), l.Note)
		if err != nil {
			return asFault(err)
		}
	}
	if len(left) == 0 && len(add) == 0 {
		return nil
	}
	return Audit(ctx, tx, by, "dosing", "tank", tankID, map[string]any{"Lines": running}, map[string]any{"Lines": plan, "Since": since})
}

func dosingDefaults(l tank.DosingLine) tank.DosingLine {
	if l.Weekdays == 0 {
		l.Weekdays = 127
	}
	if l.How == "" {
		l.How = tank.ByHand
	}
	if l.ByWhom == "" {
		l.ByWhom = "shop"
	}
	return l
}

// sameLine finds a line that says the same; ids do not count.
func sameLine(in []tank.DosingLine, l tank.DosingLine) int {
	for i, x := range in {
		x.ID = l.ID
		if x == l {
			return i
		}
	}
	return -1
}

func dosingAt(ctx context.Context, db Querier, tankID string, at time.Time) ([]tank.DosingLine, error) {
	rows, err := db.Query(ctx, `SELECT `+dosingColumns+` FROM dosing_line WHERE tank = $1 AND since <= $2 AND (until IS NULL OR until > $2) ORDER BY id`, tankID, at)
	if err != nil {
		return nil, asFault(err)
	}
	out, err := pgx.CollectRows(rows, func(row pgx.CollectableRow) (tank.DosingLine, error) { return scanDosing(row) })
	return out, asFault(err)
}

// dosingVersion counts what has happened to the plan so far.
func dosingVersion(ctx context.Context, db Querier, tankID string) (n int, err error) {
	err = db.QueryRow(ctx, `SELECT count(*) + count(until) FROM dosing_line WHERE tank = $1`, tankID).Scan(&n)
	return n, asFault(err)
}
