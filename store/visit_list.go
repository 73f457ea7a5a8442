package store

import (
	"context"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/visit"
)

// TankVisits lists a tank's visits in a line each, the newest first.
func (db *DB) TankVisits(ctx context.Context, tankID string, limit int) ([]visit.Line, error) {
	if !ValidID(tankID) {
		return nil, errNoTank()
	}
	const q = `SELECT v.id, v.kind, v.performed_at, staff.name, coalesce(e.status, ''), coalesce(e.urgency, ''), EXISTS (SELECT 1 FROM sheet WHERE sheet.visit = v.id)
		FROM visit v JOIN staff ON staff.id = v.performer LEFT JOIN evaluation e ON e.revision = v.head AND e.current
		WHERE v.tank = $1 AND v.withdrawn_at IS NULL ORDER BY v.performed_at DESC, v.id DESC LIMIT $2`
	rows, err := db.pool.Query(ctx, q, tankID, limit)
	if err != nil {
		return nil, asFault(err)
	}
	list, err := pgx.CollectRows(rows, pgx.RowToStructByPos[visit.Line])
	return list, asFault(err)
}

// VisitRevisions lists the versions of a visit, the newest first.
func (db *DB) VisitRevisions(ctx context.Context, id string) ([]visit.Revision, error) {
	if !ValidID(id) {
		return nil, errNoVisit()
	}
	const q = `SELECT r.id, r.no, r.received_at, staff.name, r.reason FROM visit_revision r JOIN staff ON staff.id = r.staff WHERE r.visit = $1 ORDER BY r.no DESC`
	rows, err := db.pool.Query(ctx, q, id)
	if err != nil {
		return nil, asFault(err)
	}
	list, err := pgx.CollectRows(rows, pgx.RowToStructByPos[visit.Revision])
	return list, asFault(err)
}
