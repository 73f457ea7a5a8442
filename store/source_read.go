package store

import (
	"context"
	"time"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/tank"
)

// Sources lists source waters: the shop's own first, then by site. Where site
// is not empty, only those of the site and the shop.
func (db *DB) Sources(ctx context.Context, site string) ([]tank.SourceRecord, error) {
	if site != "" && !ValidID(site) {
		return nil, errNoSite()
	}
	rows, err := db.pool.Query(ctx, `
SELECT w.id, w.name, w.kind, si.id, si.name FROM source_water w LEFT JOIN site si ON si.id = w.site
WHERE $1 = '' OR w.site IS NULL OR w.site = NULLIF($1, '')::uuid
ORDER BY w.site IS NOT NULL, si.sort_key, w.created_at, w.id`, site)
	if err != nil {
		return nil, asFault(err)
	}
	out, err := pgx.CollectRows(rows, func(row pgx.CollectableRow) (s tank.SourceRecord, err error) {
		return s, row.Scan(&s.ID, &s.Name, &s.Kind, textOr(&s.Site), textOr(&s.SiteName))
	})
	return out, asFault(err)
}

// SourceRecord reads a source water with all its versions, newest first, and
// the tanks that get it.
func (db *DB) SourceRecord(ctx context.Context, id string) (tank.SourceRecord, error) {
	var s tank.SourceRecord
	if !ValidID(id) {
		return s, errNoSource()
	}
	found := false
	var b pgx.Batch
	b.Queue(`SELECT w.id, w.name, w.kind, si.id, si.name FROM source_water w LEFT JOIN site si ON si.id = w.site WHERE w.id = $1`, id).Query(func(rows pgx.Rows) error {
		for rows.Next() {
			found = true
			if err := rows.Scan(&s.ID, &s.Name, &s.Kind, textOr(&s.Site), textOr(&s.SiteName)); err != nil {
				return err
			}
		}
		return rows.Err()
	})
	b.Queue(`
SELECT v.since, v.recorded_at, st.name, `+sourceColumns+` FROM source_version v LEFT JOIN staff st ON st.id = v.author
WHERE v.source = $1 ORDER BY v.since DESC`, id).Query(func(rows pgx.Rows) error {
		for rows.Next() {
			var w sourceRow
			var v tank.SourceVersion
			if err := rows.Scan(append([]any{&v.Since, &v.Recorded, textOr(&v.Author)}, w.targets()...)...); err != nil {
				return err
			}
			w.ID, w.Name, w.Kind = s.ID, s.Name, s.Kind
			v.Source = w.source()
			s.Versions = append(s.Versions, v)
		}
		return rows.Err()
	})
	b.Queue(`
SELECT t.id, t.name, si.name, cu.name FROM (SELECT DISTINCT ON (tank) tank, source FROM tank_source ORDER BY tank, since DESC) now
JOIN tank t ON t.id = now.tank AND t.state <> 'ended'`+tankPlace+`
WHERE now.source = $1 ORDER BY cu.sort_key NULLS LAST, t.sort_key, t.id`, id).Query(func(rows pgx.Rows) (err error) {
		s.Tanks, err = collectNames(rows)
		return err
	})
	if err := db.pool.SendBatch(ctx, &b).Close(); err != nil {
		return s, asFault(err)
	}
	if !found {
		return s, errNoSource()
	}
	return s, nil
}

// MakeSource makes a source water with its first values and returns its id.
func (db *DB) MakeSource(ctx context.Context, by string, n tank.NewSource, s tank.Source, since time.Time) (id string, err error) {
	if n.Site != "" && !ValidID(n.Site) {
		return "", errNoSite()
	}
	err = db.Tx(ctx, func(ctx context.Context, tx Tx) (err error) {
		if id, err = CreateSource(ctx, tx, by, "", n.Site, n.Name, n.Kind); err != nil {
			return err
		}
		return AddSourceVersion(ctx, tx, by, id, since, s)
	})
	return id, err
}

// KeepSourceVersion keeps new values of a source water.
func (db *DB) KeepSourceVersion(ctx context.Context, by string, s tank.Source, since time.Time, version int) error {
	return db.keep(ctx, sourceRows, s.ID, version, func(ctx context.Context, tx Tx) error {
		return AddSourceVersion(ctx, tx, by, s.ID, since, s)
	})
}
