package store

import (
	"context"
	"errors"
	"time"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/due"
	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
)

func errNoWeek() error { return fault.New(fault.NotFound, "This week has no plan yet.") }

// RoundWeek reads a week: the plan being worked on and the one handed out. A
// week without a plan comes back with its Monday alone.
func (db *DB) RoundWeek(ctx context.Context, monday q.Date) (w due.Week, err error) {
	err = db.Snapshot(ctx, func(ctx context.Context, tx Tx) error {
		w, err = roundWeek(ctx, tx, monday)
		return err
	})
	return w, err
}

func roundWeek(ctx context.Context, tx Tx, monday q.Date) (due.Week, error) {
	w := due.Week{Monday: monday}
	const sql = `SELECT w.draft::text, coalesce(w.handed::text, ''), coalesce(staff.name, ''), w.handed_at,
		coalesce((SELECT p.id::text FROM round_plan p WHERE p.base = w.draft ORDER BY p.made_at DESC, p.id DESC LIMIT 1), '')
		FROM round_week w LEFT JOIN staff ON staff.id = w.handed_by WHERE w.monday = $1`
	var draft, handed string
	err := tx.QueryRow(ctx, sql, monday.Midnight()).Scan(&draft, &handed, &w.HandedBy, maybeTime(&w.HandedAt), &w.Newer)
	if errors.Is(err, pgx.ErrNoRows) {
		return w, nil
	}
	if err != nil {
		return w, err
	}
	w.Planned = true
	if w.Draft, err = readBook(ctx, tx, draft); err != nil {
		return w, err
	}
	switch handed {
	case "":
	case draft:
		w.Handed = q.Some(w.Draft)
	default:
		b, err := readBook(ctx, tx, handed)
		if err != nil {
			return w, err
		}
		w.Handed = q.Some(b)
	}
	return w, nil
}

// HandedWeek reads what is handed out for the week that begins on monday. Where
// nothing is, the book's ID is empty.
func (db *DB) HandedWeek(ctx context.Context, monday q.Date) (b due.Book, err error) {
	err = db.Snapshot(ctx, func(ctx context.Context, tx Tx) error {
		var id string
		err := tx.QueryRow(ctx, `SELECT handed::text FROM round_week WHERE monday = $1 AND handed IS NOT NULL`, monday.Midnight()).Scan(&id)
		if errors.Is(err, pgx.ErrNoRows) {
			return nil
		}
		if err != nil {
			return err
		}
		b, err = readBook(ctx, tx, id)
		return err
	})
	return b, err
}

func readBook(ctx context.Context, tx Tx, id string) (b due.Book, err error) {
	const head = `SELECT p.id, coalesce(p.base::text, ''), p.monday, p.what, p.how, p.gave_up, coalesce(staff.name, ''), p.made_at FROM round_plan p LEFT JOIN staff ON staff.id = p.made_by WHERE p.id = $1`
	if err := tx.QueryRow(ctx, head, id).Scan(&b.ID, &b.Base, day(&b.Monday), &b.What, &b.How, &b.GaveUp, &b.By, &b.At); err != nil {
		return b, err
	}
	rows, err := tx.Query(ctx, `SELECT day, staff, leave_second, back_second, home_seconds, break_second FROM round_route r JOIN staff ON staff.id = r.staff
		WHERE plan = $1 ORDER BY day, lower(staff.name), r.staff`, id)
	b.Routes, err = collect(rows, err, func(row pgx.Row) (r due.Route, err error) {
		err = row.Scan(day(&r.Day), &r.Person, &r.Leave, &r.Back, &r.Home, maybeInt(&r.Break))
		return r, asFault(err)
	})
	if err != nil {
		return b, err
	}
	rows, err = tx.Query(ctx, `SELECT day, staff, job, site, tanks::text[], coalesce(with_staff::text, ''), drive_seconds, arrive_second, begin_second, end_second, kept
		FROM round_stop WHERE plan = $1 ORDER BY begin_second, job`, id)
	if err != nil {
		return b, err
	}
	var on q.Date
	var person string
	var p due.Placed
	if _, err := pgx.ForEachRow(rows, []any{day(&on), &person, &p.Job, &p.Site, &p.Tanks, &p.With, &p.Drive, &p.Arrive, &p.Begin, &p.End, &p.Kept}, func() error {
		if r := b.Route(person, on); r != nil {
			r.Stops = append(r.Stops, p)
		}
		p.Tanks = nil
		return nil
	}); err != nil {
		return b, err
	}
	rows, err = tx.Query(ctx, `SELECT job, site, tanks::text[], reason, lets_in, set_aside FROM round_left WHERE plan = $1 ORDER BY set_aside, job`, id)
	b.Left, err = collect(rows, err, func(row pgx.Row) (l due.Left, err error) {
		err = row.Scan(&l.Job, &l.Site, &l.Tanks, &l.Reason, &l.LetsIn, &l.Aside)
		return l, asFault(err)
	})
	return b, err
}

// KeepBook keeps a plan that a hand has changed as the week's draft and returns
// its id. b.Base is the draft that it was made from: where that is not the
// draft any more, or the planner is at work on the week, the answer is a
// Conflict and nothing is kept.
func (db *DB) KeepBook(ctx context.Context, by string, b due.Book) (id string, err error) {
	err = db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		if err := notWhilePlanning(ctx, tx, b.Monday); err != nil {
			return err
		}
		id, err = keepBook(ctx, tx, by, b)
		return err
	})
	return id, err
}

func editedWeek() error {
	return &fault.Error{Kind: fault.Conflict, Code: "edited-meanwhile", Msg: "The week was changed by somebody else meanwhile. Nothing of yours was done yet; look at it as it is now."}
}

// lockWeek locks a week and checks that its draft is the one that was seen;
// where there is none, seen must be empty.
func lockWeek(ctx context.Context, tx Tx, monday q.Date, seen string) error {
	if _, err := tx.Exec(ctx, `SELECT pg_advisory_xact_lock(hashtext('round week ' || $1::text))`, monday.String()); err != nil {
		return err
	}
	var draft string
	err := tx.QueryRow(ctx, `SELECT draft::text FROM round_week WHERE monday = $1 FOR UPDATE`, monday.Midnight()).Scan(&draft)
	if err != nil && !errors.Is(err, pgx.ErrNoRows) {
		return err
	}
	if draft != seen {
		return editedWeek()
	}
	return nil
}

func keepBook(ctx context.Context, tx Tx, by string, b due.Book) (string, error) {
	if err := lockWeek(ctx, tx, b.Monday, b.Base); err != nil {
		return "", err
	}
	id, err := writeBook(ctx, tx, by, b, tx.Now)
	if err != nil {
		return "", err
	}
	const draft = `INSERT INTO round_week (monday, draft) VALUES ($1, $2) ON CONFLICT (monday) DO UPDATE SET draft = EXCLUDED.draft`
	if _, err := tx.Exec(ctx, draft, b.Monday.Midnight(), id); err != nil {
		return "", err
	}
	return id, Audit(ctx, tx, by, "planned", "week", b.Monday.String(), nil, map[string]any{"plan": id, "what": b.What})
}

func writeBook(ctx context.Context, tx Tx, by string, b due.Book, at time.Time) (string, error) {
	id := NewID()
	batch := &pgx.Batch{}
	gave := b.GaveUp
	if gave == nil {
		gave = []string{}
	}
	batch.Queue(`INSERT INTO round_plan (id, monday, base, what, how, gave_up, made_by, made_at) VALUES ($1, $2, $3, $4, $5, $6, $7, $8)`,
		id, b.Monday.Midnight(), nullText(b.Base), b.What, b.How, gave, nullText(by), at)
	for _, r := range b.Routes {
		batch.Queue(`INSERT INTO round_route (plan, staff, day, leave_second, back_second, home_seconds, break_second) VALUES ($1, $2, $3, $4, $5, $6, $7)`,
			id, r.Person, r.Day.Midnight(), r.Leave, r.Back, r.Home, null(r.Break))
		for _, p := range r.Stops {
			batch.Queue(`INSERT INTO round_stop (plan, job, site, tanks, staff, with_staff, day, drive_seconds, arrive_second, begin_second, end_second, kept)
				VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12)`,
				id, p.Job, p.Site, p.Tanks, r.Person, nullText(p.With), r.Day.Midnight(), p.Drive, p.Arrive, p.Begin, p.End, p.Kept)
		}
	}
	for _, l := range b.Left {
		batch.Queue(`INSERT INTO round_left (plan, job, site, tanks, reason, lets_in, set_aside) VALUES ($1, $2, $3, $4, $5, $6, $7)`, id, l.Job, l.Site, l.Tanks, l.Reason, l.LetsIn, l.Aside)
	}
	return id, asFault(tx.SendBatch(ctx, batch).Close())
}

// UndoWeek goes back to the plan that the draft was made from. seen is the
// draft on the page.
func (db *DB) UndoWeek(ctx context.Context, by string, monday q.Date, seen string) error {
	return db.turnWeek(ctx, by, monday, seen, "undid", `SELECT base::text FROM round_plan WHERE id = $1 AND base IS NOT NULL`, "There is nothing before this to go back to.")
}

// RedoWeek goes forward again to the newest plan that was made from the draft.
func (db *DB) RedoWeek(ctx context.Context, by string, monday q.Date, seen string) error {
	return db.turnWeek(ctx, by, monday, seen, "did again", `SELECT id::text FROM round_plan WHERE base = $1 ORDER BY made_at DESC, id DESC LIMIT 1`, "There is nothing to do again.")
}

func (db *DB) turnWeek(ctx context.Context, by string, monday q.Date, seen, verb, find, none string) error {
	if !ValidID(seen) {
		return errNoWeek()
	}
	return db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		if err := notWhilePlanning(ctx, tx, monday); err != nil {
			return err
		}
		if err := lockWeek(ctx, tx, monday, seen); err != nil {
			return err
		}
		var to string
		err := tx.QueryRow(ctx, find, seen).Scan(&to)
		if errors.Is(err, pgx.ErrNoRows) {
			return fault.New(fault.Conflict, "%s", none)
		}
		if err != nil {
			return err
		}
		if _, err := tx.Exec(ctx, `UPDATE round_week SET draft = $2 WHERE monday = $1`, monday.Midnight(), to); err != nil {
			return err
		}
		return Audit(ctx, tx, by, verb, "week", monday.String(), nil, map[string]any{"plan": to})
	})
}

// HandOut makes the draft the plan that people go by. seen is the draft on the
// page.
func (db *DB) HandOut(ctx context.Context, by string, monday q.Date, seen string) error {
	if !ValidID(seen) {
		return errNoWeek()
	}
	return db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		if err := lockWeek(ctx, tx, monday, seen); err != nil {
			return err
		}
		if _, err := tx.Exec(ctx, `UPDATE round_week SET handed = draft, handed_by = $2, handed_at = $3 WHERE monday = $1`, monday.Midnight(), nullText(by), tx.Now); err != nil {
			return err
		}
		return Audit(ctx, tx, by, "handed out", "week", monday.String(), nil, map[string]any{"plan": seen})
	})
}
