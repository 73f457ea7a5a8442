package store

import (
	"context"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/tank"
)

// TankHistory lists when a tank's state, place, agreement, care share, source
// water, target profile and plan changed, newest first, and by whom. Set-ups are
// in SetupVersions.
func (db *DB) TankHistory(ctx context.Context, id string) ([]tank.Change, error) {
	if !ValidID(id) {
		return nil, errNoTank()
	}
	const sql = `
SELECT h.since, h.recorded_at, s.name, h.what, h.now, h.other FROM (
    SELECT since, recorded_at, author, 'state' AS what, state AS now, NULL::uuid AS other FROM tank_state WHERE tank = $1
    UNION ALL
    SELECT ts.since, ts.since, NULL, 'site', si.name, si.id FROM tank_site ts JOIN site si ON si.id = ts.site WHERE ts.tank = $1
    UNION ALL
    SELECT since, recorded_at, author, 'agreement', 'every ' || every_days || ' d (± ' || tolerance_days || '), ' || minutes || ' min' || CASE WHEN two_people THEN ', two people' ELSE '' END, NULL
    FROM agreement WHERE tank = $1
    UNION ALL
    SELECT since, recorded_at, author, 'share', concat_ws(', ', CASE WHEN feeds THEN 'feeds' END, CASE WHEN tops_up THEN 'tops up' END, CASE WHEN doses THEN 'doses' END, CASE WHEN changes_water THEN 'changes water' END), NULL
    FROM care_share WHERE tank = $1
    UNION ALL
    SELECT t.since, t.recorded_at, t.author, 'source', w.name || CASE WHEN t.ro_share > 0 THEN ', ' || round((t.ro_share * 100)::numeric) || ' % pure water' ELSE '' END, w.id
    FROM tank_source t JOIN source_water w ON w.id = t.source WHERE t.tank = $1
    UNION ALL
    SELECT t.since, t.recorded_at, t.author, 'profile', p.name, p.id FROM tank_profile t JOIN profile p ON p.id = t.profile WHERE t.tank = $1
    UNION ALL
    SELECT since, max(recorded_at), (array_agg(author))[1], 'dosing', string_agg(upper(left(solute, 1)) || substr(solute, 2) || ' ' || round(mg_per_dose::numeric, 1) || ' mg', ', ' ORDER BY id), NULL
    FROM dosing_line WHERE tank = $1 GROUP BY since
) h LEFT JOIN staff s ON s.id = h.author
ORDER BY h.since DESC, h.recorded_at DESC, h.what`
	rows, err := db.pool.Query(ctx, sql, id)
	if err != nil {
		return nil, asFault(err)
	}
	out, err := pgx.CollectRows(rows, func(row pgx.CollectableRow) (c tank.Change, err error) {
		return c, row.Scan(&c.Since, &c.Recorded, textOr(&c.Author), &c.What, &c.Now, textOr(&c.Other))
	})
	return out, asFault(err)
}

// SetupVersions lists every set-up of a tank, newest first.
func (db *DB) SetupVersions(ctx context.Context, id string) ([]tank.SetupVersion, error) {
	if !ValidID(id) {
		return nil, errNoTank()
	}
	rows, err := db.pool.Query(ctx, `
SELECT `+setupColumns+`, s.recorded_at, st.name FROM tank_setup s LEFT JOIN staff st ON st.id = s.author
WHERE s.tank = $1 ORDER BY s.since DESC`, id)
	if err != nil {
		return nil, asFault(err)
	}
	out, err := pgx.CollectRows(rows, func(row pgx.CollectableRow) (v tank.SetupVersion, err error) {
		err = scanSetup(row, &v.Setup, &v.Recorded, textOr(&v.Author))
		v.Dated.Since = v.Setup.Since
		return v, err
	})
	return out, asFault(err)
}
