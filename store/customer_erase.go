package store

import (
	"context"

	"github.com/jackc/pgx/v5"
)

// erasedName stands where a name was, so that a visit still hangs from something.
const erasedName = "Erased customer"

// EraseCustomer empties for good what is known of a person: the customer's
// fields, the sites' addresses and cards, how to get in, absences, what was
// said, and the values that the audit noted of their changes. Care-sheet links
// to their tanks stop working, keys count as given up and the photographs of
// their tanks are emptied. Tanks, visits and the care sheets that were given stay. It cannot be undone.
func (db *DB) EraseCustomer(ctx context.Context, by, id string) error {
	return db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		was, err := lockCustomer(ctx, tx, id)
		if err != nil || was.ErasedAt.OK {
			return err
		}
		if _, err := tx.Exec(ctx, `SELECT set_config('scaperound.erasing', 'on', true)`); err != nil {
			return err
		}
		for _, sql := range erasure {
			if _, err := tx.Exec(ctx, sql, pgx.NamedArgs{"customer": id, "now": tx.Now, "erased": erasedName}); err != nil {
				return err
			}
		}
		return Audit(ctx, tx, by, "erased", "customer", id, nil, nil)
	})
}

const theirSites = `(SELECT id FROM site WHERE customer = @customer)`

var erasure = []string{
	// What the audit noted goes first, while the rows still say whose they are.
	`UPDATE audit SET before = NULL, after = NULL WHERE (before IS NOT NULL OR after IS NOT NULL) AND (noun, noun_id) IN (
		SELECT 'customer', (@customer::uuid)::text
		UNION ALL SELECT 'site', id::text FROM site WHERE customer = @customer
		UNION ALL SELECT 'contact note', id::text FROM contact_note WHERE customer = @customer
		UNION ALL SELECT 'absence', id::text FROM site_away WHERE site IN ` + theirSites + `
		UNION ALL SELECT 'key', id::text FROM site_key WHERE site IN ` + theirSites + `
		UNION ALL SELECT 'incident', id::text FROM incident WHERE site IN ` + theirSites + `)`,
	`UPDATE contact_note SET they_said = '', we_said = '' WHERE customer = @customer`,
	`DELETE FROM access_note WHERE site IN ` + theirSites,
	`UPDATE site_away SET why = '', stand_in = '', row_version = row_version + 1 WHERE site IN ` + theirSites,
	`UPDATE site_key SET retired_at = @now WHERE retired_at IS NULL AND site IN ` + theirSites,
	`UPDATE incident SET told = '' WHERE site IN ` + theirSites,
	// Photographs show a home: those taken or received while the tank stood there.
	`UPDATE photo SET bytes = '', small = '', sha256 = '', sent_sha256 = '', width = 0, height = 0, erased_at = @now WHERE erased_at IS NULL AND EXISTS (
		SELECT FROM (VALUES (photo.taken_at), (photo.received_at)) moment (at) WHERE (
			SELECT t.site FROM tank_site t WHERE t.tank = photo.tank
			ORDER BY t.since <= moment.at DESC, CASE WHEN t.since <= moment.at THEN t.since END DESC, t.since LIMIT 1) IN ` + theirSites + `)`,
	`UPDATE trouble_call SET words = '' WHERE contact_note IN (SELECT id FROM contact_note WHERE customer = @customer)`,
	`UPDATE link SET revoked_at = @now WHERE revoked_at IS NULL AND (site IN ` + theirSites + ` OR tank IN (
		SELECT tank FROM (SELECT DISTINCT ON (tank) tank, site FROM tank_site ORDER BY tank, since DESC) home WHERE site IN ` + theirSites + `))`,
	`UPDATE site SET name = 'Erased site', address = '', town = '', lat = NULL, lon = NULL, altitude_m = NULL, stairs = '', stopcock = '', breaker = '', drain = '',
		search = '', sort_key = '', town_key = '', archived_at = coalesce(archived_at, @now), updated_at = @now, row_version = row_version + 1 WHERE customer = @customer`,
	`UPDATE customer SET name = @erased, kind = 'other', language = 'en', phones = '{}', email = '', notes = '', search = '', sort_key = '',
		archived_at = coalesce(archived_at, @now), erased_at = @now, updated_at = @now, row_version = row_version + 1 WHERE id = @customer`,
}
