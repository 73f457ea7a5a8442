package store

import (
	"context"
	"time"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/care"
	"scaperound/domain/counter"
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/wire"
)

// How far the counter looks back, and how long its lists may grow.
const (
	troubleDays = 21 // trouble that old is in the history, not on the telephone
	missedDays  = 14
	counterRows = 40
)

// Counter reads what waits for the owner, as of the shop's day.
func (db *DB) Counter(ctx context.Context, today q.Date) (counter.Counter, error) {
	var c counter.Counter
	err := db.Snapshot(ctx, func(ctx context.Context, tx Tx) error {
		b := &pgx.Batch{}
		queueCalls(b, &c)
		queueTrouble(b, &c, tx.Now)
		queueTasks(b, &c.Tasks, `task.who = 'owner'`)
		queueTasks(b, &c.Asked, `task.opened_by IS NULL AND task.who <> 'owner' AND tank.state <> 'ended'`)
		queueTasks(b, &c.Often, `task.who <> 'owner' AND tank.state <> 'ended' AND (task.skips >= 2 OR task.opened_at < `+longAgo(tx.Now)+`)`)
		queueAgreed(b, &c.Agreed)
		queueHeld(b, &c)
		queueKeysOut(b, &c)
		queueMissed(b, &c, tx.Now)
		queueWeeks(b, &c, today)
		queueSkipped(b, &c, today)
		return tx.SendBatch(ctx, b).Close()
	})
	if err != nil {
		return c, err
	}
	due, err := db.DueTanks(ctx, today, 500)
	for _, d := range due {
		if d.Latest < today {
			c.Overdue = append(c.Overdue, d)
		}
	}
	return c, err
}

// openTooLong is for how long a task may stand open before the owner is asked
// about it, whether or not somebody said that it was put off.
const openTooLong = 45 * 24 * time.Hour

func longAgo(now time.Time) string {
	return "timestamptz '" + now.Add(-openTooLong).UTC().Format(time.RFC3339) + "'"
}

// queueTrouble reads the tanks whose newest judgement presses and about which
// nobody has spoken with the customer since, and those for which it asks an
// extra visit.
func queueTrouble(b *pgx.Batch, c *counter.Counter, now time.Time) {
	const sql = `
WITH newest AS (
    SELECT DISTINCT ON (v.tank) v.tank, v.id AS visit, v.performed_at, e.urgency, e.extra_on, e.document
    FROM visit v JOIN evaluation e ON e.revision = v.head AND e.current
    WHERE v.withdrawn_at IS NULL
    ORDER BY v.tank, v.performed_at DESC, v.id DESC)
SELECT n.tank, tank.name, site.id, site.name, customer.id, customer.name, customer.phones, n.visit, n.performed_at, n.urgency, n.extra_on, n.document,
    n.urgency IN ('now', 'today') AND NOT EXISTS (SELECT FROM contact_note c WHERE c.customer = customer.id AND c.at > n.performed_at),
    EXISTS (SELECT FROM extra_visit x WHERE x.visit = n.visit AND x.withdrawn_at IS NULL)
FROM newest n
JOIN tank ON tank.id = n.tank AND tank.state IN ('starting', 'running', 'resting')
JOIN LATERAL (SELECT site FROM tank_site s WHERE s.tank = n.tank ORDER BY since DESC LIMIT 1) here ON true
JOIN site ON site.id = here.site
JOIN customer ON customer.id = site.customer
WHERE n.performed_at > $1 AND (n.urgency IN ('now', 'today') OR n.extra_on IS NOT NULL)
ORDER BY CASE n.urgency WHEN 'now' THEN 0 WHEN 'today' THEN 1 ELSE 2 END, n.extra_on NULLS LAST, n.performed_at DESC, n.tank
LIMIT $2`
	b.Queue(sql, now.AddDate(0, 0, -troubleDays), counterRows).Query(func(rows pgx.Rows) error {
		for rows.Next() {
			var l counter.Line
			var urgency, document string
			var phone, decided bool
			if err := rows.Scan(&l.Tank, &l.TankName, &l.Site, &l.SiteName, &l.Customer, &l.CustomerName, &l.Phones, &l.Visit, &l.Performed,
				&urgency, maybeDay(&l.On), &document, &phone, &decided); err != nil {
				return err
			}
			a, err := wire.DecodeAssessment([]byte(document))
			if err != nil {
				return err
			}
			l.Urgency, l.Why = care.Urgency(urgency), pressing(a)
			if phone {
				c.Phone = append(c.Phone, l)
			}
			if l.On.OK && !decided {
				l.Why = a.Next.Say
				c.Extra = append(c.Extra, l)
			}
		}
		return rows.Err()
	})
}

// pressing is the shop's own sentence about what presses most; the customer's
// may be silent about it.
func pressing(a care.Assessment) say.Sentence {
	for _, f := range a.Findings {
		if f.Urgency == a.Urgency && f.State.Trouble() {
			return f.Say
		}
	}
	return a.Top
}

// queueTasks reads the open tasks of which more is true, the oldest first; more
// is a condition of our own.
func queueTasks(b *pgx.Batch, to *[]counter.Task, more string) {
	sql := `
SELECT task.id, tank.id, tank.name, coalesce(customer.id::text, ''), coalesce(customer.name, ''), coalesce(customer.phones, '{}'), task.opened_at, task.document,
    task.skips, task.skip_reason
FROM task
JOIN tank ON tank.id = task.tank
LEFT JOIN LATERAL (SELECT site FROM tank_site s WHERE s.tank = tank.id ORDER BY since DESC LIMIT 1) here ON true
LEFT JOIN site ON site.id = here.site
LEFT JOIN customer ON customer.id = site.customer
WHERE task.state = 'open' AND ` + more + `
ORDER BY task.opened_at, task.id
LIMIT $1`
	b.Queue(sql, counterRows).Query(func(rows pgx.Rows) error {
		for rows.Next() {
			var t counter.Task
			var document string
			var skips int
			err := rows.Scan(&t.ID, &t.Tank, &t.TankName, &t.Customer, &t.CustomerName, &t.Phones, &t.Opened, &document, &skips, &t.SkipWhy)
			if err != nil {
				return err
			}
			if t.Task, err = wire.DecodeTask([]byte(document)); err != nil {
				return err
			}
			t.Task.ID, t.Task.Skips = t.ID, skips
			*to = append(*to, t)
		}
		return rows.Err()
	})
}

func queueHeld(b *pgx.Batch, c *counter.Counter) {
	const sql = `
SELECT v.id, tank.id, tank.name, coalesce(customer.name, ''), h.reason, h.since, staff.name
FROM sheet_hold h
JOIN evaluation e ON e.id = h.evaluation AND e.current
JOIN visit_revision r ON r.id = e.revision
JOIN visit v ON v.id = r.visit AND v.withdrawn_at IS NULL
JOIN staff ON staff.id = v.performer
JOIN tank ON tank.id = v.tank
LEFT JOIN LATERAL (SELECT site FROM tank_site s WHERE s.tank = tank.id ORDER BY since DESC LIMIT 1) here ON true
LEFT JOIN site ON site.id = here.site
LEFT JOIN customer ON customer.id = site.customer
WHERE h.settled_at IS NULL
ORDER BY h.since, v.id
LIMIT $1`
	b.Queue(sql, counterRows).Query(func(rows pgx.Rows) error {
		var h counter.Held
		_, err := pgx.ForEachRow(rows, []any{&h.Visit, &h.Tank, &h.TankName, &h.CustomerName, &h.Reason, &h.Since, &h.By}, func() error {
			c.Held = append(c.Held, h)
			return nil
		})
		return err
	})
}

func queueKeysOut(b *pgx.Batch, c *counter.Counter) {
	const sql = `
SELECT k.id, k.number, site.name, staff.name, k.out_at
FROM site_key k JOIN site ON site.id = k.site JOIN staff ON staff.id = k.holder
WHERE k.holder IS NOT NULL AND k.out_at IS NOT NULL AND k.retired_at IS NULL
ORDER BY k.out_at LIMIT $1`
	b.Queue(sql, counterRows).Query(func(rows pgx.Rows) error {
		var k counter.Key
		_, err := pgx.ForEachRow(rows, []any{&k.ID, &k.Number, &k.SiteName, &k.Holder, &k.Out}, func() error {
			c.KeysOut = append(c.KeysOut, k)
			return nil
		})
		return err
	})
}

// queueMissed reads stops that ended without a visit and those that somebody
// began before today and nobody has left.
func queueMissed(b *pgx.Batch, c *counter.Counter, now time.Time) {
	sql := `SELECT ` + stopColumns + stopFrom + `
WHERE stop.outcome = 'could_not_get_in' AND stop.arrived_at > $1
      AND NOT EXISTS (SELECT FROM stop later WHERE later.site = stop.site AND later.arrived_at > stop.arrived_at AND later.outcome IN ('done', 'partly'))
   OR stop.outcome = 'under_way' AND stop.arrived_at < $2
ORDER BY stop.arrived_at DESC LIMIT $3`
	b.Queue(sql, now.AddDate(0, 0, -missedDays), now.Add(-sameStop), counterRows).Query(func(rows pgx.Rows) error {
		list, err := pgx.CollectRows(rows, scanStop)
		c.Missed = list
		return err
	})
}
