package store_test

import (
	"context"
	"testing"

	"scaperound/domain/tank"
	"scaperound/store"
)

func TestSeedStandardsOnce(t *testing.T) {
	w := newTankWorld(t)
	var first, second store.Seeded
	since := moment(t, "2026-01-01 00:00")
	w.tx(t, func(ctx context.Context, tx store.Tx) (err error) {
		if first, err = store.SeedStandards(ctx, tx, w.owner, since); err != nil {
			return err
		}
		if second, err = store.SeedStandards(ctx, tx, w.owner, since); err != nil {
			return err
		}
		return store.SetProfile(ctx, tx, w.owner, w.tank, since, first.Profiles[tank.Standards()[3].Name])
	})
	if len(first.Profiles) != len(tank.Standards()) || len(first.Kits) != len(tank.StandardKits()) || len(second.Profiles)+len(second.Kits) != 0 {
		t.Errorf("made %d profiles and %d kits, then %d and %d", len(first.Profiles), len(first.Kits), len(second.Profiles), len(second.Kits))
	}
	s, p, _ := w.at(t, "2026-06-01 00:00")
	if len(s.Kits) != len(tank.StandardKits()) || len(p.Bands) != len(tank.Standards()[3].Bands) {
		t.Errorf("the tank sees %d instruments and %d bands", len(s.Kits), len(p.Bands))
	}
	for _, k := range s.Kits {
		if k.Type == tank.Classes && len(k.Classes) < 2 {
			t.Errorf("%s has lost its colours", k.Name)
		}
	}
}
