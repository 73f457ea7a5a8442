package store

import (
	"context"
	"time"

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

// ownShown bounds how many of their own visits somebody carries along.
const ownShown = 120

// OwnVisits lists the visits that a person made since a moment, the newest first.
func (db *DB) OwnVisits(ctx context.Context, person string, since time.Time) ([]visit.Own, error) {
	if !ValidID(person) {
		return nil, nil
	}
	const q = `SELECT visit.id, tank.name, visit.performed_at FROM visit JOIN tank ON tank.id = visit.tank
		WHERE visit.performer = $1 AND visit.performed_at >= $2 AND visit.withdrawn_at IS NULL ORDER BY visit.performed_at DESC, visit.id DESC LIMIT $3`
	rows, err := db.pool.Query(ctx, q, person, since, ownShown)
	if err != nil {
		return nil, asFault(err)
	}
	list, err := pgx.CollectRows(rows, pgx.RowToStructByPos[visit.Own])
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
