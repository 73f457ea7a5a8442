package store

import (
	"cmp"
	"context"
	"slices"
	"time"

	"github.com/jackc/pgx/v5"

	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
)

// sortBands puts bands in the order in which screens list kinds.
func sortBands(bands []tank.Band) {
	place := map[q.Kind]int{}
	for i, m := range q.Measures() {
		place[m.Kind] = i
	}
	slices.SortFunc(bands, func(a, b tank.Band) int { return cmp.Compare(place[a.Kind], place[b.Kind]) })
}

// CreateProfile makes a target profile with its first version and returns its
// id. p.Version and p.Since are not looked at.
func CreateProfile(ctx context.Context, tx Tx, by, about string, p tank.Profile, since time.Time) (string, error) {
	if p.ID == "" {
		p.ID = NewID()
	}
	if _, err := tx.Exec(ctx, `INSERT INTO profile (id, name, about, created_at) VALUES ($1, $2, $3, $4)`, p.ID, p.Name, about, tx.Now); err != nil {
		return "", asFault(err)
	}
	if _, err := AddProfileVersion(ctx, tx, by, p, since); err != nil {
		return "", err
	}
	return p.ID, Audit(ctx, tx, by, "made", "profile", p.ID, nil, map[string]any{"Name": p.Name, "About": about})
}

// AddProfileVersion writes down the profile's bands and light need since then,
// whole, and returns the version's id. The name is not changed by it.
func AddProfileVersion(ctx context.Context, tx Tx, by string, p tank.Profile, since time.Time) (string, error) {
	since, err := datedRow(ctx, tx, profileRows, p.ID, since)
	if err != nil {
		return "", err
	}
	version := NewID()
	var b pgx.Batch
	b.Queue(`INSERT INTO profile_version (id, profile, since, recorded_at, author, light_need_umol) VALUES ($1, $2, $3, $4, $5, $6)`,
		version, p.ID, since, tx.Now, nullText(by), null(p.LightNeed))
	for _, x := range p.Bands {
		b.Queue(`INSERT INTO profile_band (version, kind, lo, hi, hard_lo, hard_hi) VALUES ($1, $2, $3, $4, $5, $6)`,
			version, x.Kind, null(x.Lo), null(x.Hi), null(x.HardLo), null(x.HardHi))
	}
	if err := tx.SendBatch(ctx, &b).Close(); err != nil {
		return "", asFault(err)
	}
	return version, Audit(ctx, tx, by, "changed", "profile", p.ID, nil, map[string]any{"Version": version, "Since": since, "Bands": p.Bands, "LightNeed": p.LightNeed})
}
