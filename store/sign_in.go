package store

import (
	"context"
	"strings"

	"scaperound/domain/fault"
	"scaperound/domain/staff"
)

// The longest description of a browser that is kept, in bytes.
const maxAgent = 200

// BeginSignIn notes that a person signed in and returns the sign-in's id.
func (db *DB) BeginSignIn(ctx context.Context, person, agent string) (string, error) {
	if len(agent) > maxAgent {
		agent = agent[:maxAgent]
	}
	agent = strings.Map(func(r rune) rune {
		if r < ' ' || r == '\ufffd' {
			return -1
		}
		return r
	}, agent)
	id, now := NewID(), db.Now()
	_, err := db.pool.Exec(ctx, `INSERT INTO sign_in (id, staff, at, seen_at, agent) VALUES ($1, $2, $3, $3, $4)`, id, person, now, agent)
	return id, asFault(err)
}

// SignedIn returns a sign-in that has not ended, with its person as they are
// now and the shop; NotFound otherwise.
func (db *DB) SignedIn(ctx context.Context, id string) (in staff.SignIn, err error) {
	if !ValidID(id) {
		return in, fault.New(fault.NotFound, "There is no such sign-in.")
	}
	const q = `
		SELECT sign_in.id, sign_in.seen_at, ` + staffColumns + `, ` + shopColumns + `
		FROM sign_in JOIN staff ON staff.id = sign_in.staff CROSS JOIN shop
		WHERE sign_in.id = $1 AND sign_in.ended_at IS NULL`
	fields := []any{&in.ID, &in.Seen}
	fields = append(fields, staffFields(&in.Person)...)
	fields = append(fields, shopFields(&in.Shop)...)
	err = asFault(db.pool.QueryRow(ctx, q, id).Scan(fields...))
	return in, err
}

// TouchSignIn notes that the person is still here.
func (db *DB) TouchSignIn(ctx context.Context, id string) error {
	_, err := db.pool.Exec(ctx, `UPDATE sign_in SET seen_at = $2 WHERE id = $1 AND ended_at IS NULL AND seen_at < $2`, id, db.Now())
	return asFault(err)
}

// EndSignIn ends a sign-in; one that has ended stays as it is.
func (db *DB) EndSignIn(ctx context.Context, id string) error {
	_, err := db.pool.Exec(ctx, `UPDATE sign_in SET ended_at = $2 WHERE id = $1 AND ended_at IS NULL`, id, db.Now())
	return asFault(err)
}
