package store

import (
	"context"
	"slices"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/fault"
	"scaperound/domain/share"
)

// SheetPrints are the photographs on a given sheet, in their order. One that was
// taken back or erased since is there and Gone.
func (db *DB) SheetPrints(ctx context.Context, sheet string) ([]share.Print, error) {
	if !ValidID(sheet) {
		return nil, nil
	}
	return sheetPrints(ctx, db.pool, sheet)
}

func sheetPrints(ctx context.Context, q Querier, sheet string) ([]share.Print, error) {
	const sql = `SELECT s.photo, s.sha256, s.taken_at, photo.width, photo.height, photo.withdrawn_at IS NOT NULL OR photo.erased_at IS NOT NULL
		FROM sheet_photo s JOIN photo ON photo.id = s.photo WHERE s.sheet = $1 ORDER BY s.ord`
	rows, err := q.Query(ctx, sql, sheet)
	return collect(rows, err, func(row pgx.Row) (p share.Print, err error) {
		err = row.Scan(&p.Photo, &p.SHA256, &p.TakenAt, &p.Width, &p.Height, &p.Gone)
		return p, asFault(err)
	})
}

// PrintShared reports whether a photograph is on a sheet that the holder of a
// tank's link may read.
func (db *DB) PrintShared(ctx context.Context, tankID, photo string) (shared bool, err error) {
	if !ValidID(tankID) || !ValidID(photo) {
		return false, nil
	}
	const sql = `SELECT EXISTS (SELECT FROM sheet_photo s JOIN sheet ON sheet.id = s.sheet JOIN visit ON visit.id = sheet.visit
		WHERE s.photo = $2 AND sheet.tank = $1 AND visit.tank = $1 AND visit.withdrawn_at IS NULL)`
	return shared, asFault(db.pool.QueryRow(ctx, sql, tankID, photo).Scan(&shared))
}

// samePrints reports whether a given sheet bears these photographs and no other.
func samePrints(ctx context.Context, tx Tx, sheet string, photos []string) (bool, error) {
	had, err := sheetPrints(ctx, tx, sheet)
	if err != nil {
		return false, err
	}
	ids := make([]string, len(had))
	for i, p := range had {
		ids[i] = p.Photo
	}
	return slices.Equal(ids, photos), nil
}

// freezePrints puts photographs on a sheet that is being given. Only those that
// show the tank as it stands may leave the shop.
func freezePrints(ctx context.Context, tx Tx, sheet, tankID string, photos []string) error {
	for i, id := range photos {
		if !ValidID(id) {
			return errNoPhoto()
		}
		const sql = `INSERT INTO sheet_photo (sheet, ord, photo, sha256, taken_at) SELECT $1, $2, id, sha256, taken_at FROM photo
			WHERE id = $3 AND tank = $4 AND purpose IN ('visit', 'before', 'after') AND withdrawn_at IS NULL AND erased_at IS NULL`
		tag, err := tx.Exec(ctx, sql, sheet, i, id, tankID)
		if err != nil {
			return err
		}
		if tag.RowsAffected() == 0 {
			return fault.New(fault.Conflict, "One of the photographs was taken back or does not belong on a sheet. Choose again.")
		}
	}
	return nil
}
