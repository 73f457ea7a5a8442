package store

import (
	"context"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/staff"
)

// thingsSQL names in one question whatever a list of changes is about.
const thingsSQL = `
	SELECT id, 'tank', id, name, NULL::timestamptz, NULL::date FROM tank WHERE id = ANY($1)
	UNION ALL SELECT id, 'customer', id, name, NULL, NULL FROM customer WHERE id = ANY($1)
	UNION ALL SELECT id, 'site', id, name, NULL, NULL FROM site WHERE id = ANY($1)
	UNION ALL SELECT id, 'staff', id, name, NULL, NULL FROM staff WHERE id = ANY($1)
	UNION ALL SELECT id, 'profile', id, name, NULL, NULL FROM profile WHERE id = ANY($1)
	UNION ALL SELECT id, 'source', id, name, NULL, NULL FROM source_water WHERE id = ANY($1)
	UNION ALL SELECT id, 'kit', id, name, NULL, NULL FROM kit WHERE id = ANY($1)
	UNION ALL SELECT l.id, 'kit', k.id, k.name || ', lot ' || l.lot, NULL, NULL FROM kit_lot l JOIN kit k ON k.id = l.kit WHERE l.id = ANY($1)
	UNION ALL SELECT id, 'van', id, name, NULL, NULL FROM van WHERE id = ANY($1)
	UNION ALL SELECT k.id, 'key', k.id, k.number || ', ' || s.name, NULL, NULL FROM site_key k JOIN site s ON s.id = k.site WHERE k.id = ANY($1)
	UNION ALL SELECT a.id, 'absence', a.id, s.name, NULL, a.from_day FROM site_away a JOIN site s ON s.id = a.site WHERE a.id = ANY($1)
	UNION ALL SELECT s.id, 'stop', s.id, si.name, coalesce(s.arrived_at, s.created_at), NULL FROM stop s JOIN site si ON si.id = s.site WHERE s.id = ANY($1)
	UNION ALL SELECT v.id, 'visit', v.id, t.name, v.performed_at, NULL FROM visit v JOIN tank t ON t.id = v.tank WHERE v.id = ANY($1)
	UNION ALL SELECT p.id, 'problem', p.id, p.title || ', ' || t.name, NULL, NULL FROM problem p JOIN tank t ON t.id = p.tank WHERE p.id = ANY($1)
	UNION ALL SELECT k.id, 'task', k.id, t.name, k.opened_at, NULL FROM task k JOIN tank t ON t.id = k.tank WHERE k.id = ANY($1)
	UNION ALL SELECT c.id, 'call for help', c.id, t.name, c.at, NULL FROM trouble_call c JOIN tank t ON t.id = c.tank WHERE c.id = ANY($1)
	UNION ALL SELECT d.id, 'death', d.tank, t.name, d.seen_at, NULL FROM death_record d JOIN tank t ON t.id = d.tank WHERE d.id = ANY($1)
	UNION ALL SELECT f.id, 'filter stop', f.tank, t.name, f.at, NULL FROM filter_stop f JOIN tank t ON t.id = f.tank WHERE f.id = ANY($1)
	UNION ALL SELECT i.id, 'incident', i.site, s.name, i.noticed_at, NULL FROM incident i JOIN site s ON s.id = i.site WHERE i.id = ANY($1)
	UNION ALL SELECT n.id, 'contact note', n.customer, c.name, n.at, NULL FROM contact_note n JOIN customer c ON c.id = n.customer WHERE n.id = ANY($1)
	UNION ALL SELECT s.id, 'sheet', s.visit, t.name, s.given_at, NULL FROM sheet s JOIN tank t ON t.id = s.tank WHERE s.id = ANY($1)
	UNION ALL SELECT l.id, 'link', t.id, t.name, NULL, NULL FROM link l JOIN tank t ON t.id = l.tank WHERE l.id = ANY($1)
	UNION ALL SELECT f.id, 'photograph', f.tank, t.name, f.taken_at, NULL FROM photo f JOIN tank t ON t.id = f.tank WHERE f.id = ANY($1)`

// Things finds what ids stand for, by id. An id that stands for nothing is left
// out, and so is what is no id.
func (db *DB) Things(ctx context.Context, ids []string) (map[string]staff.Thing, error) {
	known := make([]string, 0, len(ids))
	for _, id := range ids {
		if ValidID(id) {
			known = append(known, id)
		}
	}
	out := map[string]staff.Thing{}
	if len(known) == 0 {
		return out, nil
	}
	rows, err := db.pool.Query(ctx, thingsSQL, known)
	_, err = collect(rows, err, func(row pgx.Row) (t staff.Thing, err error) {
		var id string
		err = asFault(row.Scan(&id, &t.Noun, &t.ID, &t.Name, maybeTime(&t.At), maybeDay(&t.Day)))
		if err == nil {
			out[id] = t
		}
		return t, err
	})
	return out, err
}
