package store

import (
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"slices"
	"time"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/care"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
	"scaperound/domain/wire"
)

// historyKept is how many earlier visits a judgement sees: two years of weekly
// ones.
const historyKept = 104

// evaluated is one judgement with its key.
type evaluated struct {
	id         string
	assessment care.Assessment
}

// evaluateFrom judges the tank's visits performed at or after a moment, the
// oldest first, each with what was known of the tank as of its own time, and
// brings the open tasks in line with the newest. rec is the visit that was just
// written, whose judgement is returned; nil where one was taken away.
func evaluateFrom(ctx context.Context, tx Tx, tankID string, from time.Time, rec *visit.Record, assess Assess) (evaluated, error) {
	all, first, err := visitsAround(ctx, tx, tankID, from, rec)
	if err != nil {
		return evaluated{}, err
	}
	book, err := bookFrom(ctx, tx, tankID, all[first:])
	if err != nil {
		return evaluated{}, err
	}
	if len(all) == 0 {
		book.settle(&care.Assessment{}, "", from)
		return evaluated{}, book.save(ctx, tx)
	}
	if rec != nil {
		if err := book.relearn(ctx, tx, rec.Visit); err != nil {
			return evaluated{}, err
		}
	}
	var out evaluated
	var heard visit.Record
	var buf rowBuffer
	memory, err := memoryBefore(ctx, tx, all[:first])
	if err != nil {
		return evaluated{}, err
	}
	for i := first; i < len(all); i++ {
		now := &all[i]
		setup, profile, plan, err := TankAt(ctx, tx, tankID, now.Performed)
		if err != nil {
			return out, err
		}
		cause, written := "late", rec != nil && now.Visit == rec.Visit
		if written {
			heard, cause = book.hear(*now), "first"
		}
		c := care.Case{Setup: setup, Profile: profile, Plan: plan, History: all[max(0, i-historyKept):i], Now: *now,
			Open: book.openBefore(now.Performed), Closed: book.closedBefore(now.Performed), Memory: memory}
		e := evaluated{id: NewID(), assessment: assess(c)}
		memory = e.assessment.Memory
		if i == len(all)-1 {
			book.settle(&e.assessment, e.id, now.Performed)
		}
		if written {
			out = e
		}
		if err := retire(ctx, tx, now.Revision); err != nil {
			return out, err
		}
		buf.addEvaluation(e, now, profile, cause, tx.Now, all[:i])
	}
	if err := buf.flush(ctx, tx); err != nil {
		return out, err
	}
	if err := book.save(ctx, tx); err != nil || rec == nil {
		return out, err
	}
	return out, book.saveAnswers(ctx, tx, &heard)
}

// visitsAround reads the visits before a moment that a judgement looks back on
// and those from it on; first is the index of the first to be judged. Where
// there is none from the moment on, that is the newest before it.
func visitsAround(ctx context.Context, tx Tx, tankID string, from time.Time, rec *visit.Record) (all []visit.Record, first int, err error) {
	if all, err = VisitsOfTank(ctx, tx, tankID, time.Time{}, from, historyKept); err != nil {
		return nil, 0, err
	}
	later, err := VisitsOfTank(ctx, tx, tankID, from, endOfTime, mostLater)
	if err != nil {
		return nil, 0, err
	}
	first = len(all)
	if len(later) == 0 && first > 0 {
		first--
	}
	all = append(all, later...)
	for i := range all {
		if rec != nil && all[i].Visit == rec.Visit {
			all[i] = *rec // with its answers to tasks, which are written last
		}
	}
	return all, first, nil
}

// mostLater bounds how many later visits one late visit has judged anew: at
// one a day, thirteen years of them.
const mostLater = 5000

// retire takes a revision's judgement out of the present, with what it held back.
func retire(ctx context.Context, tx Tx, revision string) error {
	b := &pgx.Batch{}
	b.Queue(`UPDATE evaluation SET current = false WHERE revision = $1 AND current`, revision)
	b.Queue(`UPDATE sheet_hold SET settled_at = $2 WHERE settled_at IS NULL AND evaluation IN (SELECT id FROM evaluation WHERE revision = $1)`, revision, tx.Now)
	return tx.SendBatch(ctx, b).Close()
}

// endOfTime is later than every visit.
var endOfTime = time.Date(9999, 1, 1, 0, 0, 0, 0, time.UTC)

func bookFrom(ctx context.Context, tx Tx, tankID string, visits []visit.Record) (*taskBook, error) {
	named, from := []string{}, endOfTime
	for _, v := range visits {
		if v.Performed.Before(from) {
			from = v.Performed
		}
		for _, a := range v.Tasks {
			named = append(named, a.Task)
		}
	}
	rows, err := tasksSince(ctx, tx, tankID, from.AddDate(0, 0, -followedDays), named)
	if err != nil {
		return nil, err
	}
	return newTaskBook(tankID, rows), nil
}

// addEvaluation queues a judgement with its findings and, where it says so, the
// hold that keeps its sheet back until the owner has seen it.
func (b *rowBuffer) addEvaluation(e evaluated, r *visit.Record, p tank.Profile, cause string, now time.Time, history []visit.Record) {
	a := &e.assessment
	b.add("evaluation", e.id, r.Revision, r.Tank, r.Performed, now, cause, a.Rules, nullText(p.Version), inputSum(r, p, history), string(a.Status), string(a.Urgency),
		null(a.Next.On), null(a.Next.Extra), a.Memory.Bytes(), string(wire.EncodeAssessment(*a)))
	for i, f := range a.Findings {
		b.add("finding", e.id, i, f.Rule, f.Subject, string(f.System), string(f.State), string(f.Urgency), string(f.Audience))
	}
	if a.HoldFor != "" {
		b.add("sheet_hold", e.id, r.Tank, a.HoldFor, now)
	}
}

// inputSum names what a judgement was made from, so that one can tell whether
// it would be made of the same things today.
func inputSum(r *visit.Record, p tank.Profile, history []visit.Record) []byte {
	h := sha256.New()
	fmt.Fprintf(h, "%s\n%s\n%s\n", r.Revision, p.Version, r.Performed.UTC().Format(time.RFC3339Nano))
	for _, past := range history {
		fmt.Fprintf(h, "%s\n", past.Revision)
	}
	return h.Sum(nil)
}

// firstEvaluation is the judgement that the person who posted a revision saw.
func firstEvaluation(ctx context.Context, db Querier, revision string) (evaluated, error) {
	return scanEvaluation(db.QueryRow(ctx, `SELECT id, document FROM evaluation WHERE revision = $1 ORDER BY at, id LIMIT 1`, revision))
}

func scanEvaluation(row pgx.Row) (evaluated, error) {
	var e evaluated
	var document string
	if err := row.Scan(&e.id, &document); err != nil {
		return e, asFault(err)
	}
	var err error
	e.assessment, err = wire.DecodeAssessment([]byte(document))
	return e, err
}

// Evaluation is the newest judgement of a visit.
type Evaluation = care.Evaluation

// EvaluationOf returns the present judgement of a visit.
func (db *DB) EvaluationOf(ctx context.Context, visitID string) (Evaluation, error) {
	var e Evaluation
	if !ValidID(visitID) {
		return e, errNoVisit()
	}
	var document string
	err := db.pool.QueryRow(ctx, `SELECT e.id, e.revision, e.at, e.cause, e.document, coalesce(h.reason, '')
		FROM visit v JOIN evaluation e ON e.revision = v.head AND e.current
		LEFT JOIN sheet_hold h ON h.evaluation = e.id AND h.settled_at IS NULL WHERE v.id = $1`, visitID).
		Scan(&e.ID, &e.Revision, &e.At, &e.Cause, &document, &e.HeldFor)
	if errors.Is(err, pgx.ErrNoRows) {
		return e, errNoVisit()
	}
	if err != nil {
		return e, asFault(err)
	}
	e.Assessment, err = wire.DecodeAssessment([]byte(document))
	return e, err
}

// NewestAssessment is the present judgement of the tank's newest visit; ok is
// false for a tank that nobody has visited yet.
func (db *DB) NewestAssessment(ctx context.Context, tankID string) (a care.Assessment, visitID string, ok bool, err error) {
	var document string
	err = db.pool.QueryRow(ctx, `SELECT v.id, e.document FROM visit v JOIN evaluation e ON e.revision = v.head AND e.current
		WHERE v.tank = $1 AND v.withdrawn_at IS NULL ORDER BY v.performed_at DESC, v.id DESC LIMIT 1`, tankID).Scan(&visitID, &document)
	if errors.Is(err, pgx.ErrNoRows) {
		return a, "", false, nil
	}
	if err != nil {
		return a, "", false, asFault(err)
	}
	a, err = wire.DecodeAssessment([]byte(document))
	return a, visitID, err == nil, err
}

// CaseFor is what a judgement of a visit that is still being typed would see.
func (db *DB) CaseFor(ctx context.Context, rec visit.Record) (care.Case, error) {
	c := care.Case{Now: rec}
	err := db.Snapshot(ctx, func(ctx context.Context, tx Tx) error {
		if err := setApart(ctx, tx, &c.Now); err != nil {
			return err
		}
		rec := c.Now
		var err error
		if c.Setup, c.Profile, c.Plan, err = TankAt(ctx, tx, rec.Tank, rec.Performed); err != nil {
			return err
		}
		if c.History, err = VisitsOfTank(ctx, tx, rec.Tank, time.Time{}, rec.Performed, historyKept); err != nil {
			return err
		}
		// An amendment is judged without the revision that it replaces.
		c.History = slices.DeleteFunc(c.History, func(r visit.Record) bool { return r.Visit == rec.Visit })
		if c.Memory, err = memoryBefore(ctx, tx, c.History); err != nil {
			return err
		}
		rows, err := tasksSince(ctx, tx, rec.Tank, rec.Performed.AddDate(0, 0, -followedDays), []string{})
		if err != nil {
			return err
		}
		book := newTaskBook(rec.Tank, rows)
		book.hear(rec)
		c.Open, c.Closed = book.openBefore(rec.Performed), book.closedBefore(rec.Performed)
		return nil
	})
	return c, err
}
