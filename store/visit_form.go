package store

import (
	"context"
	"errors"
	"net/url"
	"slices"
	"time"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/care"
	"scaperound/domain/fault"
	"scaperound/domain/visit"
	"scaperound/domain/wire"
)

// formHistory is how many earlier visits the form looks at for "last time".
const formHistory = 12

// VisitBefore is what is known of a tank at the moment, for the form of a visit.
func (db *DB) VisitBefore(ctx context.Context, tankID string, at time.Time) (b care.Before, err error) {
	if !ValidID(tankID) {
		return b, errNoTank()
	}
	err = db.Snapshot(ctx, func(ctx context.Context, tx Tx) error {
		if b.Setup, b.Profile, b.Plan, err = TankAt(ctx, tx, tankID, at); err != nil {
			return err
		}
		const place = `SELECT site.id, site.name, customer.name, coalesce((SELECT phone FROM staff WHERE role = 'owner' AND deactivated_at IS NULL AND phone <> '' ORDER BY created_at LIMIT 1), (SELECT phone FROM shop), '')
			FROM tank_site JOIN site ON site.id = tank_site.site JOIN customer ON customer.id = site.customer
			WHERE tank_site.tank = $1 AND tank_site.since <= $2 ORDER BY tank_site.since DESC LIMIT 1`
		err = tx.QueryRow(ctx, place, tankID, at).Scan(&b.Site.ID, &b.Site.Name, &b.Customer, &b.Owner)
		if err != nil && !errors.Is(err, pgx.ErrNoRows) {
			return err
		}
		if b.History, err = VisitsOfTank(ctx, tx, tankID, time.Time{}, at, formHistory); err != nil {
			return err
		}
		if b.Open, err = OpenTasks(ctx, tx, tankID); err != nil {
			return err
		}
		b.Tests, err = testsAsked(ctx, tx, tankID, at)
		return err
	})
	return b, err
}

// testsAsked are the readings that the last judgement before the moment asked for.
func testsAsked(ctx context.Context, tx Tx, tankID string, at time.Time) ([]care.TestDue, error) {
	var document string
	err := tx.QueryRow(ctx, `SELECT e.document FROM visit v JOIN evaluation e ON e.revision = v.head AND e.current
		WHERE v.tank = $1 AND v.withdrawn_at IS NULL AND v.performed_at < $2 ORDER BY v.performed_at DESC, v.id DESC LIMIT 1`, tankID, at).Scan(&document)
	if errors.Is(err, pgx.ErrNoRows) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	a, err := wire.DecodeAssessment([]byte(document))
	return a.Next.Tests, err
}

// VisitFields are the fields of a visit's newest revision, as they were typed.
func (db *DB) VisitFields(ctx context.Context, id string) ([]visit.Field, error) {
	if !ValidID(id) {
		return nil, errNoVisit()
	}
	var raw []byte
	err := db.pool.QueryRow(ctx, `SELECT r.raw FROM visit v JOIN visit_revision r ON r.id = v.head WHERE v.id = $1`, id).Scan(&raw)
	if errors.Is(err, pgx.ErrNoRows) {
		return nil, errNoVisit()
	}
	if err != nil {
		return nil, asFault(err)
	}
	values, err := url.ParseQuery(string(raw))
	if err != nil {
		return nil, &fault.Error{Kind: fault.Internal, Err: err}
	}
	var out []visit.Field
	for name, all := range values {
		for _, v := range all {
			out = append(out, visit.Field{Name: name, Value: v})
		}
	}
	slices.SortStableFunc(out, func(a, b visit.Field) int {
		if a.Name < b.Name {
			return -1
		}
		if a.Name > b.Name {
			return 1
		}
		return 0
	})
	return out, nil
}
