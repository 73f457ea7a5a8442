package store

import (
	"context"
	"time"

	"scaperound/domain/fault"
)

// datedRows names a table of dated rows and the column of what they belong to.
// The names are ours alone and never come from outside.
type datedRows struct{ table, owner string }

var (
	setupRows     = datedRows{"tank_setup", "tank"}
	stateRows     = datedRows{"tank_state", "tank"}
	siteRows      = datedRows{"tank_site", "tank"}
	agreementRows = datedRows{"agreement", "tank"}
	shareRows     = datedRows{"care_share", "tank"}
	tankSources   = datedRows{"tank_source", "tank"}
	tankProfiles  = datedRows{"tank_profile", "tank"}
	sourceRows    = datedRows{"source_version", "source"}
	profileRows   = datedRows{"profile_version", "profile"}
)

// lockTank lets one writer at a time at the tank's records; reading and posting
// of visits elsewhere go on.
func lockTank(ctx context.Context, tx Tx, tankID string) error {
	return lockRow(ctx, tx, "tank", tankID, errNoTank)
}

func lockRow(ctx context.Context, tx Tx, table, id string, missing func() error) error {
	if !ValidID(id) {
		return missing()
	}
	tag, err := tx.Exec(ctx, `SELECT 1 FROM `+table+` WHERE id = $1 FOR NO KEY UPDATE`, id)
	if err != nil {
		return asFault(err)
	}
	if tag.RowsAffected() == 0 {
		return missing()
	}
	return nil
}

// lockOwner locks what the rows belong to.
func lockOwner(ctx context.Context, tx Tx, d datedRows, owner string) error {
	switch d.owner {
	case "source":
		return lockRow(ctx, tx, "source_water", owner, errNoSource)
	case "profile":
		return lockRow(ctx, tx, "profile", owner, errNoProfile)
	}
	return lockTank(ctx, tx, owner)
}

// datedRow locks the owner and returns the moment of a new row: as given, or a
// microsecond behind the newest row that already stands at that moment, so that
// a correction follows what it corrects and neither is lost.
func datedRow(ctx context.Context, tx Tx, d datedRows, owner string, since time.Time) (time.Time, error) {
	since = since.UTC().Truncate(time.Microsecond)
	if err := lockOwner(ctx, tx, d, owner); err != nil {
		return since, err
	}
	var newest *time.Time
	err := tx.QueryRow(ctx, `SELECT max(since) FROM `+d.table+` WHERE `+d.owner+` = $1 AND since >= $2 AND since < $2::timestamptz + interval '1 second'`,
		owner, since).Scan(&newest)
	if err != nil {
		return since, asFault(err)
	}
	if newest != nil {
		since = newest.UTC().Add(time.Microsecond)
	}
	return since, nil
}

// expectRows refuses the write where somebody has added a row since the form
// was opened: a form carries how many there were.
func expectRows(ctx context.Context, tx Tx, d datedRows, owner string, version int) error {
	var n int
	if err := tx.QueryRow(ctx, `SELECT count(*) FROM `+d.table+` WHERE `+d.owner+` = $1`, owner).Scan(&n); err != nil {
		return asFault(err)
	}
	if n != version {
		return errEditedMeanwhile()
	}
	return nil
}

// errEditedMeanwhile is the answer to the second of two editors.
func errEditedMeanwhile() error {
	f := fault.New(fault.Conflict, "Somebody else has changed this since you opened it. What you typed is kept below, and what they wrote stands beside it. Look at both and save again.")
	f.Code = "edited-meanwhile"
	return f
}
