package store

import (
	"context"
	"crypto/sha256"
	"errors"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/fault"
	"scaperound/domain/share"
)

const givenColumns = `sheet.id, sheet.tank, sheet.visit, sheet.evaluation, sheet.document, sheet.wire, sheet.given_at, sheet.released_by, staff.name, sheet.replaces::text, NOT evaluation.current`

const givenFrom = ` FROM sheet JOIN staff ON staff.id = sheet.released_by JOIN evaluation ON evaluation.id = sheet.evaluation `

func scanGiven(row pgx.CollectableRow) (g share.Given, err error) {
	err = row.Scan(&g.ID, &g.Tank, &g.Visit, &g.Evaluation, &g.Document, &g.Wire, &g.GivenAt, &g.GivenBy, &g.ReleasedBy, textOr(&g.Replaces), &g.Newer)
	return g, err
}

// GiveSheet freezes a sheet and puts it behind the tank's link. It returns the
// sheet as given. Giving the same document of the same judgement again returns
// the first one. Faults: NotFound, Conflict where the visit was changed or
// judged anew meanwhile, Forbidden where the sheet waits for the owner.
func (db *DB) GiveSheet(ctx context.Context, r share.Release) (g share.Given, err error) {
	if !ValidID(r.Visit) || !ValidID(r.Evaluation) {
		return g, fault.New(fault.NotFound, "There is no such visit.")
	}
	err = db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		g, err = giveSheet(ctx, tx, r)
		return err
	})
	return g, err
}

func giveSheet(ctx context.Context, tx Tx, r share.Release) (share.Given, error) {
	var tankID, current string
	err := tx.QueryRow(ctx, `SELECT v.tank, e.id FROM visit v JOIN evaluation e ON e.revision = v.head AND e.current
		WHERE v.id = $1 AND v.withdrawn_at IS NULL FOR NO KEY UPDATE OF v`, r.Visit).Scan(&tankID, &current)
	switch {
	case errors.Is(err, pgx.ErrNoRows):
		return share.Given{}, fault.New(fault.NotFound, "There is no such visit.")
	case err != nil:
		return share.Given{}, err
	case current != r.Evaluation:
		return share.Given{}, &fault.Error{Kind: fault.Conflict, Code: "judged-anew",
			Msg: "The visit was changed or judged anew since this sheet was drawn. Look at the new sheet, then give that."}
	}
	var held string
	err = tx.QueryRow(ctx, `SELECT reason FROM sheet_hold WHERE evaluation = $1 AND settled_at IS NULL`, r.Evaluation).Scan(&held)
	if err != nil && !errors.Is(err, pgx.ErrNoRows) {
		return share.Given{}, err
	}
	if held != "" && !r.Owner {
		return share.Given{}, fault.New(fault.Forbidden, "This sheet waits for the owner (%s). It stands on the owner’s first page.", held)
	}
	before, err := newestOfVisit(ctx, tx, r.Visit)
	if err != nil {
		return share.Given{}, err
	}
	if before.Evaluation == r.Evaluation && before.Document == r.Document {
		if same, err := samePrints(ctx, tx, before.ID, r.Photos); same || err != nil {
			return before, err
		}
	}
	id := NewID()
	sum := sha256.Sum256([]byte(r.Document))
	const insert = `INSERT INTO sheet (id, evaluation, tank, visit, document, sha256, wire, released_by, given_at, replaces)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10)`
	if _, err := tx.Exec(ctx, insert, id, r.Evaluation, tankID, r.Visit, r.Document, sum[:], r.Wire, r.By, tx.Now, nullText(before.ID)); err != nil {
		return share.Given{}, err
	}
	if err := freezePrints(ctx, tx, id, tankID, r.Photos); err != nil {
		return share.Given{}, err
	}
	if _, err := tx.Exec(ctx, `UPDATE sheet_hold SET settled_at = $2 WHERE evaluation = $1 AND settled_at IS NULL`, r.Evaluation, tx.Now); err != nil {
		return share.Given{}, err
	}
	if r.Phone != "" {
		const phone = `INSERT INTO task (id, tank, action, subject, who, due, opened_by, opened_at, document) VALUES ($1, $2, 'phone_customer', 'sheet', 'owner', 'today', $3, $4, $5)
			ON CONFLICT (tank, action, subject) WHERE state = 'open' DO UPDATE SET document = excluded.document, renewed_by = excluded.opened_by`
		if _, err := tx.Exec(ctx, phone, NewID(), tankID, r.Evaluation, tx.Now, r.Phone); err != nil {
			return share.Given{}, err
		}
	}
	if err := Audit(ctx, tx, r.By, "give", "sheet", id, nil, map[string]any{"visit": r.Visit, "held": held}); err != nil {
		return share.Given{}, err
	}
	return newestOfVisit(ctx, tx, r.Visit)
}

// newestOfVisit is the sheet given last for a visit; a zero Given for none.
func newestOfVisit(ctx context.Context, db Querier, visitID string) (share.Given, error) {
	rows, err := db.Query(ctx, `SELECT `+givenColumns+givenFrom+`WHERE sheet.visit = $1 ORDER BY sheet.given_at DESC, sheet.id DESC LIMIT 1`, visitID)
	if err != nil {
		return share.Given{}, err
	}
	g, err := pgx.CollectExactlyOneRow(rows, scanGiven)
	if errors.Is(err, pgx.ErrNoRows) {
		return share.Given{}, nil
	}
	return g, err
}

// SheetOfVisit returns the sheet given last for a visit; a zero Given for none.
func (db *DB) SheetOfVisit(ctx context.Context, visitID string) (share.Given, error) {
	if !ValidID(visitID) {
		return share.Given{}, nil
	}
	g, err := newestOfVisit(ctx, db.pool, visitID)
	return g, asFault(err)
}

// SheetsOfTank lists the sheets given for a tank, that of the newest visit
// first, and of one visit the newest first. What was given for a visit that was
// since moved to another tank names the wrong one and is read nowhere.
func (db *DB) SheetsOfTank(ctx context.Context, tankID string, limit int) ([]share.Given, error) {
	if !ValidID(tankID) {
		return nil, nil
	}
	const q = `SELECT ` + givenColumns + givenFrom + `JOIN visit ON visit.id = sheet.visit
		WHERE sheet.tank = $1 AND visit.tank = $1 AND visit.withdrawn_at IS NULL ORDER BY visit.performed_at DESC, sheet.given_at DESC, sheet.id DESC LIMIT $2`
	rows, err := db.pool.Query(ctx, q, tankID, limit)
	if err != nil {
		return nil, asFault(err)
	}
	list, err := pgx.CollectRows(rows, scanGiven)
	return list, asFault(err)
}
