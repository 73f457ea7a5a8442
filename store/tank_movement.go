package store

import (
	"context"

	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
)

// AddMovement writes down plants or animals that came or went on a day. It
// returns the movement's id.
func AddMovement(ctx context.Context, tx Tx, by, tankID string, m tank.Movement) (string, error) {
	if !ValidID(tankID) {
		return "", errNoTank()
	}
	if m.ID == "" {
		m.ID = NewID()
	}
	const sql = `
INSERT INTO movement (id, tank, visit, day, living, grp, species, n, reason, other_tank, batch, pays, note, staff, recorded_at)
SELECT $1, id, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15 FROM tank WHERE id = $2`
	tag, err := tx.Exec(ctx, sql, m.ID, tankID, nullText(m.Visit), m.Day.Midnight(), m.Living, m.Group, m.Species, m.N, m.Reason,
		nullText(m.OtherTank), m.Batch, m.Pays, m.Note, nullText(by), tx.Now)
	if err != nil {
		return "", asFault(err)
	}
	if tag.RowsAffected() == 0 {
		return "", errNoTank()
	}
	return m.ID, Audit(ctx, tx, by, "moved stock", "tank", tankID, nil, m)
}

// Movements lists what came and went at a tank, newest first.
func Movements(ctx context.Context, db Querier, tankID string, limit int) ([]tank.Movement, error) {
	const sql = `
SELECT m.id, m.visit, m.day, m.living, m.grp, m.species, m.n, m.reason, m.other_tank, o.name, m.batch, m.pays, m.note, s.name, m.recorded_at
FROM movement m LEFT JOIN tank o ON o.id = m.other_tank LEFT JOIN staff s ON s.id = m.staff
WHERE m.tank = $1 AND m.superseded_at IS NULL ORDER BY m.day DESC, m.recorded_at DESC, m.id DESC LIMIT $2`
	rows, err := db.Query(ctx, sql, tankID, limit)
	if err != nil {
		return nil, asFault(err)
	}
	defer rows.Close()
	var out []tank.Movement
	for rows.Next() {
		var m tank.Movement
		var on q.Date
		if err := rows.Scan(&m.ID, textOr(&m.Visit), day(&on), &m.Living, &m.Group, &m.Species, &m.N, &m.Reason,
			textOr(&m.OtherTank), textOr(&m.OtherName), &m.Batch, &m.Pays, &m.Note, textOr(&m.Author), &m.Recorded); err != nil {
			return nil, asFault(err)
		}
		m.Day = on
		out = append(out, m)
	}
	return out, asFault(rows.Err())
}
