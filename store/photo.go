package store

import (
	"bytes"
	"context"
	"errors"
	"time"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/fault"
	"scaperound/domain/tank"
)

// PhotoLimits bound what photographs may take.
type PhotoLimits struct {
	PerVisit int   // photographs of one visit
	PerDay   int   // of one tank within 24 hours, visits or not
	Bytes    int64 // of all prints of the shop
}

// photoLimits are generous for work and narrow for a mistake: a day's shooting,
// and ten years of four photographs at twenty visits a week.
var photoLimits = PhotoLimits{PerVisit: 24, PerDay: 60, Bytes: 20 << 30}

// WithPhotoLimits sets other limits.
func WithPhotoLimits(l PhotoLimits) Option { return func(o *options) { o.photos = l } }

// Codes of the conflicts of photographs, for scripts.
const (
	TooManyPhotos = "too-many-photographs"
	NoRoom        = "no-room"
	OfErased      = "erased"
)

const photoColumns = `photo.id, photo.tank, photo.visit::text, visit.id IS NOT NULL, photo.ord, photo.purpose, photo.taken_at, photo.received_at,
	photo.staff::text, coalesce(staff.name, ''), photo.sha256, photo.width, photo.height, photo.withdrawn_at IS NOT NULL, photo.erased_at IS NOT NULL`

const photoFrom = ` FROM photo LEFT JOIN visit ON visit.id = photo.visit LEFT JOIN staff ON staff.id = photo.staff `

// photoOrder is the newest first, and the photographs of one moment as they
// were taken.
const photoOrder = ` ORDER BY photo.taken_at DESC, photo.ord, photo.id`

func scanPhoto(row pgx.Row) (p tank.Photo, err error) {
	err = row.Scan(&p.ID, &p.Tank, textOr(&p.Visit), &p.VisitHere, &p.Order, &p.Purpose, &p.TakenAt, &p.ReceivedAt,
		textOr(&p.Staff), &p.StaffName, &p.SHA256, &p.Width, &p.Height, &p.Withdrawn, &p.Erased)
	return p, asFault(err)
}

func errNoPhoto() error { return fault.New(fault.NotFound, "There is no such photograph.") }

func otherPhoto() error {
	return &fault.Error{Kind: fault.Conflict, Code: OtherContent,
		Msg: "Another photograph was already received under this number. What was received first is kept; this one is not."}
}

// PhotoSeen reports whether a photograph was received before with the same
// bytes; a Conflict (OtherContent) where other ones came under its id.
func (db *DB) PhotoSeen(ctx context.Context, id string, sent []byte) (bool, error) {
	return photoSeen(ctx, db.pool, id, sent)
}

func photoSeen(ctx context.Context, q Querier, id string, sent []byte) (bool, error) {
	if !ValidID(id) {
		return false, errNoPhoto()
	}
	var had []byte
	err := q.QueryRow(ctx, `SELECT sent_sha256 FROM photo WHERE id = $1`, id).Scan(&had)
	switch {
	case errors.Is(err, pgx.ErrNoRows):
		return false, nil
	case err != nil:
		return false, asFault(err)
	case !bytes.Equal(had, sent):
		return false, otherPhoto()
	}
	return true, nil
}

// AddPhoto keeps a photograph. The same one again is a replay. One whose visit
// has moved to another tank goes there too; the visit need not have arrived.
// Faults: NotFound for the tank; Conflict with OtherContent, TooManyPhotos,
// NoRoom or OfErased.
func (db *DB) AddPhoto(ctx context.Context, p tank.Picture) (replay bool, err error) {
	err = db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		if p.Visit != "" {
			err := tx.QueryRow(ctx, `SELECT tank FROM visit WHERE id = $1`, p.Visit).Scan(&p.Tank)
			if err != nil && !errors.Is(err, pgx.ErrNoRows) {
				return err
			}
		}
		if err := lockTank(ctx, tx, p.Tank); err != nil {
			return err
		}
		if replay, err = photoSeen(ctx, tx, p.ID, p.SentSHA256); err != nil || replay {
			return err
		}
		if err := db.photoFits(ctx, tx, p); err != nil {
			return err
		}
		const insert = `INSERT INTO photo (id, tank, visit, ord, purpose, taken_at, received_at, sha256, sent_sha256, media_type, width, height, bytes, small, staff)
			VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, 'image/jpeg', $10, $11, $12, $13, $14)`
		_, err := tx.Exec(ctx, insert, p.ID, p.Tank, nullText(p.Visit), p.Order, string(p.Purpose), p.TakenAt, tx.Now, p.SHA256, p.SentSHA256,
			p.Width, p.Height, p.Large, p.Small, nullText(p.Staff))
		return err
	})
	return replay, err
}

// photoFits checks the limits, under the tank's lock.
func (db *DB) photoFits(ctx context.Context, tx Tx, p tank.Picture) error {
	var ofVisit, ofDay int
	var bytes int64
	var erased bool
	const sql = `SELECT
		(SELECT count(*) FROM photo WHERE visit = $1::uuid AND withdrawn_at IS NULL),
		(SELECT count(*) FROM photo WHERE tank = $2 AND received_at > $3),
		(SELECT coalesce(sum(octet_length(bytes)::bigint + octet_length(small)), 0)::bigint FROM photo),
		coalesce((SELECT customer.erased_at IS NOT NULL FROM tank_site JOIN site ON site.id = tank_site.site JOIN customer ON customer.id = site.customer
			WHERE tank_site.tank = $2 ORDER BY tank_site.since DESC LIMIT 1), false)`
	if err := tx.QueryRow(ctx, sql, nullText(p.Visit), p.Tank, tx.Now.Add(-24*time.Hour)).Scan(&ofVisit, &ofDay, &bytes, &erased); err != nil {
		return err
	}
	l := db.photos
	refuse := func(code, format string, args ...any) error {
		f := fault.New(fault.Conflict, format, args...)
		f.Code = code
		return f
	}
	switch {
	case erased:
		return refuse(OfErased, "This customer was erased, so no photograph of their tank is kept.")
	case ofVisit >= l.PerVisit:
		return refuse(TooManyPhotos, "This visit has %d photographs, which is the most that one can have. Take one back first.", l.PerVisit)
	case ofDay >= l.PerDay:
		return refuse(TooManyPhotos, "This tank got %d photographs within a day, which is the most that are taken. Send the rest tomorrow.", l.PerDay)
	case bytes+int64(len(p.Large)+len(p.Small)) > l.Bytes:
		return refuse(NoRoom, "The shop’s photographs fill the %d MB that they may have. Tell the owner; the photograph stays on this device.", l.Bytes>>20)
	}
	return nil
}

// Photo returns a photograph, also one that was taken back.
func (db *DB) Photo(ctx context.Context, id string) (tank.Photo, error) {
	if !ValidID(id) {
		return tank.Photo{}, errNoPhoto()
	}
	p, err := scanPhoto(db.pool.QueryRow(ctx, `SELECT `+photoColumns+photoFrom+`WHERE photo.id = $1`, id))
	if fault.Is(err, fault.NotFound) {
		return p, errNoPhoto()
	}
	return p, err
}

// PhotoPrint returns a print of a photograph as a JPEG file; NotFound for one
// that was taken back or erased.
func (db *DB) PhotoPrint(ctx context.Context, id string, small bool) ([]byte, error) {
	if !ValidID(id) {
		return nil, errNoPhoto()
	}
	var file []byte
	const sql = `SELECT CASE WHEN $2 AND octet_length(small) > 0 THEN small ELSE bytes END FROM photo WHERE id = $1 AND withdrawn_at IS NULL AND erased_at IS NULL`
	err := db.pool.QueryRow(ctx, sql, id, small).Scan(&file)
	if errors.Is(err, pgx.ErrNoRows) {
		return nil, errNoPhoto()
	}
	return file, asFault(err)
}

// TankPhotos lists a tank's photographs, the newest first, without those that
// were taken back; NotFound where there is no such tank.
func (db *DB) TankPhotos(ctx context.Context, tankID string) ([]tank.Photo, error) {
	if !ValidID(tankID) {
		return nil, errNoTank()
	}
	rows, err := db.pool.Query(ctx, `SELECT `+photoColumns+photoFrom+`WHERE photo.tank = $1 AND photo.withdrawn_at IS NULL AND photo.erased_at IS NULL`+photoOrder, tankID)
	list, err := collect(rows, err, scanPhoto)
	if err != nil || len(list) > 0 {
		return list, err
	}
	var there bool
	if err := db.pool.QueryRow(ctx, `SELECT EXISTS (SELECT FROM tank WHERE id = $1)`, tankID).Scan(&there); err != nil {
		return nil, asFault(err)
	}
	if !there {
		return nil, errNoTank()
	}
	return nil, nil
}

// WithdrawPhoto takes a photograph back, or brings it back again. A technician
// may do so with their own only: Forbidden.
func (db *DB) WithdrawPhoto(ctx context.Context, by string, owner bool, id string, withdrawn bool) error {
	if !ValidID(id) {
		return errNoPhoto()
	}
	return db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		var staff string
		var was, erased bool
		err := tx.QueryRow(ctx, `SELECT staff::text, withdrawn_at IS NOT NULL, erased_at IS NOT NULL FROM photo WHERE id = $1 FOR NO KEY UPDATE`, id).
			Scan(textOr(&staff), &was, &erased)
		switch {
		case errors.Is(err, pgx.ErrNoRows) || erased:
			return errNoPhoto()
		case err != nil:
			return err
		case staff != by && !owner:
			return fault.New(fault.Forbidden, "Somebody else took this photograph. They or the owner can take it back.")
		case was == withdrawn:
			return nil
		}
		const sql = `UPDATE photo SET withdrawn_at = CASE WHEN $2 THEN $3::timestamptz END, withdrawn_by = CASE WHEN $2 THEN $4::uuid END WHERE id = $1`
		if _, err := tx.Exec(ctx, sql, id, withdrawn, tx.Now, nullText(by)); err != nil {
			return err
		}
		return Audit(ctx, tx, by, map[bool]string{true: "took back", false: "brought back"}[withdrawn], "photograph", id, nil, nil)
	})
}
