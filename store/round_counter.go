package store

import (
	"time"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/counter"
	"scaperound/domain/due"
	q "scaperound/domain/quantity"
)

// queueWeeks reads whether this week and, from Thursday on, the next one want
// planning or handing out. A shop in which nobody has working hours plans none.
func queueWeeks(b *pgx.Batch, c *counter.Counter, today q.Date) {
	const sql = `
SELECT m.monday::date, w.draft IS NOT NULL, w.handed IS NOT NULL, coalesce(w.handed <> w.draft, false)
FROM unnest($1::date[]) AS m(monday) LEFT JOIN round_week w ON w.monday = m.monday
WHERE EXISTS (SELECT FROM staff_hours) ORDER BY m.monday`
	monday := due.Monday(today)
	mondays := []time.Time{monday.Midnight()}
	if today-monday >= 3 {
		mondays = append(mondays, monday.Add(7).Midnight())
	}
	b.Queue(sql, mondays).Query(func(rows pgx.Rows) error {
		var w counter.Week
		var handed bool
		_, err := pgx.ForEachRow(rows, []any{day(&w.Monday), &w.Planned, &handed, &w.Changed}, func() error {
			if !handed || w.Changed {
				c.Weeks = append(c.Weeks, w)
			}
			return nil
		})
		return err
	})
}

// queueSkipped reads the stops of the last week that were handed out and at
// which nobody was since.
func queueSkipped(b *pgx.Batch, c *counter.Counter, today q.Date) {
	const sql = `
SELECT DISTINCT ON (s.day, site.sort_key, s.job) s.site, site.name, customer.name, staff.name, s.day
FROM round_week w JOIN round_stop s ON s.plan = w.handed
JOIN site ON site.id = s.site JOIN customer ON customer.id = site.customer JOIN staff ON staff.id = s.staff CROSS JOIN shop
WHERE s.day < $1 AND s.day >= $2
  AND NOT EXISTS (SELECT FROM visit v WHERE v.tank = ANY(s.tanks) AND v.withdrawn_at IS NULL AND (v.performed_at AT TIME ZONE shop.zone)::date >= s.day)
  AND NOT EXISTS (SELECT FROM stop p WHERE p.site = s.site AND (p.arrived_at AT TIME ZONE shop.zone)::date >= s.day)
ORDER BY s.day, site.sort_key, s.job LIMIT $3`
	b.Queue(sql, today.Midnight(), today.Add(-7).Midnight(), counterRows).Query(func(rows pgx.Rows) error {
		var x counter.Skipped
		_, err := pgx.ForEachRow(rows, []any{&x.Site, &x.SiteName, &x.Customer, &x.Person, day(&x.Day)}, func() error {
			c.Skipped = append(c.Skipped, x)
			return nil
		})
		return err
	})
}
