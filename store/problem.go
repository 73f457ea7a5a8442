package store

import (
	"context"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/fault"
	"scaperound/domain/tank"
)

const problemSelect = `SELECT p.id, p.tank, k.name, p.title, p.belief, p.next, p.told, p.opened_at, coalesce(o.name, ''), p.closed_at, p.row_version
	FROM problem p JOIN tank k ON k.id = p.tank LEFT JOIN staff o ON o.id = p.opened_by`

const trySelect = `SELECT t.problem, t.id, t.at, coalesce(s.name, ''), t.tried, t.result
	FROM problem_try t JOIN problem p ON p.id = t.problem LEFT JOIN staff s ON s.id = t.staff`

func scanProblem(row pgx.Row) (p tank.Problem, err error) {
	err = row.Scan(&p.ID, &p.Tank, &p.TankName, &p.Title, &p.Belief, &p.Next, &p.Told, &p.OpenedAt, &p.OpenedBy, maybeTime(&p.ClosedAt), &p.Version)
	return p, asFault(err)
}

// TankProblems lists a tank's problems with what was tried: the open ones first,
// then the newest.
func (db *DB) TankProblems(ctx context.Context, tankID string) ([]tank.Problem, error) {
	if !ValidID(tankID) {
		return nil, errNoTank()
	}
	rows, err := db.pool.Query(ctx, problemSelect+` WHERE p.tank = $1 ORDER BY p.closed_at IS NOT NULL, p.opened_at DESC, p.id DESC`, tankID)
	list, err := collect(rows, err, scanProblem)
	if err != nil {
		return nil, err
	}
	if len(list) == 0 {
		var there bool
		if err := db.pool.QueryRow(ctx, `SELECT EXISTS (SELECT FROM tank WHERE id = $1)`, tankID).Scan(&there); err != nil {
			return nil, asFault(err)
		}
		if !there {
			return nil, errNoTank()
		}
		return nil, nil
	}
	rows, err = db.pool.Query(ctx, trySelect+` WHERE p.tank = $1 ORDER BY t.at DESC, t.id DESC`, tankID)
	return list, addTries(rows, err, list)
}

// addTries hangs each try on its problem.
func addTries(rows pgx.Rows, err error, list []tank.Problem) error {
	at := map[string]int{}
	for i, p := range list {
		at[p.ID] = i
	}
	_, err = collect(rows, err, func(row pgx.Row) (t tank.Try, err error) {
		var problem string
		err = asFault(row.Scan(&problem, &t.ID, &t.At, &t.Staff, &t.Tried, &t.Result))
		if i, ok := at[problem]; ok && err == nil {
			list[i].Tries = append(list[i].Tries, t)
		}
		return t, err
	})
	return err
}

// Problem returns one problem with what was tried; NotFound where there is none.
func (db *DB) Problem(ctx context.Context, id string) (tank.Problem, error) {
	if !ValidID(id) {
		return tank.Problem{}, errNoProblem()
	}
	p, err := scanProblem(db.pool.QueryRow(ctx, problemSelect+` WHERE p.id = $1`, id))
	if err != nil {
		return p, orNoProblem(err)
	}
	rows, err := db.pool.Query(ctx, trySelect+` WHERE p.id = $1 ORDER BY t.at DESC, t.id DESC`, id)
	list := []tank.Problem{p}
	err = addTries(rows, err, list)
	return list[0], err
}

func errNoProblem() error { return fault.New(fault.NotFound, "There is no such problem.") }

func orNoProblem(err error) error {
	if fault.Is(err, fault.NotFound) {
		return errNoProblem()
	}
	return err
}

// OpenProblem opens a problem of p.Tank and returns its id.
func (db *DB) OpenProblem(ctx context.Context, by string, p tank.Problem) (id string, err error) {
	if !ValidID(p.Tank) {
		return "", errNoTank()
	}
	err = db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		id, err = openProblem(ctx, tx, by, p)
		return err
	})
	return id, err
}

func openProblem(ctx context.Context, tx Tx, by string, p tank.Problem) (string, error) {
	id := NewID()
	tag, err := tx.Exec(ctx, `INSERT INTO problem (id, tank, title, belief, next, told, opened_at, opened_by) SELECT $1, id, $3, $4, $5, $6, $7, $8 FROM tank WHERE id = $2`,
		id, p.Tank, p.Title, p.Belief, p.Next, p.Told, tx.Now, nullText(by))
	if err != nil {
		return "", err
	}
	if tag.RowsAffected() == 0 {
		return "", errNoTank()
	}
	return id, Audit(ctx, tx, by, "opened", "problem", id, nil, problemFacts(p))
}

// EditProblem changes what is believed and done next. p.Version is the one that
// was edited: where it is not the newest the answer is a Conflict.
func (db *DB) EditProblem(ctx context.Context, by string, p tank.Problem) error {
	return db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		was, err := lockProblem(ctx, tx, p.ID)
		switch {
		case err != nil:
			return err
		case was.Version != p.Version:
			return editedMeanwhile()
		}
		before, after := differing(problemFacts(was), problemFacts(p))
		if len(after) == 0 {
			return nil
		}
		if _, err := tx.Exec(ctx, `UPDATE problem SET title = $2, belief = $3, next = $4, told = $5, row_version = row_version + 1 WHERE id = $1`, p.ID, p.Title, p.Belief, p.Next, p.Told); err != nil {
			return err
		}
		return Audit(ctx, tx, by, "changed", "problem", p.ID, before, after)
	})
}

// TryProblem notes what was tried about an open problem, and what came of it.
func (db *DB) TryProblem(ctx context.Context, by, id string, t tank.Try) error {
	return db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		was, err := lockProblem(ctx, tx, id)
		if err != nil {
			return err
		}
		if was.ClosedAt.OK {
			return fault.New(fault.Conflict, "This problem is closed; open it again first.")
		}
		const sql = `INSERT INTO problem_try (id, problem, at, staff, tried, result) VALUES ($1, $2, $3, $4, $5, $6)`
		if _, err := tx.Exec(ctx, sql, NewID(), id, tx.Now, nullText(by), t.Tried, t.Result); err != nil {
			return err
		}
		return Audit(ctx, tx, by, "tried", "problem", id, nil, map[string]any{"tried": t.Tried, "result": t.Result})
	})
}

// CloseProblem closes a problem, or opens it again. Doing so twice is no fault.
func (db *DB) CloseProblem(ctx context.Context, by, id string, closed bool) error {
	return db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		was, err := lockProblem(ctx, tx, id)
		if err != nil || was.ClosedAt.OK == closed {
			return err
		}
		const sql = `UPDATE problem SET closed_at = CASE WHEN $2 THEN $3::timestamptz END, row_version = row_version + 1 WHERE id = $1`
		if _, err := tx.Exec(ctx, sql, id, closed, tx.Now); err != nil {
			return err
		}
		return Audit(ctx, tx, by, map[bool]string{true: "closed", false: "opened again"}[closed], "problem", id, nil, nil)
	})
}

func lockProblem(ctx context.Context, tx Tx, id string) (tank.Problem, error) {
	if !ValidID(id) {
		return tank.Problem{}, errNoProblem()
	}
	p, err := scanProblem(tx.QueryRow(ctx, problemSelect+` WHERE p.id = $1 FOR UPDATE OF p`, id))
	return p, orNoProblem(err)
}

func problemFacts(p tank.Problem) map[string]any {
	return map[string]any{"tank": p.Tank, "title": p.Title, "belief": p.Belief, "next": p.Next, "told": p.Told}
}
