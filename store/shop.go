package store

import (
	"context"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/fault"
	"scaperound/domain/shop"
)

const shopColumns = `shop.name, shop.zone, shop.locale, shop.units, shop.phone, shop.paper, shop.show_figures, shop.row_version`

// shopFields are the places that shopColumns are scanned into.
func shopFields(s *shop.Settings) []any {
	return []any{&s.Name, &s.Zone, &s.Locale, &s.Units, &s.Phone, &s.Paper, &s.ShowFigures, &s.Version}
}

func scanShop(row pgx.Row) (s shop.Settings, err error) {
	err = asFault(row.Scan(shopFields(&s)...))
	return s, err
}

// Shop returns the shop; NotFound before the first start was gone through.
func (db *DB) Shop(ctx context.Context) (shop.Settings, error) {
	return scanShop(db.pool.QueryRow(ctx, `SELECT `+shopColumns+` FROM shop`))
}

// MakeShop writes the shop's one record; Conflict where it is there already.
func (t Tx) MakeShop(ctx context.Context, s shop.Settings) error {
	const q = `
		INSERT INTO shop (name, zone, locale, decimal_mark, units, phone, paper, show_figures, updated_at)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9)`
	_, err := t.Exec(ctx, q, s.Name, s.Zone, s.Locale, s.DecimalMark(), s.Units, s.Phone, s.Paper, s.ShowFigures, t.Now)
	return asFault(err)
}

// ChangeShop writes the settings over the version that they were made from, and
// returns them with the new one. Conflict where somebody was faster.
func (db *DB) ChangeShop(ctx context.Context, by string, s shop.Settings) (shop.Settings, error) {
	var after shop.Settings
	err := db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		before, err := scanShop(tx.QueryRow(ctx, `SELECT `+shopColumns+` FROM shop FOR UPDATE`))
		if err != nil {
			return err
		}
		if before.Version != s.Version {
			return changedMeanwhile("The shop's settings were")
		}
		const q = `
			UPDATE shop SET name = $1, zone = $2, locale = $3, decimal_mark = $4, units = $5, phone = $6, paper = $7,
				show_figures = $8, updated_at = $9, row_version = row_version + 1
			RETURNING ` + shopColumns
		after, err = scanShop(tx.QueryRow(ctx, q, s.Name, s.Zone, s.Locale, s.DecimalMark(), s.Units, s.Phone, s.Paper, s.ShowFigures, tx.Now))
		if err != nil {
			return err
		}
		return Audit(ctx, tx, by, "changed", "shop", "shop", shopAudit(before), shopAudit(after))
	})
	return after, err
}

func shopAudit(s shop.Settings) map[string]any {
	return map[string]any{"name": s.Name, "zone": s.Zone, "locale": s.Locale, "units": s.Units, "phone": s.Phone, "paper": s.Paper, "show_figures": s.ShowFigures}
}

// changedMeanwhile is the answer to an edit made from an older version.
func changedMeanwhile(what string) *fault.Error {
	f := fault.New(fault.Conflict, "%s changed by somebody else while you typed. Nothing of yours was kept yet; what you typed is below. Look at it once more and save again.", what)
	f.Code = "edited-meanwhile"
	return f
}
