package store

import (
	"context"
	"errors"
	"strings"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/care"
	"scaperound/domain/customer"
	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
	"scaperound/domain/triage"
)

const callColumns = `c.id, c.tank, t.name, c.at, coalesce(s.name, ''), c.guide, c.replies, c.words, c.read_aloud, c.advised, c.going, coalesce(c.goes::text, ''), coalesce(g.name, ''),
	coalesce(c.problem::text, ''), c.settled_at, coalesce(e.name, '')`

const callFrom = ` FROM trouble_call c JOIN tank t ON t.id = c.tank LEFT JOIN staff s ON s.id = c.staff LEFT JOIN staff g ON g.id = c.goes LEFT JOIN staff e ON e.id = c.settled_by`

// callWaits is true of a call on which somebody was to go and nobody has: not
// settled by hand, and no visit since.
const callWaits = ` c.settled_at IS NULL AND c.going IN ('now', 'today', 'tomorrow')
	AND NOT EXISTS (SELECT FROM visit v WHERE v.tank = c.tank AND v.withdrawn_at IS NULL AND v.kind <> 'by_phone' AND v.performed_at > c.at)`

func scanCall(row pgx.Row) (c triage.Call, err error) {
	var replies []string
	var read []int16
	err = row.Scan(&c.ID, &c.Tank, &c.TankName, &c.At, &c.By, &c.Guide, &replies, &c.Words, &read, &c.Advised, &c.Going, &c.Goes, &c.GoesName,
		&c.Problem, maybeTime(&c.Settled), &c.SettledBy)
	c.Replies = map[string]triage.Reply{}
	for _, r := range replies {
		if ask, reply, ok := strings.Cut(r, "="); ok {
			c.Replies[ask] = triage.Reply(reply)
		}
	}
	for _, i := range read {
		c.Read = append(c.Read, int(i))
	}
	return c, asFault(err)
}

func errNoCall() error { return fault.New(fault.NotFound, "There is no such call.") }

// TroubleCall returns one call for help.
func (db *DB) TroubleCall(ctx context.Context, id string) (triage.Call, error) {
	if !ValidID(id) {
		return triage.Call{}, errNoCall()
	}
	c, err := scanCall(db.pool.QueryRow(ctx, `SELECT `+callColumns+callFrom+` WHERE c.id = $1`, id))
	if fault.Is(err, fault.NotFound) {
		return c, errNoCall()
	}
	return c, err
}

// TroubleCalls lists a tank's calls for help, the newest first.
func (db *DB) TroubleCalls(ctx context.Context, tankID string, limit int) ([]triage.Call, error) {
	if !ValidID(tankID) {
		return nil, errNoTank()
	}
	rows, err := db.pool.Query(ctx, `SELECT `+callColumns+callFrom+` WHERE c.tank = $1 ORDER BY c.at DESC, c.id DESC LIMIT $2`, tankID, limit)
	return collect(rows, err, scanCall)
}

// WaitingCalls lists a tank's calls on which somebody was to go and nobody has.
func (db *DB) WaitingCalls(ctx context.Context, tankID string) ([]triage.Call, error) {
	if !ValidID(tankID) {
		return nil, errNoTank()
	}
	rows, err := db.pool.Query(ctx, `SELECT `+callColumns+callFrom+` WHERE c.tank = $1 AND`+callWaits+` ORDER BY c.at DESC, c.id DESC`, tankID)
	return collect(rows, err, scanCall)
}

// KeepCall keeps a call for help with a note of what was said to its customer
// and, where it asks for one, an open problem of the tank. It returns the call's id.
func (db *DB) KeepCall(ctx context.Context, by string, c triage.Call) (id string, err error) {
	guide, ok := triage.GuideOf(c.Guide)
	if !ok {
		return "", errNoCall()
	}
	id = NewID()
	err = db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		if err := lockTank(ctx, tx, c.Tank); err != nil {
			return err
		}
		name := `SELECT t.name, coalesce((SELECT name FROM staff WHERE id = $2), '') FROM tank t WHERE t.id = $1`
		if err := tx.QueryRow(ctx, name, c.Tank, nullText(c.Goes)).Scan(&c.TankName, &c.GoesName); err != nil {
			return err
		}
		home, err := homeOf(ctx, tx, c.Tank)
		if err != nil {
			return err
		}
		if err := Audit(ctx, tx, by, "took", "call for help", id, nil, map[string]any{"tank": c.Tank, "guide": c.Guide, "going": string(c.Going)}); err != nil {
			return err
		}
		note := ""
		if home.customer != "" {
			if note, err = AddContactNote(ctx, tx, by, customer.ContactNote{Customer: home.customer, TheySaid: c.TheySaid(), WeSaid: c.WeSaid()}); err != nil {
				return err
			}
		}
		if c.OpenProblem {
			if c.Problem, err = openProblem(ctx, tx, by, tank.Problem{Tank: c.Tank, Title: guide.Title, Next: c.Going.Title()}); err != nil {
				return err
			}
		}
		replies, read := []string{}, []int16{}
		for _, ask := range guide.Ask {
			if r := c.Replies[ask.ID]; r != "" {
				replies = append(replies, ask.ID+"="+string(r))
			}
		}
		for _, i := range c.Read {
			read = append(read, int16(i))
		}
		const sql = `INSERT INTO trouble_call (id, tank, at, staff, guide, replies, words, read_aloud, advised, going, goes, contact_note, problem)
			VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13)`
		_, err = tx.Exec(ctx, sql, id, c.Tank, tx.Now, nullText(by), c.Guide, replies, c.Words, read, c.Advised, c.Going, nullText(c.Goes), nullText(note), nullText(c.Problem))
		return err
	})
	return id, err
}

// SettleCall says that nobody needs to go any more, or takes that back.
func (db *DB) SettleCall(ctx context.Context, by, id string, settled bool) error {
	if !ValidID(id) {
		return errNoCall()
	}
	return db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		const sql = `UPDATE trouble_call SET settled_at = CASE WHEN $2 THEN $3::timestamptz END, settled_by = CASE WHEN $2 THEN $4::uuid END WHERE id = $1`
		tag, err := tx.Exec(ctx, sql, id, settled, tx.Now, nullText(by))
		if err != nil {
			return err
		}
		if tag.RowsAffected() == 0 {
			return errNoCall()
		}
		return Audit(ctx, tx, by, map[bool]string{true: "settled", false: "opened again"}[settled], "call for help", id, nil, nil)
	})
}

// home is where a tank stands now.
type home struct{ site, customer string }

func homeOf(ctx context.Context, tx Tx, tankID string) (h home, err error) {
	err = tx.QueryRow(ctx, `SELECT si.id, si.customer FROM tank_site ts JOIN site si ON si.id = ts.site WHERE ts.tank = $1 AND ts.since <= $2 ORDER BY ts.since DESC LIMIT 1`,
		tankID, tx.Now).Scan(&h.site, &h.customer)
	if errors.Is(err, pgx.ErrNoRows) {
		return home{}, nil
	}
	return h, err
}

// KeepStop keeps that a filter stood still and puts on the tank's list what
// follows from it. A task that is open already stays as it is.
func (db *DB) KeepStop(ctx context.Context, by string, s triage.Stop, today q.Date) (id string, err error) {
	id = NewID()
	err = db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		if err := lockTank(ctx, tx, s.Tank); err != nil {
			return err
		}
		const sql = `INSERT INTO filter_stop (id, tank, at, staff, power_cut, stood, timers, words) VALUES ($1, $2, $3, $4, $5, $6, $7, $8)`
		if _, err := tx.Exec(ctx, sql, id, s.Tank, tx.Now, nullText(by), s.PowerCut, s.Stood, s.Timers, s.Words); err != nil {
			return err
		}
		if err := Audit(ctx, tx, by, "recorded", "filter stop", id, nil, map[string]any{"tank": s.Tank, "stood": string(s.Stood), "powerCut": s.PowerCut}); err != nil {
			return err
		}
		for _, t := range s.Tasks(today) {
			if err := askFor(ctx, tx, by, s.Tank, t); err != nil {
				return err
			}
		}
		return nil
	})
	return id, err
}

// FilterStops lists when a tank's filter stood still, the newest first.
func (db *DB) FilterStops(ctx context.Context, tankID string, limit int) ([]triage.StopLine, error) {
	if !ValidID(tankID) {
		return nil, errNoTank()
	}
	rows, err := db.pool.Query(ctx, `SELECT f.at, coalesce(s.name, ''), f.power_cut, f.stood, f.timers, f.words
		FROM filter_stop f LEFT JOIN staff s ON s.id = f.staff WHERE f.tank = $1 ORDER BY f.at DESC, f.id DESC LIMIT $2`, tankID, limit)
	return collect(rows, err, func(row pgx.Row) (l triage.StopLine, err error) {
		err = row.Scan(&l.At, &l.By, &l.PowerCut, &l.Stood, &l.Timers, &l.Words)
		return l, asFault(err)
	})
}

// askFor opens a task that a person asked for and no judgement did. It stays
// until a person answers it.
func askFor(ctx context.Context, tx Tx, by, tankID string, t care.Task) error {
	row := taskRow{Task: t, tank: tankID, openedAt: tx.Now, state: "open"}
	row.ID = NewID()
	tag, err := tx.Exec(ctx, `INSERT INTO task (`+taskColumns+`)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15, $16, $17, $18, $19, $20)
		ON CONFLICT (tank, action, subject) WHERE state = 'open' DO NOTHING`, row.values()...)
	if err != nil || tag.RowsAffected() == 0 {
		return err
	}
	return Audit(ctx, tx, by, "asked for", "task", row.ID, nil, map[string]any{"tank": tankID, "action": t.Action, "subject": t.Subject})
}

// Deaths lists what was written down of animals that died, the newest first.
func (db *DB) Deaths(ctx context.Context, tankID string, limit int) ([]triage.Death, error) {
	if !ValidID(tankID) {
		return nil, errNoTank()
	}
	rows, err := db.pool.Query(ctx, `SELECT d.id, d.tank, d.seen_at, d.recorded_at, coalesce(s.name, ''), d.grp, d.species, d.n, d.gills, d.skin, d.posture, d.before, d.words, d.water_kept, d.body, d.cause
		FROM death_record d LEFT JOIN staff s ON s.id = d.staff WHERE d.tank = $1 ORDER BY d.seen_at DESC, d.id DESC LIMIT $2`, tankID, limit)
	return collect(rows, err, func(row pgx.Row) (d triage.Death, err error) {
		err = row.Scan(&d.ID, &d.Tank, &d.Seen, &d.RecordedAt, &d.By, &d.Group, &d.Species, &d.N, &d.Gills, &d.Skin, &d.Posture, &d.Before, &d.Words, &d.WaterKept, &d.Body, &d.Cause)
		return d, asFault(err)
	})
}

// RecordDeath keeps what was seen of animals that died, and takes them out of
// the stock as far as they were in it; day is the shop's day on which they were
// found. It returns the record's id.
func (db *DB) RecordDeath(ctx context.Context, by string, d triage.Death, day q.Date) (id string, err error) {
	id = NewID()
	err = db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		if err := lockTank(ctx, tx, d.Tank); err != nil {
			return err
		}
		if err := Audit(ctx, tx, by, "recorded", "death", id, nil, map[string]any{"tank": d.Tank, "group": d.Group, "species": d.Species, "n": d.N}); err != nil {
			return err
		}
		setup, _, _, err := TankAt(ctx, tx, d.Tank, tx.Now)
		if err != nil {
			return err
		}
		movement := ""
		m := tank.Movement{Day: day, Living: tank.Animal, Group: d.Group, Species: d.Species, N: -d.N, Reason: tank.Died, Note: "Written down as a death."}
		if _, possible := setup.Left(m); possible {
			if movement, err = AddMovement(ctx, tx, by, d.Tank, m); err != nil {
				return err
			}
		}
		const sql = `INSERT INTO death_record (id, tank, seen_at, recorded_at, staff, grp, species, n, gills, skin, posture, before, words, water_kept, body, cause, movement)
			VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15, $16, $17)`
		_, err = tx.Exec(ctx, sql, id, d.Tank, d.Seen, tx.Now, nullText(by), d.Group, d.Species, d.N, d.Gills, d.Skin, d.Posture, orNone(d.Before), d.Words, d.WaterKept, d.Body, d.Cause, nullText(movement))
		return err
	})
	return id, err
}

// OwnerPhone is whom to ring: the number of the owner who is there longest, or
// the shop's; empty where neither has one.
func (db *DB) OwnerPhone(ctx context.Context) (phone string, err error) {
	err = db.pool.QueryRow(ctx, `SELECT coalesce((SELECT phone FROM staff WHERE role = 'owner' AND deactivated_at IS NULL AND phone <> '' ORDER BY created_at LIMIT 1), (SELECT phone FROM shop), '')`).Scan(&phone)
	return phone, asFault(err)
}
