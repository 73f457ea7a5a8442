package store

import (
	"context"
	"time"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
)

// Batcher is a Querier that sends many queries in one round trip; the pool and
// a transaction both satisfy it.
type Batcher interface {
	Querier
	SendBatch(ctx context.Context, b *pgx.Batch) pgx.BatchResults
}

// errNoTank is the answer for a tank that is not there.
func errNoTank() error { return fault.New(fault.NotFound, "There is no such tank.") }

// TankAt reads what the tank was at the moment: of each dated record the newest
// that is not later, stock as the sum of its movements up to that day on the
// shop's calendar, and the dosing lines that were in force. It takes one round
// trip. A record that nobody had made by then is unknown, not guessed.
func TankAt(ctx context.Context, db Batcher, tankID string, at time.Time) (tank.Setup, tank.Profile, tank.Plan, error) {
	var (
		s    = tank.Setup{ID: tankID, State: tank.Running}
		p    tank.Profile
		plan tank.Plan
	)
	if !ValidID(tankID) {
		return s, p, plan, errNoTank()
	}
	at = at.UTC()
	var b pgx.Batch
	found, on := false, q.DateOf(at)
	queueDay(&b, &on, at)
	queueCard(&b, &s, &found, tankID, at, &on)
	queueSetup(&b, &s, tankID, at)
	queueStock(&b, &s, tankID, &on, at)
	queueSource(&b, &s, tankID, at)
	queueAgreement(&b, &s, tankID, at)
	queueShare(&b, &s, tankID, at)
	queueGear(&b, &s, tankID, at)
	queueProfile(&b, &p, tankID, at)
	queuePlan(&b, &plan, tankID, at)
	queueInstruments(&b, &s, tankID, at)
	if err := db.SendBatch(ctx, &b).Close(); err != nil {
		return s, p, plan, asFault(err)
	}
	if !found {
		return s, p, plan, errNoTank()
	}
	return s, p, plan, nil
}

// shopDay is the day of the moment on the shop's calendar.
func shopDay(ctx context.Context, db Batcher, at time.Time) (q.Date, error) {
	var b pgx.Batch
	on := q.DateOf(at.UTC())
	queueDay(&b, &on, at)
	return on, asFault(db.SendBatch(ctx, &b).Close())
}

// queueDay sets on to the day of the moment on the shop's calendar. The zone is
// worked out here and not by the database, which may know other zones than we do.
func queueDay(b *pgx.Batch, on *q.Date, at time.Time) {
	b.Queue(`SELECT zone FROM shop`).Query(func(rows pgx.Rows) error {
		for rows.Next() {
			var zone string
			if err := rows.Scan(&zone); err != nil {
				return err
			}
			loc, err := time.LoadLocation(zone)
			if err != nil {
				return err
			}
			*on = q.DateOf(at.In(loc))
		}
		return rows.Err()
	})
}

// queueCard reads the tank's own row, its state then, and the room it stood in.
func queueCard(b *pgx.Batch, s *tank.Setup, found *bool, tankID string, at time.Time, on *q.Date) {
	const sql = `
SELECT t.name, COALESCE(st.state, t.state), t.set_up_on, t.pinned, t.keep_apart_since, t.keep_apart_until,
       si.altitude_m, si.room_m3, si.co2_alarm
FROM tank t
LEFT JOIN LATERAL (SELECT state FROM tank_state WHERE tank = t.id AND since <= $2 ORDER BY since DESC LIMIT 1) st ON true
LEFT JOIN LATERAL (SELECT site FROM tank_site WHERE tank = t.id AND since <= $2 ORDER BY since DESC LIMIT 1) ts ON true
LEFT JOIN site si ON si.id = ts.site
WHERE t.id = $1`
	b.Queue(sql, tankID, at).Query(func(rows pgx.Rows) error {
		for rows.Next() {
			*found = true
			var (
				pinned string
				c      tank.Card
			)
			if err := rows.Scan(&s.Name, &s.State, maybeDay(&s.SetUpOn), &pinned, maybeDay(&c.KeepApartSince), maybeDay(&c.KeepApartUntil),
				maybe(&s.Room.Altitude), maybe(&s.Room.Volume), maybeBool(&s.Room.CO2Alarm)); err != nil {
				return err
			}
			s.Pinned, s.KeepApart = lines(pinned), c.KeptApart(*on)
		}
		return rows.Err()
	})
}

func queueSetup(b *pgx.Batch, s *tank.Setup, tankID string, at time.Time) {
	const sql = `SELECT ` + setupColumns + ` FROM tank_setup s WHERE tank = $1 AND since <= $2 ORDER BY since DESC LIMIT 1`
	b.Queue(sql, tankID, at).Query(func(rows pgx.Rows) error {
		for rows.Next() {
			if err := scanSetup(rows, s); err != nil {
				return err
			}
		}
		return rows.Err()
	})
}

// queueStock adds up the movements day by day, so that what came back after it
// was gone is as old as its return.
func queueStock(b *pgx.Batch, s *tank.Setup, tankID string, today *q.Date, at time.Time) {
	const sql = `
SELECT living, grp, species, day, sum(n)::int
FROM movement
WHERE tank = $1 AND day <= $2 AND superseded_at IS NULL
GROUP BY living, grp, species, day
ORDER BY living, grp, species, day`
	// A day too many on purpose: the shop may be ahead of UTC.
	b.Queue(sql, tankID, q.DateOf(at).Add(1).Midnight()).Query(func(rows pgx.Rows) error {
		var animals, plants []tank.Living
		for rows.Next() {
			var (
				kind           tank.LivingKind
				group, species string
				on             q.Date
				n              int
			)
			if err := rows.Scan(&kind, &group, &species, day(&on), &n); err != nil {
				return err
			}
			if on > *today {
				continue
			}
			list := &animals
			if kind == tank.Plant {
				list = &plants
			}
			if last := len(*list) - 1; last < 0 || (*list)[last].Group != group || (*list)[last].Species != species {
				*list = append(*list, tank.Living{Group: group, Species: species})
			}
			l := &(*list)[len(*list)-1]
			if l.Count <= 0 && l.Count+n > 0 {
				l.Since = q.Some(on)
			}
			l.Count += n
		}
		s.Animals, s.Plants = present(animals), present(plants)
		return rows.Err()
	})
}

// present drops what is no longer there.
func present(all []tank.Living) []tank.Living {
	var out []tank.Living
	for _, l := range all {
		if l.Count > 0 {
			out = append(out, l)
		}
	}
	return out
}

func queueSource(b *pgx.Batch, s *tank.Setup, tankID string, at time.Time) {
	const sql = `
SELECT ts.ro_share, w.id, w.name, w.kind, ` + sourceColumns + `
FROM (SELECT source, ro_share FROM tank_source WHERE tank = $1 AND since <= $2 ORDER BY since DESC LIMIT 1) ts
JOIN source_water w ON w.id = ts.source
LEFT JOIN LATERAL (SELECT * FROM source_version WHERE source = w.id AND since <= $2 ORDER BY since DESC LIMIT 1) v ON true`
	b.Queue(sql, tankID, at).Query(func(rows pgx.Rows) error {
		for rows.Next() {
			w := sourceRow{}
			if err := rows.Scan(append([]any{&s.ROShare, &w.ID, &w.Name, &w.Kind}, w.targets()...)...); err != nil {
				return err
			}
			s.Source = q.Some(w.source())
		}
		return rows.Err()
	})
}

func queueAgreement(b *pgx.Batch, s *tank.Setup, tankID string, at time.Time) {
	const sql = `
SELECT every_days, tolerance_days, minutes, skill, two_people, preferred, weekdays
FROM agreement WHERE tank = $1 AND since <= $2 ORDER BY since DESC LIMIT 1`
	b.Queue(sql, tankID, at).Query(func(rows pgx.Rows) error {
		a := &s.Agreement
		for rows.Next() {
			if err := rows.Scan(maybeInt(&a.EveryDays), &a.ToleranceDays, &a.Minutes, &a.Skill, &a.TwoPeople, textOr(&a.Preferred), &a.Weekdays); err != nil {
				return err
			}
		}
		return rows.Err()
	})
}

func queueShare(b *pgx.Batch, s *tank.Setup, tankID string, at time.Time) {
	const sql = `
SELECT feeds, tops_up, doses, changes_water, pinch_g, feed_g_day
FROM care_share WHERE tank = $1 AND since <= $2 ORDER BY since DESC LIMIT 1`
	b.Queue(sql, tankID, at).Query(func(rows pgx.Rows) error {
		c := &s.Share
		for rows.Next() {
			if err := rows.Scan(&c.Feeds, &c.TopsUp, &c.Doses, &c.ChangesWater, maybe(&c.Pinch), maybe(&c.FeedPerDay)); err != nil {
				return err
			}
		}
		return rows.Err()
	})
}

// queueGear reads when the filter was last cleaned and the cylinder swapped.
func queueGear(b *pgx.Batch, s *tank.Setup, tankID string, at time.Time) {
	const sql = `
(SELECT gear, at, gross_kg FROM gear_event
 WHERE tank = $1 AND at <= $2 AND superseded_at IS NULL AND gear = 'filter' AND what IN ('cleaned', 'swapped') ORDER BY at DESC LIMIT 1)
UNION ALL
(SELECT gear, at, gross_kg FROM gear_event
 WHERE tank = $1 AND at <= $2 AND superseded_at IS NULL AND gear = 'cylinder' AND what IN ('swapped', 'refilled') ORDER BY at DESC LIMIT 1)`
	b.Queue(sql, tankID, at).Query(func(rows pgx.Rows) error {
		for rows.Next() {
			var (
				gear  string
				when  time.Time
				gross q.Opt[q.Kilogram]
			)
			if err := rows.Scan(&gear, &when, maybe(&gross)); err != nil {
				return err
			}
			if gear == "filter" {
				s.Filter.Cleaned = q.Some(when.UTC())
			} else {
				s.CO2.Swapped, s.CO2.SwapMass = q.Some(when.UTC()), gross
			}
		}
		return rows.Err()
	})
}

func queueProfile(b *pgx.Batch, p *tank.Profile, tankID string, at time.Time) {
	const sql = `
SELECT pr.id, pr.name, v.id, v.since, v.light_need_umol, b.kind, b.lo, b.hi, b.hard_lo, b.hard_hi
FROM (SELECT profile FROM tank_profile WHERE tank = $1 AND since <= $2 ORDER BY since DESC LIMIT 1) tp
JOIN profile pr ON pr.id = tp.profile
JOIN LATERAL (SELECT * FROM profile_version WHERE profile = pr.id AND since <= $2 ORDER BY since DESC LIMIT 1) v ON true
LEFT JOIN profile_band b ON b.version = v.id`
	b.Queue(sql, tankID, at).Query(func(rows pgx.Rows) error {
		for rows.Next() {
			var band tank.Band
			if err := rows.Scan(&p.ID, &p.Name, &p.Version, &p.Since, maybe(&p.LightNeed),
				textOr((*string)(&band.Kind)), maybe(&band.Lo), maybe(&band.Hi), maybe(&band.HardLo), maybe(&band.HardHi)); err != nil {
				return err
			}
			if band.Kind != "" {
				p.Bands = append(p.Bands, band)
			}
		}
		sortBands(p.Bands)
		return rows.Err()
	})
}

func queuePlan(b *pgx.Batch, plan *tank.Plan, tankID string, at time.Time) {
	const sql = `SELECT ` + dosingColumns + ` FROM dosing_line
WHERE tank = $1 AND since <= $2 AND (until IS NULL OR until > $2) ORDER BY id`
	b.Queue(sql, tankID, at).Query(func(rows pgx.Rows) error {
		for rows.Next() {
			l, err := scanDosing(rows)
			if err != nil {
				return err
			}
			plan.Lines = append(plan.Lines, l)
		}
		return rows.Err()
	})
}

// queueInstruments reads the lots in use then, with their colours, and which
// kits stay at this tank.
func queueInstruments(b *pgx.Batch, s *tank.Setup, tankID string, at time.Time) {
	const lots = `
SELECT l.id, k.id, k.name, k.measures, k.type, k.unit, k.step, k.sd, k.floor, l.opened_on, l.expires_on, l.keeper,
       (SELECT max(c.at) FROM meter_check c WHERE c.lot = l.id AND c.calibrated AND c.at <= $1)
FROM kit_lot l JOIN kit k ON k.id = l.kit
WHERE (l.retired_at IS NULL OR l.retired_at > $1) AND (k.archived_at IS NULL OR k.archived_at > $1)
ORDER BY k.measures, k.name, l.opened_on DESC NULLS LAST, l.id`
	byKit := map[string][]int{}
	b.Queue(lots, at).Query(func(rows pgx.Rows) error {
		for rows.Next() {
			var (
				i       tank.Instrument
				checked q.Opt[time.Time]
			)
			if err := rows.Scan(&i.Lot, &i.Kit, &i.Name, &i.Measures, &i.Type, &i.Unit, maybe(&i.Step), maybe(&i.SD), maybe(&i.Floor),
				maybeDay(&i.Opened), maybeDay(&i.Expires), textOr(&i.Keeper), maybeTime(&checked)); err != nil {
				return err
			}
			if checked.OK {
				i.Checked = q.Some(q.DateOf(checked.V))
			}
			byKit[i.Kit] = append(byKit[i.Kit], len(s.Kits))
			s.Kits = append(s.Kits, i)
		}
		return rows.Err()
	})
	b.Queue(`SELECT kit, label, lo, hi FROM kit_class ORDER BY kit, ord`).Query(func(rows pgx.Rows) error {
		for rows.Next() {
			kit, c, err := scanClass(rows)
			if err != nil {
				return err
			}
			for _, i := range byKit[kit] {
				s.Kits[i].Classes = append(s.Kits[i].Classes, c)
			}
		}
		return rows.Err()
	})
	const usual = `
SELECT kind, kit FROM (SELECT DISTINCT ON (kind) kind, kit FROM tank_kit WHERE tank = $1 AND since <= $2 ORDER BY kind, since DESC) now WHERE kit IS NOT NULL`
	b.Queue(usual, tankID, at).Query(func(rows pgx.Rows) error {
		for rows.Next() {
			var u tank.UsualKit
			if err := rows.Scan(&u.Kind, &u.Kit); err != nil {
				return err
			}
			s.Usual = append(s.Usual, u)
		}
		return rows.Err()
	})
}
