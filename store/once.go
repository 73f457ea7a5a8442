package store

import (
	"context"
	"errors"
	"time"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/fault"
)

// onceKept is how long a form that was sent is remembered: longer than anybody
// leaves a page open and taps again.
const onceKept = 7 * 24 * time.Hour

// form is one form as it was sent.
type form struct {
	id       string
	sum      []byte
	noun, of string // what was made first, as the audit names it
}

type formKey struct{}

// Once returns a context whose next transaction makes what the form asks for
// once: sent again with the same words, while the first is under way or after,
// it changes nothing and returns an error that SentBefore knows. id is the
// form's number; one that is no key makes no promise.
func (db *DB) Once(ctx context.Context, id string, sum []byte) context.Context {
	if !ValidID(id) {
		return ctx
	}
	return context.WithValue(ctx, formKey{}, &form{id: id, sum: sum})
}

// sentBefore is the error of a form that was answered already.
type sentBefore struct{ id string }

func (sentBefore) Error() string { return "the form was sent before" }

// SentBefore reports whether a form was answered before, and the id of what it
// made then.
func (db *DB) SentBefore(err error) (id string, sent bool) {
	var s sentBefore
	sent = errors.As(err, &s)
	return s.id, sent
}

// claim notes the form of the context, and waits for the same form where it is
// just being answered.
func (t Tx) claim(ctx context.Context) (*form, error) {
	f, ok := ctx.Value(formKey{}).(*form)
	if !ok {
		return nil, nil
	}
	if _, err := t.Exec(ctx, `DELETE FROM form_once WHERE at < $1`, t.Now.Add(-onceKept)); err != nil {
		return nil, err
	}
	tag, err := t.Exec(ctx, `INSERT INTO form_once (id, sha256, at) VALUES ($1, $2, $3) ON CONFLICT DO NOTHING`, f.id, f.sum, t.Now)
	if err != nil || tag.RowsAffected() == 1 {
		return f, err
	}
	var made string
	if err := t.QueryRow(ctx, `SELECT noun_id FROM form_once WHERE id = $1 AND sha256 = $2`, f.id, f.sum).Scan(&made); err != nil && !errors.Is(err, pgx.ErrNoRows) {
		return nil, err
	}
	return nil, &fault.Error{Kind: fault.Conflict, Code: "sent-before", Msg: "This was sent before, and is kept.", Err: sentBefore{made}}
}

// made notes what the form made.
func (f *form) made(ctx context.Context, t Tx) error {
	if f == nil {
		return nil
	}
	_, err := t.Exec(ctx, `UPDATE form_once SET noun = $3, noun_id = $4 WHERE id = $1 AND sha256 = $2`, f.id, f.sum, f.noun, f.of)
	return err
}

// noteMade remembers the first thing that the form's transaction audits.
func noteMade(ctx context.Context, noun, id string) {
	if f, ok := ctx.Value(formKey{}).(*form); ok && f.noun == "" {
		f.noun, f.of = noun, id
	}
}
