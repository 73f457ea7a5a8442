package store

import (
	"context"
	"time"

	"scaperound/domain/tank"
)

// Seeded are the ids of what SeedStandards made, by name.
type Seeded struct{ Profiles, Kits, Lots map[string]string }

// LongAgo is before any visit that a shop may bring along: what is true since
// then was always so.
var LongAgo = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)

// SeedStandards gives a new shop its first target profiles and instruments,
// true since then. Each kit gets one lot without a mark, so that readings can
// be taken at once. A shop that has a profile keeps its profiles as they are,
// and the same holds of kits.
func SeedStandards(ctx context.Context, tx Tx, by string, since time.Time) (Seeded, error) {
	s := Seeded{map[string]string{}, map[string]string{}, map[string]string{}}
	var profiles, kits bool
	if err := tx.QueryRow(ctx, `SELECT EXISTS (SELECT FROM profile), EXISTS (SELECT FROM kit)`).Scan(&profiles, &kits); err != nil {
		return s, asFault(err)
	}
	if !profiles {
		for _, p := range tank.Standards() {
			id, err := CreateProfile(ctx, tx, by, p.About, tank.Profile{Name: p.Name, LightNeed: p.LightNeed, Bands: p.Bands}, since)
			if err != nil {
				return s, err
			}
			s.Profiles[p.Name] = id
		}
	}
	if !kits {
		for _, k := range tank.StandardKits() {
			id, err := CreateKit(ctx, tx, by, k)
			if err != nil {
				return s, err
			}
			lot, err := AddLot(ctx, tx, by, tank.Lot{Kit: id, Lot: "unmarked"})
			if err != nil {
				return s, err
			}
			s.Kits[k.Name], s.Lots[k.Name] = id, lot
		}
	}
	return s, nil
}
