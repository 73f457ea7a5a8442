package store

import (
	"context"
	"time"

	"scaperound/domain/tank"
)

// The functions of this file keep one record of a form, in a transaction of
// their own. version is how many rows the form was drawn with (tank.Versions);
// Conflict where there are more by now.

// keep runs write where nobody has added to the rows meanwhile.
func (db *DB) keep(ctx context.Context, d datedRows, owner string, version int, write func(context.Context, Tx) error) error {
	return db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		if err := lockOwner(ctx, tx, d, owner); err != nil {
			return err
		}
		if err := expectRows(ctx, tx, d, owner, version); err != nil {
			return err
		}
		return write(ctx, tx)
	})
}

// KeepSetup keeps a new set-up.
func (db *DB) KeepSetup(ctx context.Context, by, tankID string, since time.Time, s tank.Setup, version int) error {
	return db.keep(ctx, setupRows, tankID, version, func(ctx context.Context, tx Tx) error {
		return AddSetup(ctx, tx, by, tankID, since, s)
	})
}

// KeepAgreement keeps a new agreement.
func (db *DB) KeepAgreement(ctx context.Context, by, tankID string, since time.Time, a tank.Agreement, version int) error {
	return db.keep(ctx, agreementRows, tankID, version, func(ctx context.Context, tx Tx) error {
		return SetAgreement(ctx, tx, by, tankID, since, a)
	})
}

// KeepCareShare keeps what the customer does.
func (db *DB) KeepCareShare(ctx context.Context, by, tankID string, since time.Time, c tank.CareShare, version int) error {
	return db.keep(ctx, shareRows, tankID, version, func(ctx context.Context, tx Tx) error {
		return SetCareShare(ctx, tx, by, tankID, since, c)
	})
}

// KeepSource keeps which source water a tank gets.
func (db *DB) KeepSource(ctx context.Context, by, tankID string, since time.Time, u tank.SourceUse, version int) error {
	return db.keep(ctx, tankSources, tankID, version, func(ctx context.Context, tx Tx) error {
		return SetSource(ctx, tx, by, tankID, since, u.Source, float64(u.ROShare))
	})
}

// KeepTankProfile keeps which target profile a tank is held to.
func (db *DB) KeepTankProfile(ctx context.Context, by, tankID string, since time.Time, profile string, version int) error {
	return db.keep(ctx, tankProfiles, tankID, version, func(ctx context.Context, tx Tx) error {
		return SetProfile(ctx, tx, by, tankID, since, profile)
	})
}

// KeepDosing keeps the whole plan.
func (db *DB) KeepDosing(ctx context.Context, by, tankID string, since time.Time, lines []tank.DosingLine, version int) error {
	return db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		if err := lockTank(ctx, tx, tankID); err != nil {
			return err
		}
		n, err := dosingVersion(ctx, tx, tankID)
		if err != nil {
			return err
		}
		if n != version {
			return errEditedMeanwhile()
		}
		return SetDosing(ctx, tx, by, tankID, since, lines)
	})
}

// RecordMovement keeps one movement. One that moved to or from another tank is
// written down at that tank as well.
func (db *DB) RecordMovement(ctx context.Context, by, tankID string, m tank.Movement) error {
	return db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		if _, err := AddMovement(ctx, tx, by, tankID, m); err != nil {
			return err
		}
		if m.OtherTank == "" {
			return nil
		}
		other := m
		other.ID, other.OtherTank, other.N = "", tankID, -m.N
		other.Reason = tank.MovedTo
		if other.N > 0 {
			other.Reason = tank.MovedFrom
		}
		other.Pays = ""
		_, err := AddMovement(ctx, tx, by, m.OtherTank, other)
		return err
	})
}

// Movements lists what came and went at a tank, newest first.
func (db *DB) Movements(ctx context.Context, tankID string, limit int) ([]tank.Movement, error) {
	return Movements(ctx, db.pool, tankID, limit)
}

// RecordGearEvent keeps one event of a tank's gear.
func (db *DB) RecordGearEvent(ctx context.Context, by, tankID string, e tank.GearEvent) error {
	return db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		_, err := GearEvent(ctx, tx, by, tankID, e)
		return err
	})
}

// GearEvents lists what was done to a tank's gear, newest first.
func (db *DB) GearEvents(ctx context.Context, tankID string, limit int) ([]tank.GearEvent, error) {
	return GearEvents(ctx, db.pool, tankID, limit)
}
