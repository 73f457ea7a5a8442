package store

import (
	"context"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/counter"
)

// notMadeYet is true of an agreed extra visit x that nobody has made since.
const notMadeYet = ` x.decided = 'agreed' AND x.withdrawn_at IS NULL
	AND NOT EXISTS (SELECT FROM visit later WHERE later.tank = x.tank AND later.withdrawn_at IS NULL AND later.kind <> 'by_phone' AND later.performed_at > x.at)`

// DecideExtra keeps what the owner decided about the extra visit that a visit's
// judgement asked for. A later decision about the same stands instead.
func (db *DB) DecideExtra(ctx context.Context, by string, d counter.Decision) error {
	if !ValidID(d.Visit) {
		return errNoVisit()
	}
	return db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		if _, err := tx.Exec(ctx, `UPDATE extra_visit SET withdrawn_at = $2 WHERE visit = $1 AND withdrawn_at IS NULL`, d.Visit, tx.Now); err != nil {
			return err
		}
		const sql = `INSERT INTO extra_visit (id, tank, visit, decided, on_day, agreed_with, pays, words, staff, at)
			SELECT $1, tank, id, $3, $4, $5, $6, $7, $8, $9 FROM visit WHERE id = $2`
		tag, err := tx.Exec(ctx, sql, NewID(), d.Visit, d.Decided, null(d.On), d.With, d.Pays, d.Words, nullText(by), tx.Now)
		if err != nil {
			return err
		}
		if tag.RowsAffected() == 0 {
			return errNoVisit()
		}
		return Audit(ctx, tx, by, "decided", "extra visit", d.Visit, nil, map[string]any{"decided": string(d.Decided), "pays": d.Pays, "on": d.On})
	})
}

// UndecideExtra takes the decision back; the extra visit waits for one again.
func (db *DB) UndecideExtra(ctx context.Context, by, visitID string) error {
	if !ValidID(visitID) {
		return errNoVisit()
	}
	return db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		tag, err := tx.Exec(ctx, `UPDATE extra_visit SET withdrawn_at = $2 WHERE visit = $1 AND withdrawn_at IS NULL`, visitID, tx.Now)
		if err != nil {
			return err
		}
		if tag.RowsAffected() == 0 {
			return errNoVisit()
		}
		return Audit(ctx, tx, by, "took back", "extra visit", visitID, nil, nil)
	})
}

// AgreedExtras lists the extra visits that are agreed and not made yet, the
// next first.
func (db *DB) AgreedExtras(ctx context.Context) (list []counter.Extra, err error) {
	err = db.Snapshot(ctx, func(ctx context.Context, tx Tx) error {
		b := &pgx.Batch{}
		queueAgreed(b, &list)
		return tx.SendBatch(ctx, b).Close()
	})
	return list, err
}

func queueAgreed(b *pgx.Batch, to *[]counter.Extra) {
	const sql = `SELECT tank.id, tank.name, coalesce(customer.name, ''), x.visit, x.on_day, x.agreed_with, x.pays, x.words, coalesce(staff.name, ''), x.at
		FROM extra_visit x JOIN tank ON tank.id = x.tank
		LEFT JOIN LATERAL (SELECT site FROM tank_site s WHERE s.tank = tank.id ORDER BY since DESC LIMIT 1) here ON true
		LEFT JOIN site ON site.id = here.site LEFT JOIN customer ON customer.id = site.customer LEFT JOIN staff ON staff.id = x.staff
		WHERE` + notMadeYet + ` ORDER BY x.on_day, x.at, x.id LIMIT $1`
	b.Queue(sql, counterRows).Query(func(rows pgx.Rows) error {
		for rows.Next() {
			var e counter.Extra
			if err := rows.Scan(&e.Tank, &e.TankName, &e.CustomerName, &e.Visit, maybeDay(&e.On), &e.With, &e.Pays, &e.Words, &e.By, &e.At); err != nil {
				return err
			}
			*to = append(*to, e)
		}
		return rows.Err()
	})
}

// queueCalls reads the calls for help that wait, the most pressing first.
func queueCalls(b *pgx.Batch, c *counter.Counter) {
	const sql = `SELECT ` + callColumns + callFrom + ` WHERE` + callWaits + ` ORDER BY array_position(ARRAY['now', 'today', 'tomorrow'], c.going), c.at LIMIT $1`
	b.Queue(sql, counterRows).Query(func(rows pgx.Rows) error {
		for rows.Next() {
			call, err := scanCall(rows)
			if err != nil {
				return err
			}
			c.Calls = append(c.Calls, call)
		}
		return rows.Err()
	})
}
