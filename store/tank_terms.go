package store

import (
	"context"
	"time"

	"scaperound/domain/fault"
	"scaperound/domain/tank"
)

// SetAgreement writes down what is agreed about visits since then.
// a.EveryDays must be known.
func SetAgreement(ctx context.Context, tx Tx, by, tankID string, since time.Time, a tank.Agreement) error {
	since, err := datedRow(ctx, tx, agreementRows, tankID, since)
	if err != nil {
		return err
	}
	_, err = tx.Exec(ctx, `
INSERT INTO agreement (id, tank, since, recorded_at, author, every_days, tolerance_days, minutes, skill, two_people, preferred, weekdays)
VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12)`,
		NewID(), tankID, since, tx.Now, nullText(by), null(a.EveryDays), a.ToleranceDays, a.Minutes, a.Skill, a.TwoPeople, nullText(a.Preferred), a.Weekdays)
	if err != nil {
		return asFault(err)
	}
	return Audit(ctx, tx, by, "agreed", "tank", tankID, nil, withSince(a, since))
}

// SetCareShare writes down what the customer does between visits since then.
func SetCareShare(ctx context.Context, tx Tx, by, tankID string, since time.Time, c tank.CareShare) error {
	since, err := datedRow(ctx, tx, shareRows, tankID, since)
	if err != nil {
		return err
	}
	_, err = tx.Exec(ctx, `
INSERT INTO care_share (tank, since, recorded_at, author, feeds, tops_up, doses, changes_water, pinch_g, feed_g_day)
VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10)`,
		tankID, since, tx.Now, nullText(by), c.Feeds, c.TopsUp, c.Doses, c.ChangesWater, null(c.Pinch), null(c.FeedPerDay))
	if err != nil {
		return asFault(err)
	}
	return Audit(ctx, tx, by, "shared care", "tank", tankID, nil, withSince(c, since))
}

// SetSource says which source water the tank gets since then and what share of
// the change water is pure, 0 to 1.
func SetSource(ctx context.Context, tx Tx, by, tankID string, since time.Time, source string, roShare float64) error {
	if !ValidID(source) {
		return errNoSource()
	}
	since, err := datedRow(ctx, tx, tankSources, tankID, since)
	if err != nil {
		return err
	}
	tag, err := tx.Exec(ctx, `
INSERT INTO tank_source (tank, since, recorded_at, author, source, ro_share)
SELECT $1, $2, $3, $4, id, $6 FROM source_water WHERE id = $5`, tankID, since, tx.Now, nullText(by), source, roShare)
	if err != nil {
		return asFault(err)
	}
	if tag.RowsAffected() == 0 {
		return errNoSource()
	}
	return Audit(ctx, tx, by, "source water", "tank", tankID, nil, map[string]any{"Source": source, "ROShare": roShare, "Since": since})
}

// SetProfile says which target profile the tank is held to since then.
func SetProfile(ctx context.Context, tx Tx, by, tankID string, since time.Time, profile string) error {
	if !ValidID(profile) {
		return errNoProfile()
	}
	since, err := datedRow(ctx, tx, tankProfiles, tankID, since)
	if err != nil {
		return err
	}
	tag, err := tx.Exec(ctx, `
INSERT INTO tank_profile (tank, since, recorded_at, author, profile)
SELECT $1, $2, $3, $4, id FROM profile WHERE id = $5`, tankID, since, tx.Now, nullText(by), profile)
	if err != nil {
		return asFault(err)
	}
	if tag.RowsAffected() == 0 {
		return errNoProfile()
	}
	return Audit(ctx, tx, by, "target profile", "tank", tankID, nil, map[string]any{"Profile": profile, "Since": since})
}

// SetUsualKit says that the kind is measured at this tank with a kit that stays
// there, since then; an empty kit says that none stays there any more.
func SetUsualKit(ctx context.Context, tx Tx, by, tankID string, since time.Time, u tank.UsualKit) error {
	if err := lockTank(ctx, tx, tankID); err != nil {
		return err
	}
	if u.Kit != "" && !ValidID(u.Kit) {
		return errNoKit()
	}
	_, err := tx.Exec(ctx, `
INSERT INTO tank_kit (tank, kind, kit, since) VALUES ($1, $2, $3, $4)
ON CONFLICT (tank, kind, since) DO UPDATE SET kit = EXCLUDED.kit`, tankID, u.Kind, nullText(u.Kit), since.UTC())
	if err != nil {
		return asFault(err)
	}
	return Audit(ctx, tx, by, "usual kit", "tank", tankID, nil, map[string]any{"Kind": u.Kind, "Kit": u.Kit, "Since": since})
}

func errNoSource() error  { return fault.New(fault.NotFound, "There is no such source water.") }
func errNoProfile() error { return fault.New(fault.NotFound, "There is no such target profile.") }
func errNoKit() error     { return fault.New(fault.NotFound, "There is no such kit.") }

// withSince puts a record and its moment side by side for the audit.
func withSince(v any, since time.Time) any {
	return map[string]any{"Is": v, "Since": since}
}
