package store

import (
	"context"

	"scaperound/domain/customer"
	"scaperound/domain/fault"
)

// AccessNote returns how one gets into a site. Where nothing has been written
// yet it is an empty note of version 0; NotFound where there is no such site.
// No other statement of this package reads the table.
func (db *DB) AccessNote(ctx context.Context, site string) (customer.AccessNote, error) {
	n := customer.AccessNote{Site: site}
	if !ValidID(site) {
		return n, errNoSite()
	}
	const sql = `SELECT coalesce(n.note, ''), coalesce(n.alarm_code, ''), coalesce(n.row_version, 0), coalesce(n.updated_at, 'epoch'), coalesce(p.name, '')
		FROM site s LEFT JOIN access_note n ON n.site = s.id LEFT JOIN staff p ON p.id = n.updated_by WHERE s.id = $1`
	err := db.pool.QueryRow(ctx, sql, site).Scan(&n.Note, &n.AlarmCode, &n.Version, &n.UpdatedAt, &n.UpdatedBy)
	return n, orNoSite(asFault(err))
}

// EditAccessNote keeps how one gets into n.Site. n.Version is the one that was
// edited: where it is not the newest the answer is a Conflict and nothing is
// changed. The audit says which part changed and never the words.
func (db *DB) EditAccessNote(ctx context.Context, by string, n customer.AccessNote) error {
	return db.Tx(ctx, func(ctx context.Context, tx Tx) error { return EditAccessNote(ctx, tx, by, n) })
}

// EditAccessNote is DB.EditAccessNote within a transaction.
func EditAccessNote(ctx context.Context, tx Tx, by string, n customer.AccessNote) error {
	// The site's row is the lock: the note may not exist yet.
	if _, err := lockSite(ctx, tx, n.Site); err != nil {
		return err
	}
	var was customer.AccessNote
	const read = `SELECT note, alarm_code, row_version FROM access_note WHERE site = $1`
	if err := asFault(tx.QueryRow(ctx, read, n.Site).Scan(&was.Note, &was.AlarmCode, &was.Version)); err != nil && !fault.Is(err, fault.NotFound) {
		return err
	}
	if was.Version != n.Version {
		return editedMeanwhile()
	}
	var changed []string
	if was.Note != n.Note {
		changed = append(changed, "note")
	}
	if was.AlarmCode != n.AlarmCode {
		changed = append(changed, "alarm code")
	}
	if len(changed) == 0 {
		return nil
	}
	const write = `INSERT INTO access_note (site, note, alarm_code, updated_at, updated_by) VALUES ($1, $2, $3, $4, $5)
		ON CONFLICT (site) DO UPDATE SET note = excluded.note, alarm_code = excluded.alarm_code, updated_at = excluded.updated_at,
			updated_by = excluded.updated_by, row_version = access_note.row_version + 1`
	if _, err := tx.Exec(ctx, write, n.Site, n.Note, n.AlarmCode, tx.Now, nullText(by)); err != nil {
		return asFault(err)
	}
	return Audit(ctx, tx, by, "changed", "access note", n.Site, nil, map[string]any{"changed": changed})
}
