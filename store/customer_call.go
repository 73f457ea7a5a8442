package store

import (
	"context"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/customer"
	q "scaperound/domain/quantity"
)

// notesShown is how many calls the customer's page shows before "older ones".
const notesShown = 10

// tankLines lists tanks as they stand at $1, with what was last seen and given.
const tankLines = `WITH ` + whereTanksAre + `
	SELECT t.id, t.name, s.id, s.name, t.state, coalesce(t.keep_apart_since <= $2 AND (t.keep_apart_until IS NULL OR t.keep_apart_until >= $2), false),
		v.performed_at, coalesce(v.kind, ''), coalesce(p.name, ''), coalesce(st.outcome, ''), e.next_on, a.every_days, sh.given_at
	FROM home JOIN tank t ON t.id = home.tank JOIN site s ON s.id = home.site
	LEFT JOIN LATERAL (SELECT performed_at, kind, performer, stop, head FROM visit WHERE tank = t.id AND withdrawn_at IS NULL ORDER BY performed_at DESC LIMIT 1) v ON true
	LEFT JOIN staff p ON p.id = v.performer
	LEFT JOIN stop st ON st.id = v.stop
	LEFT JOIN evaluation e ON e.revision = v.head AND e.current
	LEFT JOIN LATERAL (SELECT every_days FROM agreement WHERE tank = t.id AND since <= $1 ORDER BY since DESC LIMIT 1) a ON true
	LEFT JOIN LATERAL (SELECT given_at FROM sheet WHERE tank = t.id ORDER BY given_at DESC LIMIT 1) sh ON true`

const tankLineOrder = ` ORDER BY s.sort_key COLLATE "C", s.id, (t.state = 'ended'), t.sort_key COLLATE "C", t.id`

func scanTankLine(row pgx.Row) (t customer.TankLine, err error) {
	err = row.Scan(&t.ID, &t.Name, &t.Site, &t.SiteName, &t.State, &t.KeepApart, maybeTime(&t.VisitAt), &t.VisitKind, &t.VisitBy, &t.Outcome, maybeDay(&t.Judged), maybeInt(&t.EveryDays), maybeTime(&t.SheetAt))
	return t, asFault(err)
}

// SiteTanks lists the tanks that stand at a site now, with how each stands.
func (db *DB) SiteTanks(ctx context.Context, site string, today q.Date) ([]customer.TankLine, error) {
	if !ValidID(site) {
		return nil, errNoSite()
	}
	rows, err := db.pool.Query(ctx, tankLines+` WHERE home.site = $3`+tankLineOrder, db.Now(), today.Midnight(), site)
	return collect(rows, err, scanTankLine)
}

// CustomerCall gathers what one wants to know with a customer on the phone, as
// of one moment. today is the shop's day. It takes seven statements, however many
// sites and tanks there are.
func (db *DB) CustomerCall(ctx context.Context, id string, today q.Date) (customer.Call, error) {
	call := customer.Call{NoteID: NewID()}
	if !ValidID(id) {
		return call, errNoCustomer()
	}
	day := today.Midnight()
	err := db.Snapshot(ctx, func(ctx context.Context, tx Tx) (err error) {
		if call.Customer, err = scanCustomer(tx.QueryRow(ctx, `SELECT `+customerColumns+` FROM customer c WHERE c.id = $1`, id)); err != nil {
			return orNoCustomer(err)
		}
		rows, err := tx.Query(ctx, `SELECT `+siteColumns+` FROM site s WHERE s.customer = $1 AND s.archived_at IS NULL ORDER BY s.sort_key COLLATE "C", s.id`, id)
		if call.Sites, err = collect(rows, err, scanSite); err != nil {
			return err
		}
		rows, err = tx.Query(ctx, tankLines+` WHERE s.customer = $3 AND s.archived_at IS NULL`+tankLineOrder, tx.Now, day, id)
		if call.Tanks, err = collect(rows, err, scanTankLine); err != nil {
			return err
		}
		rows, err = tx.Query(ctx, `SELECT `+awayColumns+` FROM site_away a JOIN site s ON s.id = a.site
			WHERE s.customer = $1 AND s.archived_at IS NULL AND a.withdrawn_at IS NULL AND a.to_day >= $2 ORDER BY a.from_day, a.id`, id, day)
		if call.Away, err = collect(rows, err, scanAway); err != nil {
			return err
		}
		rows, err = tx.Query(ctx, `WITH `+whereTanksAre+` SELECT p.id, t.id, t.name, p.title, p.belief, p.next, p.opened_at
			FROM problem p JOIN tank t ON t.id = p.tank JOIN home ON home.tank = t.id JOIN site s ON s.id = home.site
			WHERE s.customer = $2 AND p.closed_at IS NULL ORDER BY p.opened_at, p.id`, tx.Now, id)
		if call.Problems, err = collect(rows, err, scanProblemLine); err != nil {
			return err
		}
		rows, err = tx.Query(ctx, `WITH `+whereTanksAre+` SELECT g.visit, t.name, g.document, g.given_at
			FROM home JOIN site s ON s.id = home.site JOIN tank t ON t.id = home.tank
			CROSS JOIN LATERAL (SELECT visit, document, given_at FROM sheet WHERE tank = t.id ORDER BY given_at DESC LIMIT 1) g
			WHERE s.customer = $2 AND t.state <> 'ended' ORDER BY g.given_at DESC, t.sort_key COLLATE "C", t.id`, tx.Now, id)
		if call.Sheets, err = collect(rows, err, scanSheetLine); err != nil {
			return err
		}
		rows, err = tx.Query(ctx, contactNoteSelect, id, notesShown+1)
		call.Notes, err = collect(rows, err, scanContactNote)
		if len(call.Notes) > notesShown {
			call.Notes, call.MoreNotes = call.Notes[:notesShown], true
		}
		return err
	})
	return call, err
}

func scanSheetLine(row pgx.Row) (s customer.SheetLine, err error) {
	err = row.Scan(&s.Visit, &s.TankName, &s.Document, &s.GivenAt)
	return s, asFault(err)
}

func scanProblemLine(row pgx.Row) (p customer.ProblemLine, err error) {
	err = row.Scan(&p.ID, &p.Tank, &p.TankName, &p.Title, &p.Belief, &p.Next, &p.OpenedAt)
	return p, asFault(err)
}
