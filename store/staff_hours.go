package store

import (
	"context"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/customer"
	"scaperound/domain/due"
	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
)

const workingColumns = `w.staff, w.break_minutes, coalesce(w.break_from, 0), coalesce(w.break_to, 0), w.start_lat, w.start_lon, w.end_lat, w.end_lon, w.skills, coalesce(w.van::text, ''), w.row_version`

func scanWorking(row pgx.Row) (w due.Working, err error) {
	var startLat, startLon, endLat, endLon q.Opt[float64]
	err = row.Scan(&w.Person, &w.Break.Minutes, &w.Break.From, &w.Break.To, maybe(&startLat), maybe(&startLon), maybe(&endLat), maybe(&endLon), &w.Skills, &w.Van, &w.Version)
	w.Start = q.Opt[customer.Position]{V: customer.Position{Lat: startLat.V, Lon: startLon.V}, OK: startLat.OK}
	w.End = q.Opt[customer.Position]{V: customer.Position{Lat: endLat.V, Lon: endLon.V}, OK: endLat.OK}
	return w, asFault(err)
}

// Working returns how somebody goes on rounds. Who does not comes back with
// their id alone.
func (db *DB) Working(ctx context.Context, person string) (w due.Working, err error) {
	if !ValidID(person) {
		return w, noSuchPerson()
	}
	err = db.Snapshot(ctx, func(ctx context.Context, tx Tx) error {
		var there bool
		if err := tx.QueryRow(ctx, `SELECT EXISTS (SELECT FROM staff WHERE id = $1)`, person).Scan(&there); err != nil {
			return err
		}
		if !there {
			return noSuchPerson()
		}
		all, err := workings(ctx, tx, person)
		if err != nil {
			return err
		}
		if len(all) == 1 {
			w = all[0]
		} else {
			w = due.Working{Person: person}
		}
		return nil
	})
	return w, err
}

// workings lists how people go on rounds; all of them where person is empty.
func workings(ctx context.Context, tx Tx, person string) ([]due.Working, error) {
	rows, err := tx.Query(ctx, `SELECT `+workingColumns+` FROM staff_round w JOIN staff ON staff.id = w.staff
		WHERE ($1::uuid IS NULL AND staff.deactivated_at IS NULL OR w.staff = $1) ORDER BY lower(staff.name), staff.id`, nullText(person))
	all, err := collect(rows, err, scanWorking)
	if err != nil {
		return nil, err
	}
	at := map[string]*due.Working{}
	for i := range all {
		at[all[i].Person] = &all[i]
	}
	rows, err = tx.Query(ctx, `SELECT staff, weekday, from_minute, to_minute FROM staff_hours WHERE $1::uuid IS NULL OR staff = $1 ORDER BY staff, weekday`, nullText(person))
	if err != nil {
		return nil, err
	}
	var of string
	var h customer.Window
	_, err = pgx.ForEachRow(rows, []any{&of, &h.Weekday, &h.From, &h.To}, func() error {
		if w := at[of]; w != nil {
			w.Hours = append(w.Hours, h)
		}
		return nil
	})
	return all, err
}

// KeepWorking writes how somebody goes on rounds over the version given; a
// Conflict where somebody was faster.
func (db *DB) KeepWorking(ctx context.Context, by string, w due.Working) error {
	return db.Tx(ctx, func(ctx context.Context, tx Tx) error { return KeepWorking(ctx, tx, by, w) })
}

// KeepWorking is DB.KeepWorking within a transaction.
func KeepWorking(ctx context.Context, tx Tx, by string, w due.Working) error {
	if err := lockRow(ctx, tx, "staff", w.Person, noSuchPerson); err != nil {
		return err
	}
	if w.Van != "" {
		if !ValidID(w.Van) {
			return errNoVan()
		}
		var there bool
		if err := tx.QueryRow(ctx, `SELECT EXISTS (SELECT FROM van WHERE id = $1)`, w.Van).Scan(&there); err != nil || !there {
			if err == nil {
				err = errNoVan()
			}
			return err
		}
	}
	was, err := workings(ctx, tx, w.Person)
	if err != nil {
		return err
	}
	old := due.Working{}
	if len(was) == 1 {
		old = was[0]
	}
	if old.Version != w.Version {
		return changedMeanwhile("How this person works was")
	}
	lat, lon := place(w.Start)
	endLat, endLon := place(w.End)
	var from, to any
	if w.Break.Minutes > 0 {
		from, to = w.Break.From, w.Break.To
	}
	const upsert = `
		INSERT INTO staff_round (staff, break_minutes, break_from, break_to, start_lat, start_lon, end_lat, end_lon, skills, van, updated_at)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11)
		ON CONFLICT (staff) DO UPDATE SET break_minutes = EXCLUDED.break_minutes, break_from = EXCLUDED.break_from, break_to = EXCLUDED.break_to,
			start_lat = EXCLUDED.start_lat, start_lon = EXCLUDED.start_lon, end_lat = EXCLUDED.end_lat, end_lon = EXCLUDED.end_lon,
			skills = EXCLUDED.skills, van = EXCLUDED.van, updated_at = EXCLUDED.updated_at, row_version = staff_round.row_version + 1`
	skills := w.Skills
	if skills == nil {
		skills = []string{}
	}
	if _, err := tx.Exec(ctx, upsert, w.Person, w.Break.Minutes, from, to, lat, lon, endLat, endLon, skills, nullText(w.Van), tx.Now); err != nil {
		return err
	}
	if _, err := tx.Exec(ctx, `DELETE FROM staff_hours WHERE staff = $1`, w.Person); err != nil {
		return err
	}
	for _, h := range w.Hours {
		if _, err := tx.Exec(ctx, `INSERT INTO staff_hours (staff, weekday, from_minute, to_minute) VALUES ($1, $2, $3, $4)`, w.Person, h.Weekday, h.From, h.To); err != nil {
			return err
		}
	}
	return Audit(ctx, tx, by, "changed", "working hours", w.Person, old.Typed(), w.Typed())
}

// place is the two columns of a position that may not be known.
func place(p q.Opt[customer.Position]) (lat, lon any) {
	if !p.OK {
		return nil, nil
	}
	return p.V.Lat, p.V.Lon
}

const leaveColumns = `l.id, l.staff, l.from_day, l.to_day, l.why`

func scanLeave(row pgx.Row) (l due.Leave, err error) {
	err = row.Scan(&l.ID, &l.Person, day(&l.From), day(&l.To), &l.Why)
	return l, asFault(err)
}

func errNoLeave() error { return fault.New(fault.NotFound, "There is no such leave.") }

// Leaves lists the leave of a person that ends on the day or later, the next
// first; everybody's where person is empty.
func (db *DB) Leaves(ctx context.Context, person string, from q.Date) ([]due.Leave, error) {
	if person != "" && !ValidID(person) {
		return nil, noSuchPerson()
	}
	return leaves(ctx, db.pool, person, from)
}

func leaves(ctx context.Context, from Querier, person string, since q.Date) ([]due.Leave, error) {
	rows, err := from.Query(ctx, `SELECT `+leaveColumns+` FROM staff_leave l WHERE ($1::uuid IS NULL OR l.staff = $1) AND l.to_day >= $2 AND l.withdrawn_at IS NULL
		ORDER BY l.from_day, l.id`, nullText(person), since.Midnight())
	return collect(rows, err, scanLeave)
}

// AddLeave keeps a leave of l.Person and returns its id.
func (db *DB) AddLeave(ctx context.Context, by string, l due.Leave) (id string, err error) {
	err = db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		id, err = AddLeave(ctx, tx, by, l)
		return err
	})
	return id, err
}

// AddLeave is DB.AddLeave within a transaction.
func AddLeave(ctx context.Context, tx Tx, by string, l due.Leave) (string, error) {
	if err := lockRow(ctx, tx, "staff", l.Person, noSuchPerson); err != nil {
		return "", err
	}
	id := NewID()
	const sql = `INSERT INTO staff_leave (id, staff, from_day, to_day, why, made_by, made_at) VALUES ($1, $2, $3, $4, $5, $6, $7)`
	if _, err := tx.Exec(ctx, sql, id, l.Person, l.From.Midnight(), l.To.Midnight(), l.Why, nullText(by), tx.Now); err != nil {
		return "", err
	}
	return id, Audit(ctx, tx, by, "added", "leave", id, nil, map[string]any{"staff": l.Person, "from": l.From.String(), "to": l.To.String(), "why": l.Why})
}

// WithdrawLeave calls a leave off, or lets it count again, and returns it.
func (db *DB) WithdrawLeave(ctx context.Context, by, id string, off bool) (l due.Leave, err error) {
	if !ValidID(id) {
		return l, errNoLeave()
	}
	err = db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		l, err = scanLeave(tx.QueryRow(ctx, `UPDATE staff_leave l SET withdrawn_at = CASE WHEN $2 THEN $3::timestamptz END WHERE id = $1 RETURNING `+leaveColumns, id, off, tx.Now))
		if fault.Is(err, fault.NotFound) {
			return errNoLeave()
		}
		if err != nil {
			return err
		}
		return Audit(ctx, tx, by, map[bool]string{true: "called off", false: "brought back"}[off], "leave", id, nil, nil)
	})
	return l, err
}

// SkillsAsked lists the skills that the newest agreements ask for.
func (db *DB) SkillsAsked(ctx context.Context) ([]string, error) {
	const sql = `SELECT DISTINCT lower(skill) FROM (SELECT DISTINCT ON (tank) skill FROM agreement ORDER BY tank, since DESC) a WHERE skill <> '' ORDER BY 1`
	rows, err := db.pool.Query(ctx, sql)
	if err != nil {
		return nil, asFault(err)
	}
	list, err := pgx.CollectRows(rows, pgx.RowTo[string])
	return list, asFault(err)
}
