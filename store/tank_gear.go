package store

import (
	"context"

	"scaperound/domain/tank"
)

// GearEvent writes down that gear was cleaned, swapped, refilled, calibrated,
// repaired or set. It returns the event's id.
func GearEvent(ctx context.Context, tx Tx, by, tankID string, e tank.GearEvent) (string, error) {
	if !ValidID(tankID) {
		return "", errNoTank()
	}
	if e.ID == "" {
		e.ID = NewID()
	}
	const sql = `
INSERT INTO gear_event (id, tank, visit, at, gear, what, gross_kg, cylinder_number, tested_on, note, staff)
SELECT $1, id, $3, $4, $5, $6, $7, $8, $9, $10, $11 FROM tank WHERE id = $2`
	tag, err := tx.Exec(ctx, sql, e.ID, tankID, nullText(e.Visit), e.At.UTC(), e.Gear, e.What, null(e.Gross), e.Number, null(e.TestedOn), e.Note, nullText(by))
	if err != nil {
		return "", asFault(err)
	}
	if tag.RowsAffected() == 0 {
		return "", errNoTank()
	}
	return e.ID, Audit(ctx, tx, by, "gear", "tank", tankID, nil, e)
}

// GearEvents lists what was done to a tank's gear, newest first.
func GearEvents(ctx context.Context, db Querier, tankID string, limit int) ([]tank.GearEvent, error) {
	const sql = `
SELECT e.id, e.visit, e.at, e.gear, e.what, e.gross_kg, e.cylinder_number, e.tested_on, e.note, s.name
FROM gear_event e LEFT JOIN staff s ON s.id = e.staff
WHERE e.tank = $1 AND e.superseded_at IS NULL ORDER BY e.at DESC, e.id DESC LIMIT $2`
	rows, err := db.Query(ctx, sql, tankID, limit)
	if err != nil {
		return nil, asFault(err)
	}
	defer rows.Close()
	var out []tank.GearEvent
	for rows.Next() {
		var e tank.GearEvent
		if err := rows.Scan(&e.ID, textOr(&e.Visit), &e.At, &e.Gear, &e.What, maybe(&e.Gross), &e.Number, maybeDay(&e.TestedOn), &e.Note, textOr(&e.Author)); err != nil {
			return nil, asFault(err)
		}
		out = append(out, e)
	}
	return out, asFault(rows.Err())
}
