package store

import (
	"context"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/tank"
)

// tankPlace joins a tank t with the site it stands at now and its customer.
const tankPlace = `
LEFT JOIN LATERAL (SELECT site FROM tank_site WHERE tank = t.id ORDER BY since DESC LIMIT 1) ts ON true
LEFT JOIN site si ON si.id = ts.site
LEFT JOIN customer cu ON cu.id = si.customer`

// tankOrders are the orders of a list; what has no value comes last.
var tankOrders = map[tank.Order]string{
	tank.ByName:      `t.sort_key, t.id`,
	tank.BySite:      `cu.sort_key NULLS LAST, si.sort_key, t.sort_key, t.id`,
	tank.ByLastVisit: `v.performed_at NULLS FIRST, t.sort_key, t.id`,
	tank.ByNext:      `e.next_on NULLS LAST, t.sort_key, t.id`,
}

// Tanks lists tanks with where they stand, when somebody was last there, what is
// next and how many tasks are open. It takes one query whatever the length.
func (db *DB) Tanks(ctx context.Context, f tank.ListFilter) (tank.Listing, error) {
	var l tank.Listing
	order, known := tankOrders[f.Order]
	if !known {
		order = tankOrders[tank.ByName]
	}
	if f.Site != "" && !ValidID(f.Site) {
		return l, errNoSite()
	}
	if f.Limit <= 0 {
		f.Limit = 50
	}
	sql := `
SELECT t.id, t.name, t.state, si.id, si.name, cu.id, cu.name, t.set_up_on, v.performed_at, e.next_on, tk.open,
       t.keep_apart_since, t.keep_apart_until, count(*) OVER ()
FROM tank t` + tankPlace + `
LEFT JOIN LATERAL (SELECT performed_at FROM visit WHERE tank = t.id AND withdrawn_at IS NULL ORDER BY performed_at DESC LIMIT 1) v ON true
LEFT JOIN LATERAL (SELECT next_on FROM evaluation WHERE tank = t.id AND current ORDER BY performed_at DESC, at DESC LIMIT 1) e ON true
CROSS JOIN LATERAL (SELECT count(*)::int AS open FROM task WHERE tank = t.id AND state = 'open') tk
WHERE (CASE $1 WHEN '' THEN t.state <> 'ended' WHEN 'all' THEN true ELSE t.state = $1 END)
  AND ($2 = '' OR strpos(t.search, $2) > 0 OR strpos(si.search, $2) > 0 OR strpos(cu.search, $2) > 0)
  AND ($3 = '' OR si.id = NULLIF($3, '')::uuid)
ORDER BY ` + order + ` OFFSET $4 LIMIT $5`
	rows, err := db.pool.Query(ctx, sql, f.State, Fold(f.Search), f.Site, max(f.Offset, 0), f.Limit)
	if err != nil {
		return l, asFault(err)
	}
	defer rows.Close()
	for rows.Next() {
		var s tank.Summary
		var c tank.Card
		if err := rows.Scan(&s.ID, &s.Name, &s.State, textOr(&s.Site), textOr(&s.SiteName), textOr(&s.Customer), textOr(&s.CustomerName),
			maybeDay(&s.SetUpOn), maybeTime(&s.LastVisit), maybeDay(&s.NextOn), &s.OpenTasks,
			maybeDay(&c.KeepApartSince), maybeDay(&c.KeepApartUntil), &l.Total); err != nil {
			return l, asFault(err)
		}
		s.KeptApart = c.KeptApart(f.Today)
		l.Tanks = append(l.Tanks, s)
	}
	if err := rows.Err(); err != nil {
		return l, asFault(err)
	}
	// A page behind the last has no row that could carry the total.
	if len(l.Tanks) == 0 && f.Offset > 0 {
		f.Offset = 0
		first, err := db.Tanks(ctx, f)
		return tank.Listing{Total: first.Total}, err
	}
	return l, nil
}

// TankNames lists every tank that has not ended but one, for a choice of where
// an animal came from or went to.
func (db *DB) TankNames(ctx context.Context, but string) ([]tank.Summary, error) {
	rows, err := db.pool.Query(ctx, `
SELECT t.id, t.name, si.name, cu.name FROM tank t`+tankPlace+`
WHERE t.state <> 'ended' AND t.id::text <> $1 ORDER BY cu.sort_key NULLS LAST, t.sort_key, t.id`, but)
	if err != nil {
		return nil, asFault(err)
	}
	out, err := pgx.CollectRows(rows, func(row pgx.CollectableRow) (s tank.Summary, err error) {
		return s, row.Scan(&s.ID, &s.Name, textOr(&s.SiteName), textOr(&s.CustomerName))
	})
	return out, asFault(err)
}

// SiteNames lists every site that is not archived, for a choice.
func (db *DB) SiteNames(ctx context.Context) ([]tank.Place, error) {
	rows, err := db.pool.Query(ctx, `
SELECT si.id, si.name, cu.name FROM site si JOIN customer cu ON cu.id = si.customer
WHERE si.archived_at IS NULL AND cu.archived_at IS NULL ORDER BY cu.sort_key, si.sort_key, si.id`)
	if err != nil {
		return nil, asFault(err)
	}
	out, err := pgx.CollectRows(rows, func(row pgx.CollectableRow) (p tank.Place, err error) {
		return p, row.Scan(&p.ID, &p.Name, &p.Customer)
	})
	return out, asFault(err)
}
