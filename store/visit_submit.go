package store

import (
	"bytes"
	"context"
	"errors"
	"time"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/care"
	"scaperound/domain/fault"
	"scaperound/domain/visit"
)

// Assess decides what a visit means: care.Assess.
type Assess = func(care.Case) care.Assessment

// Submitted is what became of a post.
type Submitted = care.Submitted

// Codes of conflicts, for scripts.
const (
	OtherContent    = "other-content"
	EditedMeanwhile = "edited-meanwhile"
	OtherPerson     = "other-person"
	OtherTank       = "other-tank"
)

func errNoVisit() error { return fault.New(fault.NotFound, "There is no such visit.") }

// SubmitVisit writes a visit, or a revision of one, with all that follows from
// it, in one transaction: facts, judgement, tasks. The same body again returns
// the first answer. Conflict faults carry OtherContent, EditedMeanwhile or
// OtherTank.
func (db *DB) SubmitVisit(ctx context.Context, rec visit.Record, body Body, assess Assess) (Submitted, error) {
	var out Submitted
	err := db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		var err error
		out, err = submitVisit(ctx, tx, rec, body, assess)
		return err
	})
	return out, err
}

func submitVisit(ctx context.Context, tx Tx, rec visit.Record, body Body, assess Assess) (Submitted, error) {
	out := Submitted{Visit: rec.Visit, Revision: rec.Revision}
	if err := lockTank(ctx, tx, rec.Tank); err != nil {
		return out, err
	}
	replayed, err := replay(ctx, tx, &out, rec, body)
	if err != nil || replayed {
		return out, err
	}
	head, err := headOf(ctx, tx, rec)
	if err != nil {
		return out, err
	}
	if err := setApart(ctx, tx, &rec); err != nil {
		return out, err
	}
	var buf rowBuffer
	if head.visit == "" {
		buf.addVisit(&rec, tx.Now)
	} else if err := supersede(ctx, tx, rec, head); err != nil {
		return out, err
	}
	buf.addRevision(&rec, head.no+1, body)
	if err := buf.flush(ctx, tx); err != nil {
		return out, err
	}
	from := rec.Performed
	if head.visit != "" && head.performed.Before(from) {
		from = head.performed
	}
	evaluated, err := evaluateFrom(ctx, tx, rec.Tank, from, &rec, assess)
	if err != nil {
		return out, err
	}
	out.Evaluation, out.Assessment = evaluated.id, evaluated.assessment
	return out, nil
}

// replay answers a body that was here before.
func replay(ctx context.Context, tx Tx, out *Submitted, rec visit.Record, body Body) (bool, error) {
	var sum []byte
	var visitID, tankID string
	err := tx.QueryRow(ctx, `SELECT r.sha256, r.visit, v.tank FROM visit_revision r JOIN visit v ON v.id = r.visit WHERE r.id = $1`, rec.Revision).
		Scan(&sum, &visitID, &tankID)
	switch {
	case errors.Is(err, pgx.ErrNoRows):
		return false, nil
	case err != nil:
		return false, err
	case !bytes.Equal(sum, body.SHA256) || visitID != rec.Visit:
		return false, &fault.Error{Kind: fault.Conflict, Code: OtherContent,
			Msg: "Something else was already received under this form's number. What was received first is kept; what came now is not."}
	}
	if tankID != rec.Tank {
		stoodThere, err := movedFrom(ctx, tx, visitID, rec.Tank)
		if err != nil {
			return false, err
		}
		if !stoodThere {
			return false, errOtherTank()
		}
	}
	out.Replay = true
	evaluation, err := firstEvaluation(ctx, tx, rec.Revision)
	if err != nil {
		return false, err
	}
	out.Evaluation, out.Assessment = evaluation.id, evaluation.assessment
	return true, nil
}

// movedFrom reports whether the visit once stood at the tank: a post that was
// made before somebody moved it is sent to that address again.
func movedFrom(ctx context.Context, tx Tx, visitID, tankID string) (stood bool, err error) {
	err = tx.QueryRow(ctx, `SELECT EXISTS (SELECT FROM audit WHERE noun = 'visit' AND noun_id = $1 AND verb = 'moved' AND before->>'Tank' = $2)`, visitID, tankID).Scan(&stood)
	return stood, err
}

func errOtherTank() error {
	return &fault.Error{Kind: fault.Conflict, Code: OtherTank,
		Msg: "A visit with this form's number belongs to another tank. Nothing was changed there or here. Open this tank's form anew to write a visit down for it."}
}

// head is the newest revision of a visit that is there already.
type head struct {
	visit, revision string
	no              int
	performed       time.Time
}

// headOf checks that a revision stands on the newest one.
func headOf(ctx context.Context, tx Tx, rec visit.Record) (head, error) {
	var h head
	var tankID string
	err := tx.QueryRow(ctx, `SELECT v.id, v.head, v.tank, v.performed_at, r.no FROM visit v JOIN visit_revision r ON r.id = v.head WHERE v.id = $1`, rec.Visit).
		Scan(&h.visit, &h.revision, &tankID, &h.performed, &h.no)
	switch {
	case errors.Is(err, pgx.ErrNoRows) && rec.Base != "":
		return head{}, fault.New(fault.NotFound, "The visit that this changes is not there.")
	case errors.Is(err, pgx.ErrNoRows):
		return head{}, nil
	case err != nil:
		return head{}, err
	case tankID != rec.Tank:
		return head{}, errOtherTank()
	case h.revision != rec.Base:
		return head{}, &fault.Error{Kind: fault.Conflict, Code: EditedMeanwhile,
			Msg: "Somebody changed this visit meanwhile. Both versions are kept; look at the newer one before you send yours again."}
	}
	return h, nil
}

// setApart gives a visit a moment of its own among those to the tank.
func setApart(ctx context.Context, tx Tx, rec *visit.Record) error {
	rows, err := tx.Query(ctx, `SELECT performed_at FROM visit
		WHERE tank = $1 AND id::text <> $2 AND withdrawn_at IS NULL AND performed_at >= $3 AND performed_at < $3 + interval '1 second'`, rec.Tank, rec.Visit, rec.Performed)
	if err != nil {
		return err
	}
	taken, err := pgx.CollectRows(rows, pgx.RowTo[time.Time])
	rec.Performed = visit.Apart(rec.Performed, taken)
	return err
}

// supersede takes the older revision's rows out of the present.
func supersede(ctx context.Context, tx Tx, rec visit.Record, h head) error {
	b := &pgx.Batch{}
	b.Queue(`UPDATE reading SET current = false WHERE revision = $1`, h.revision)
	b.Queue(`UPDATE movement SET superseded_at = $2 WHERE visit = $1 AND superseded_at IS NULL`, rec.Visit, tx.Now)
	b.Queue(`UPDATE gear_event SET superseded_at = $2 WHERE visit = $1 AND superseded_at IS NULL`, rec.Visit, tx.Now)
	b.Queue(`UPDATE visit SET head = $2, performed_at = $3, kind = $4 WHERE id = $1`, rec.Visit, rec.Revision, rec.Performed, string(rec.Kind))
	if err := tx.SendBatch(ctx, b).Close(); err != nil {
		return err
	}
	return retire(ctx, tx, h.revision)
}
