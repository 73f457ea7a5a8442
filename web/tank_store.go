package web

import (
	"context"
	"time"

	"scaperound/domain/care"
	"scaperound/domain/counter"
	"scaperound/domain/forecast"
	"scaperound/domain/share"
	"scaperound/domain/staff"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
)

// tankStore keeps what tanks are. by is the id of whoever does it; since is
// from when on it is true; version is how often the record was written when the
// form was drawn, and Conflict the answer where somebody was faster.
type tankStore interface {
	Tanks(ctx context.Context, f tank.ListFilter) (tank.Listing, error)
	TankNames(ctx context.Context, but string) ([]tank.Summary, error)
	SiteNames(ctx context.Context) ([]tank.Place, error)
	People(ctx context.Context) ([]staff.Listed, error)

	TankCard(ctx context.Context, id string) (tank.Card, error)
	TankAt(ctx context.Context, id string, at time.Time) (tank.Setup, tank.Profile, tank.Plan, error)
	TankVersions(ctx context.Context, id string) (tank.Versions, error)
	LastReadings(ctx context.Context, id string) ([]tank.LastReading, error)
	TankProblems(ctx context.Context, id string) ([]tank.Problem, error)
	SheetsOfTank(ctx context.Context, id string, limit int) ([]share.Given, error)
	Movements(ctx context.Context, id string, limit int) ([]tank.Movement, error)
	GearEvents(ctx context.Context, id string, limit int) ([]tank.GearEvent, error)
	TankHistory(ctx context.Context, id string) ([]tank.Change, error)
	VisitsSince(ctx context.Context, id string, from time.Time, limit int) ([]visit.Record, error)
	// TankMemory is what was learnt of a tank; the zero State where nothing is kept.
	TankMemory(ctx context.Context, id string) (forecast.State, error)
	SetupVersions(ctx context.Context, id string) ([]tank.SetupVersion, error)

	MakeTank(ctx context.Context, by string, n tank.New, since time.Time) (string, error)
	ChangeCard(ctx context.Context, by string, c tank.Card, since time.Time) error
	KeepSetup(ctx context.Context, by, id string, since time.Time, s tank.Setup, version int) error
	KeepAgreement(ctx context.Context, by, id string, since time.Time, a tank.Agreement, version int) error
	KeepCareShare(ctx context.Context, by, id string, since time.Time, c tank.CareShare, version int) error
	KeepSource(ctx context.Context, by, id string, since time.Time, u tank.SourceUse, version int) error
	KeepTankProfile(ctx context.Context, by, id string, since time.Time, profile string, version int) error
	KeepDosing(ctx context.Context, by, id string, since time.Time, lines []tank.DosingLine, version int) error
	RecordMovement(ctx context.Context, by, id string, m tank.Movement) error
	RecordGearEvent(ctx context.Context, by, id string, e tank.GearEvent) error
}

// profileStore keeps target profiles.
type profileStore interface {
	Profiles(ctx context.Context) ([]tank.ProfileLine, error)
	ProfileRecord(ctx context.Context, id string) (tank.ProfileRecord, error)
	MakeProfile(ctx context.Context, by string, n tank.NewProfile, since time.Time) (string, error)
	KeepProfile(ctx context.Context, by string, p tank.Profile, since time.Time, version int) error
	RenameProfile(ctx context.Context, by, id, name, about string) error
	// ProfileEffects judges the newest visit of each of its tanks by now and by
	// next, behind the first skip, until patience is over; left were not come to.
	ProfileEffects(ctx context.Context, now, next tank.Profile, skip int, patience time.Duration, assess func(care.Case) care.Assessment) (effects []counter.Effect, left int, err error)
	ArchiveProfile(ctx context.Context, by, id string, archived bool) error
}

// sourceStore keeps source waters.
type sourceStore interface {
	Sources(ctx context.Context, site string) ([]tank.SourceRecord, error)
	SourceRecord(ctx context.Context, id string) (tank.SourceRecord, error)
	MakeSource(ctx context.Context, by string, n tank.NewSource, s tank.Source, since time.Time) (string, error)
	KeepSourceVersion(ctx context.Context, by string, s tank.Source, since time.Time, version int) error
}

// kitStore keeps kits, meters, their lots and checks.
type kitStore interface {
	Kits(ctx context.Context) ([]tank.Kit, error)
	Kit(ctx context.Context, id string) (tank.Kit, error)
	MakeKit(ctx context.Context, by string, k tank.Kit) (string, error)
	ArchiveKit(ctx context.Context, by, id string, archived bool) error
	KeepLot(ctx context.Context, by string, l tank.Lot) error
	RetireLot(ctx context.Context, by, lot string, retired bool) error
	RecordMeterCheck(ctx context.Context, by string, c tank.MeterCheck) error
	// SetUsualKit says which kit stays at a tank; an empty one takes it away.
	SetUsualKit(ctx context.Context, by, tankID string, since time.Time, u tank.UsualKit) error
}
