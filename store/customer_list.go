package store

import (
	"context"
	"slices"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/customer"
	q "scaperound/domain/quantity"
)

// whereTanksAre and lastSeen are common to the lists: where each tank stands at
// the moment $1, and when it was last visited.
const (
	whereTanksAre = `home AS (SELECT DISTINCT ON (tank) tank, site FROM tank_site WHERE since <= $1 ORDER BY tank, since DESC)`
	lastSeen      = `seen AS (SELECT tank, max(performed_at) AS at FROM visit WHERE withdrawn_at IS NULL GROUP BY tank)`
)

// Never visited, never heard of: both stand first, for they want a hand most.
var customerOrders = map[string]string{
	"name":    `c.sort_key COLLATE "C", c.id`,
	"town":    `place.town_key COLLATE "C" NULLS LAST, c.sort_key COLLATE "C", c.id`,
	"visit":   `place.visited NULLS FIRST, c.sort_key COLLATE "C", c.id`,
	"contact": `heard.at NULLS FIRST, c.sort_key COLLATE "C", c.id`,
}

// Customers lists one page of the customers and says how many there are in all.
func (db *DB) Customers(ctx context.Context, want customer.List) (lines []customer.Line, total int, err error) {
	order, limit, offset := listPart(customerOrders, customer.CustomerSorts(), want)
	rows, err := db.pool.Query(ctx, `WITH `+whereTanksAre+`, `+lastSeen+`,
		place AS (
			SELECT s.customer, count(DISTINCT s.id) AS sites, count(DISTINCT t.id) AS tanks, max(seen.at) AS visited, min(s.town_key) FILTER (WHERE s.town <> '') AS town_key,
				array_agg(DISTINCT s.town) FILTER (WHERE s.town <> '') AS towns
			FROM site s LEFT JOIN home ON home.site = s.id LEFT JOIN tank t ON t.id = home.tank AND t.state <> 'ended' LEFT JOIN seen ON seen.tank = home.tank
			WHERE s.archived_at IS NULL GROUP BY s.customer),
		heard AS (SELECT customer, max(at) AS at FROM contact_note GROUP BY customer)
		SELECT c.id, c.name, c.kind, c.phones, coalesce(place.towns, '{}'), coalesce(place.sites, 0), coalesce(place.tanks, 0), place.visited, heard.at AS contact,
			count(*) OVER ()
		FROM customer c LEFT JOIN place ON place.customer = c.id LEFT JOIN heard ON heard.customer = c.id
		WHERE (c.archived_at IS NOT NULL) = $2
		ORDER BY `+order+` LIMIT $3 OFFSET $4`, db.Now(), want.Archived, limit, offset)
	lines, err = collect(rows, err, func(row pgx.Row) (l customer.Line, err error) {
		err = row.Scan(&l.ID, &l.Name, &l.Kind, &l.Phones, &l.Towns, &l.Sites, &l.Tanks, maybeTime(&l.LastVisit), maybeTime(&l.Contact), &total)
		return l, asFault(err)
	})
	return lines, total, err
}

var siteOrders = map[string]string{
	"name":     `s.sort_key COLLATE "C", s.id`,
	"customer": `c.sort_key COLLATE "C", s.sort_key COLLATE "C", s.id`,
	"town":     `s.town = '', s.town_key COLLATE "C", s.sort_key COLLATE "C", s.id`,
	"visit":    `stock.visited NULLS FIRST, s.sort_key COLLATE "C", s.id`,
}

// Sites lists one page of the sites and says how many there are in all. A site
// of an archived customer counts as archived. today is the shop's day.
func (db *DB) Sites(ctx context.Context, want customer.List, today q.Date) (lines []customer.SiteLine, total int, err error) {
	order, limit, offset := listPart(siteOrders, customer.SiteSorts(), want)
	rows, err := db.pool.Query(ctx, `WITH `+whereTanksAre+`, `+lastSeen+`,
		stock AS (
			SELECT home.site, count(t.id) AS tanks, max(seen.at) AS visited
			FROM home LEFT JOIN tank t ON t.id = home.tank AND t.state <> 'ended' LEFT JOIN seen ON seen.tank = home.tank GROUP BY home.site),
		ring AS (SELECT site, count(*) AS keys_out FROM site_key WHERE holder IS NOT NULL AND retired_at IS NULL GROUP BY site)
		SELECT s.id, s.name, c.id, c.name, s.address, s.town, coalesce(stock.tanks, 0), coalesce(ring.keys_out, 0), stock.visited,
			EXISTS (SELECT FROM site_away a WHERE a.site = s.id AND a.withdrawn_at IS NULL AND $2 BETWEEN a.from_day AND a.to_day), count(*) OVER ()
		FROM site s JOIN customer c ON c.id = s.customer LEFT JOIN stock ON stock.site = s.id LEFT JOIN ring ON ring.site = s.id
		WHERE (s.archived_at IS NOT NULL OR c.archived_at IS NOT NULL) = $3
		ORDER BY `+order+` LIMIT $4 OFFSET $5`, db.Now(), today.Midnight(), want.Archived, limit, offset)
	lines, err = collect(rows, err, func(row pgx.Row) (l customer.SiteLine, err error) {
		err = row.Scan(&l.ID, &l.Name, &l.Customer, &l.CustomerName, &l.Address, &l.Town, &l.Tanks, &l.KeysOut, maybeTime(&l.LastVisit), &l.AwayNow, &total)
		return l, asFault(err)
	})
	return lines, total, err
}

// listPart is the ORDER BY of a list's sort, which is never the person's own
// text, and the part of the list that its page shows.
func listPart(orders map[string]string, sorts []string, want customer.List) (order string, limit, offset int) {
	sort := want.Sort
	if !slices.Contains(sorts, sort) {
		sort = sorts[0]
	}
	return orders[sort], customer.PerPage, customer.PerPage * (max(want.Page, 1) - 1)
}
