package store

import (
	"context"
	"strings"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/customer"
	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
)

// The windows come along as three arrays, so that a site is one row.
const siteColumns = `s.id, s.customer, s.name, s.address, s.town, s.lat, s.lon, s.altitude_m, s.parking_minutes, s.stairs, s.stopcock, s.breaker, s.rcd_tested_on,
	s.hose_m, s.drain, s.room_m3, s.co2_alarm, s.spending_limit, s.archived_at, s.row_version,
	ARRAY(SELECT weekday FROM site_window w WHERE w.site = s.id ORDER BY weekday, from_minute),
	ARRAY(SELECT from_minute FROM site_window w WHERE w.site = s.id ORDER BY weekday, from_minute),
	ARRAY(SELECT to_minute FROM site_window w WHERE w.site = s.id ORDER BY weekday, from_minute)`

func scanSite(row pgx.Row) (s customer.Site, err error) {
	var lat, lon q.Opt[float64]
	var days, from, to []int16
	c := &s.Card
	err = row.Scan(&s.ID, &s.Customer, &s.Name, &s.Address, &s.Town, maybe(&lat), maybe(&lon), maybe(&s.Altitude), maybeInt(&c.ParkingMinutes), &c.Stairs, &c.Stopcock, &c.Breaker, maybeDay(&c.RCDTested),
		maybe(&c.Hose), &c.Drain, maybe(&c.Room), maybeBool(&c.CO2Alarm), maybe(&c.SpendingLimit), maybeTime(&s.ArchivedAt), &s.Version, &days, &from, &to)
	if err != nil {
		return s, asFault(err)
	}
	if lat.OK && lon.OK {
		s.Position = q.Some(customer.Position{Lat: lat.V, Lon: lon.V})
	}
	for i := range days {
		s.Windows = append(s.Windows, customer.Window{Weekday: int(days[i]), From: q.MinuteOfDay(from[i]), To: q.MinuteOfDay(to[i])})
	}
	return s, nil
}

// Site returns one site with its windows, archived or not; NotFound where there
// is none.
func (db *DB) Site(ctx context.Context, id string) (customer.Site, error) {
	if !ValidID(id) {
		return customer.Site{}, errNoSite()
	}
	s, err := scanSite(db.pool.QueryRow(ctx, `SELECT `+siteColumns+` FROM site s WHERE s.id = $1`, id))
	return s, orNoSite(err)
}

func orNoSite(err error) error {
	if fault.Is(err, fault.NotFound) {
		return errNoSite()
	}
	return err
}

// AddSite keeps a new site of s.Customer and returns its id. mayPrice says
// whether by may set a spending limit; Forbidden otherwise.
func (db *DB) AddSite(ctx context.Context, by string, s customer.Site, mayPrice bool) (id string, err error) {
	if s.Card.SpendingLimit.OK && !mayPrice {
		return "", onlyOwnerPrices()
	}
	err = db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		id, err = AddSite(ctx, tx, by, s)
		return err
	})
	return id, err
}

// AddSite keeps a new site within a transaction and returns its id.
func AddSite(ctx context.Context, tx Tx, by string, s customer.Site) (string, error) {
	c, err := lockCustomer(ctx, tx, s.Customer)
	if err != nil {
		return "", err
	}
	if c.ErasedAt.OK {
		return "", fault.New(fault.Conflict, "This customer was erased; add the site to another.")
	}
	s.ID = NewID()
	const sql = `INSERT INTO site (id, name, address, town, lat, lon, altitude_m, parking_minutes, stairs, stopcock, breaker, rcd_tested_on,
		hose_m, drain, room_m3, co2_alarm, spending_limit, search, sort_key, town_key, updated_at, created_at, customer)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15, $16, $17, $18, $19, $20, $21, $21, $22)`
	if _, err := tx.Exec(ctx, sql, append(siteArgs(s, tx), s.Customer)...); err != nil {
		return "", asFault(err)
	}
	if err := writeWindows(ctx, tx, s); err != nil {
		return "", err
	}
	return s.ID, Audit(ctx, tx, by, "added", "site", s.ID, nil, siteFacts(s))
}

// EditSite changes a site and its windows. s.Version is the one that was edited:
// where it is not the newest the answer is a Conflict and nothing is changed.
// mayPrice says whether by may change the spending limit; Forbidden otherwise.
func (db *DB) EditSite(ctx context.Context, by string, s customer.Site, mayPrice bool) error {
	return db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		was, err := lockSite(ctx, tx, s.ID)
		switch {
		case err != nil:
			return err
		case was.Version != s.Version:
			return editedMeanwhile()
		case !mayPrice && was.Card.SpendingLimit != s.Card.SpendingLimit:
			return onlyOwnerPrices()
		}
		before, after := differing(siteFacts(was), siteFacts(s))
		if len(after) == 0 {
			return nil
		}
		const sql = `UPDATE site SET name = $2, address = $3, town = $4, lat = $5, lon = $6, altitude_m = $7, parking_minutes = $8, stairs = $9, stopcock = $10, breaker = $11,
			rcd_tested_on = $12, hose_m = $13, drain = $14, room_m3 = $15, co2_alarm = $16, spending_limit = $17, search = $18, sort_key = $19, town_key = $20, updated_at = $21,
			row_version = row_version + 1 WHERE id = $1`
		if _, err := tx.Exec(ctx, sql, siteArgs(s, tx)...); err != nil {
			return err
		}
		if err := writeWindows(ctx, tx, s); err != nil {
			return err
		}
		return Audit(ctx, tx, by, "changed", "site", s.ID, before, after)
	})
}

// ArchiveSite takes a site out of the lists, or puts it back. Doing so twice is
// no fault.
func (db *DB) ArchiveSite(ctx context.Context, by, id string, archived bool) error {
	return db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		was, err := lockSite(ctx, tx, id)
		if err != nil || was.ArchivedAt.OK == archived {
			return err
		}
		const sql = `UPDATE site SET archived_at = CASE WHEN $2 THEN $3::timestamptz END, row_version = row_version + 1, updated_at = $3 WHERE id = $1`
		if _, err := tx.Exec(ctx, sql, id, archived, tx.Now); err != nil {
			return err
		}
		return Audit(ctx, tx, by, archiving(archived), "site", id, nil, nil)
	})
}

func onlyOwnerPrices() error {
	return fault.New(fault.Forbidden, "Only the owner sets how much may be spent without asking. Nothing was changed.")
}

func lockSite(ctx context.Context, tx Tx, id string) (customer.Site, error) {
	if !ValidID(id) {
		return customer.Site{}, errNoSite()
	}
	s, err := scanSite(tx.QueryRow(ctx, `SELECT `+siteColumns+` FROM site s WHERE s.id = $1 FOR UPDATE`, id))
	return s, orNoSite(err)
}

// siteArgs are $1 to $21 of the statements that write a site.
func siteArgs(s customer.Site, tx Tx) []any {
	var lat, lon any
	if s.Position.OK {
		lat, lon = s.Position.V.Lat, s.Position.V.Lon
	}
	c := s.Card
	return []any{s.ID, s.Name, s.Address, s.Town, lat, lon, null(s.Altitude), null(c.ParkingMinutes), c.Stairs, c.Stopcock, c.Breaker, null(c.RCDTested),
		null(c.Hose), c.Drain, null(c.Room), null(c.CO2Alarm), null(c.SpendingLimit), siteSearch(s), SortKey(s.Name), SortKey(s.Town), tx.Now}
}

func siteSearch(s customer.Site) string { return Fold(s.Name + " " + s.Address + " " + s.Town) }

// writeWindows replaces the windows; the audit keeps what they were.
func writeWindows(ctx context.Context, tx Tx, s customer.Site) error {
	if _, err := tx.Exec(ctx, `DELETE FROM site_window WHERE site = $1`, s.ID); err != nil {
		return asFault(err)
	}
	_, err := tx.CopyFrom(ctx, pgx.Identifier{"site_window"}, []string{"id", "site", "weekday", "from_minute", "to_minute"},
		pgx.CopyFromSlice(len(s.Windows), func(i int) ([]any, error) {
			w := s.Windows[i]
			return []any{NewID(), s.ID, int16(w.Weekday), int16(w.From), int16(w.To)}, nil
		}))
	return asFault(err)
}

func siteFacts(s customer.Site) map[string]any {
	c := s.Card
	m := map[string]any{"name": s.Name, "address": s.Address, "town": s.Town, "stairs": c.Stairs, "stopcock": c.Stopcock, "breaker": c.Breaker, "drain": c.Drain,
		"altitude_m": null(s.Altitude), "parking_minutes": null(c.ParkingMinutes), "hose_m": null(c.Hose), "room_m3": null(c.Room), "co2_alarm": null(c.CO2Alarm), "spending_limit": null(c.SpendingLimit),
		"position": "", "rcd_tested_on": ""}
	if s.Position.OK {
		m["position"] = s.Position.V.String()
	}
	if c.RCDTested.OK {
		m["rcd_tested_on"] = c.RCDTested.V.String()
	}
	var days []string
	for day := 1; day <= 7; day++ {
		if l := customer.WindowLine(s.Windows, day); l != "" {
			days = append(days, customer.Weekday(day)+" "+l)
		}
	}
	m["windows"] = strings.Join(days, "; ")
	return m
}
