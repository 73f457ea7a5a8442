package store

import (
	"context"
	"time"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/tank"
)

// Profiles lists the shop's target profiles, those in use first.
func (db *DB) Profiles(ctx context.Context) ([]tank.ProfileLine, error) {
	rows, err := db.pool.Query(ctx, `
SELECT p.id, p.name, p.about, p.archived_at IS NOT NULL, v.since, v.recorded_at, s.name, COALESCE(u.n, 0)
FROM profile p
JOIN LATERAL (SELECT since, recorded_at, author FROM profile_version WHERE profile = p.id ORDER BY since DESC LIMIT 1) v ON true
LEFT JOIN staff s ON s.id = v.author
LEFT JOIN (
    SELECT profile, count(*)::int AS n FROM (SELECT DISTINCT ON (tank) tank, profile FROM tank_profile ORDER BY tank, since DESC) now
    JOIN tank t ON t.id = now.tank AND t.state <> 'ended' GROUP BY profile) u ON u.profile = p.id
ORDER BY p.archived_at IS NOT NULL, p.created_at, p.name`)
	if err != nil {
		return nil, asFault(err)
	}
	out, err := pgx.CollectRows(rows, func(row pgx.CollectableRow) (l tank.ProfileLine, err error) {
		return l, row.Scan(&l.ID, &l.Name, &l.About, &l.Archived, &l.Since, &l.Recorded, textOr(&l.Author), &l.Tanks)
	})
	return out, asFault(err)
}

// ProfileRecord reads a profile with all its versions and the tanks held to it.
func (db *DB) ProfileRecord(ctx context.Context, id string) (tank.ProfileRecord, error) {
	var p tank.ProfileRecord
	if !ValidID(id) {
		return p, errNoProfile()
	}
	found := false
	var b pgx.Batch
	b.Queue(`SELECT id, name, about, archived_at IS NOT NULL FROM profile WHERE id = $1`, id).Query(func(rows pgx.Rows) error {
		for rows.Next() {
			found = true
			if err := rows.Scan(&p.ID, &p.Name, &p.About, &p.Archived); err != nil {
				return err
			}
		}
		return rows.Err()
	})
	b.Queue(`
SELECT v.id, v.since, v.recorded_at, s.name, v.light_need_umol, b.kind, b.lo, b.hi, b.hard_lo, b.hard_hi
FROM profile_version v LEFT JOIN staff s ON s.id = v.author LEFT JOIN profile_band b ON b.version = v.id
WHERE v.profile = $1 ORDER BY v.since DESC, v.id`, id).Query(func(rows pgx.Rows) error {
		for rows.Next() {
			var v tank.ProfileVersion
			var band tank.Band
			if err := rows.Scan(&v.ID, &v.Dated.Since, &v.Recorded, textOr(&v.Author), maybe(&v.LightNeed),
				textOr((*string)(&band.Kind)), maybe(&band.Lo), maybe(&band.Hi), maybe(&band.HardLo), maybe(&band.HardHi)); err != nil {
				return err
			}
			if n := len(p.Versions); n == 0 || p.Versions[n-1].ID != v.ID {
				v.Profile.ID, v.Name, v.Version, v.Profile.Since = id, p.Name, v.ID, v.Dated.Since
				p.Versions = append(p.Versions, v)
			}
			if band.Kind != "" {
				last := &p.Versions[len(p.Versions)-1]
				last.Bands = append(last.Bands, band)
			}
		}
		return rows.Err()
	})
	b.Queue(`
SELECT t.id, t.name, si.name, cu.name FROM (SELECT DISTINCT ON (tank) tank, profile FROM tank_profile ORDER BY tank, since DESC) now
JOIN tank t ON t.id = now.tank AND t.state <> 'ended'`+tankPlace+`
WHERE now.profile = $1 ORDER BY cu.sort_key NULLS LAST, t.sort_key, t.id`, id).Query(func(rows pgx.Rows) (err error) {
		p.Tanks, err = collectNames(rows)
		return err
	})
	if err := db.pool.SendBatch(ctx, &b).Close(); err != nil {
		return p, asFault(err)
	}
	if !found {
		return p, errNoProfile()
	}
	for i := range p.Versions {
		sortBands(p.Versions[i].Bands)
	}
	return p, nil
}

// collectNames reads tanks by id, name, site and customer.
func collectNames(rows pgx.Rows) ([]tank.Summary, error) {
	return pgx.CollectRows(rows, func(row pgx.CollectableRow) (s tank.Summary, err error) {
		return s, row.Scan(&s.ID, &s.Name, textOr(&s.SiteName), textOr(&s.CustomerName))
	})
}

// MakeProfile makes a target profile and returns its id.
func (db *DB) MakeProfile(ctx context.Context, by string, n tank.NewProfile, since time.Time) (id string, err error) {
	err = db.Tx(ctx, func(ctx context.Context, tx Tx) (err error) {
		n.Profile.Name = n.Name
		id, err = CreateProfile(ctx, tx, by, n.About, n.Profile, since)
		return err
	})
	return id, err
}

// KeepProfile keeps a new version of a profile's bands; version is how many
// versions there were when the form was drawn.
func (db *DB) KeepProfile(ctx context.Context, by string, p tank.Profile, since time.Time, version int) error {
	return db.keep(ctx, profileRows, p.ID, version, func(ctx context.Context, tx Tx) error {
		_, err := AddProfileVersion(ctx, tx, by, p, since)
		return err
	})
}
