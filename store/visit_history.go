package store

import (
	"context"
	"math"
	"slices"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"

	q "scaperound/domain/quantity"
	"scaperound/domain/visit"
)

// visitColumns are the head of a visit with its newest revision.
const visitColumns = `v.id, v.tank, coalesce(v.stop::text, ''), v.kind, v.performer, v.performed_at,
	(v.performed_at AT TIME ZONE s.zone)::date,
	(extract(hour FROM v.performed_at AT TIME ZONE s.zone) * 60 + extract(minute FROM v.performed_at AT TIME ZONE s.zone))::int,
	r.id, coalesce(r.base::text, ''), r.sent_at, r.received_at, r.skew_seconds, r.reason, r.note_customer, r.note_inside, r.flags, r.acted_hash, r.acted_rules,
	t.arrived_at, t.left_at`

const visitFrom = ` FROM visit v JOIN visit_revision r ON r.id = v.head CROSS JOIN shop s LEFT JOIN stop t ON t.id = v.stop `

func scanVisit(row pgx.CollectableRow) (visit.Record, error) {
	var rec visit.Record
	var kind string
	var minute, skew int
	err := row.Scan(&rec.Visit, &rec.Tank, &rec.Stop, &kind, &rec.Staff, &rec.Performed, day(&rec.Day), &minute,
		&rec.Revision, &rec.Base, maybeTime(&rec.Sent), &rec.Received, &skew, &rec.Reason, &rec.NoteCustomer, &rec.NoteInside, &rec.Flags,
		&rec.ActedHash, &rec.ActedRules, maybeTime(&rec.Arrived), maybeTime(&rec.Left))
	rec.Kind, rec.Minute, rec.Skew = visit.Kind(kind), q.MinuteOfDay(minute), time.Duration(skew)*time.Second
	rec.Looks = map[visit.Look]visit.Answer{}
	return rec, err
}

// VisitsOfTank returns the tank's visits performed in [from, to), the oldest
// first, each with its newest revision; at most limit of them, the latest
// kept. A visit that was withdrawn is not among them. Times are UTC.
func VisitsOfTank(ctx context.Context, db Batcher, tankID string, from, to time.Time, limit int) ([]visit.Record, error) {
	recs, err := visitsWhere(ctx, db, `v.tank = $1 AND v.withdrawn_at IS NULL AND v.performed_at >= $2 AND v.performed_at < $3
		ORDER BY v.performed_at DESC, v.id DESC LIMIT $4`, tankID, from, to, limit)
	slices.Reverse(recs)
	return recs, err
}

// VisitsSince returns the tank's visits performed at or after a moment, the oldest
// first; at most limit of them, the latest kept.
func (db *DB) VisitsSince(ctx context.Context, tankID string, from time.Time, limit int) ([]visit.Record, error) {
	if !ValidID(tankID) {
		return nil, errNoTank()
	}
	return VisitsOfTank(ctx, db.pool, tankID, from, endOfTime, limit)
}

// VisitByID returns one visit with its newest revision.
func (db *DB) VisitByID(ctx context.Context, id string) (visit.Record, error) {
	if !ValidID(id) {
		return visit.Record{}, errNoVisit()
	}
	recs, err := visitsWhere(ctx, db.pool, `v.id = $1`, id)
	if err != nil {
		return visit.Record{}, err
	}
	if len(recs) == 0 {
		return visit.Record{}, errNoVisit()
	}
	return recs[0], nil
}

func visitsWhere(ctx context.Context, db Batcher, where string, args ...any) ([]visit.Record, error) {
	rows, err := db.Query(ctx, `SELECT `+visitColumns+visitFrom+` WHERE `+where, args...)
	if err != nil {
		return nil, asFault(err)
	}
	recs, err := pgx.CollectRows(rows, scanVisit)
	if err != nil {
		return nil, asFault(err)
	}
	return recs, fillVisits(ctx, db, recs)
}

// fillVisits reads what the revisions say, in one round trip for all of them.
func fillVisits(ctx context.Context, db Batcher, recs []visit.Record) error {
	if len(recs) == 0 {
		return nil
	}
	at := make(map[string]*visit.Record, len(recs))
	ids := make([]string, len(recs))
	for i := range recs {
		at[recs[i].Revision], ids[i] = &recs[i], recs[i].Revision
	}
	b := &pgx.Batch{}
	queueReadings(b, ids, at)
	queueMaps(b, ids, at)
	queueSeen(b, ids, at)
	queueWork(b, ids, at)
	queueMoved(b, ids, at)
	return asFault(db.SendBatch(ctx, b).Close())
}

func queueReadings(b *pgx.Batch, ids []string, at map[string]*visit.Record) {
	b.Queue(`SELECT revision, kind, phase, drawn_at, value, lo, hi, coalesce(kit_lot::text, ''), typed, typed_unit, confirmed
		FROM reading WHERE revision = ANY($1) ORDER BY revision, kind, phase`, ids).Query(func(rows pgx.Rows) error {
		var rev, kind, phase, unit string
		var lo, hi *float64
		var x visit.Reading
		_, err := pgx.ForEachRow(rows, []any{&rev, &kind, &phase, &x.Drawn, &x.Value, &lo, &hi, &x.Lot, &x.Typed, &unit, &x.Confirmed}, func() error {
			x.Kind, x.Phase, x.TypedUnit = q.Kind(kind), visit.Phase(phase), q.Unit(unit)
			x.Lo, x.Hi = math.Inf(-1), math.Inf(1)
			if lo != nil {
				x.Lo = *lo
			}
			if hi != nil {
				x.Hi = *hi
			}
			at[rev].Readings = append(at[rev].Readings, x)
			return nil
		})
		return err
	})
}

func queueMaps(b *pgx.Batch, ids []string, at map[string]*visit.Record) {
	b.Queue(`SELECT revision, x_cm, y_cm, depth_cm, umol FROM ppfd_point WHERE revision = ANY($1) ORDER BY revision, ord`, ids).Query(func(rows pgx.Rows) error {
		var rev string
		var p visit.PPFDPoint
		_, err := pgx.ForEachRow(rows, []any{&rev, maybe(&p.X), maybe(&p.Y), maybe(&p.Depth), &p.PPFD}, func() error {
			at[rev].PPFD = append(at[rev].PPFD, p)
			return nil
		})
		return err
	})
	b.Queue(`SELECT revision, phase, litres, seconds FROM bucket_run WHERE revision = ANY($1) ORDER BY revision, phase DESC, ord`, ids).Query(func(rows pgx.Rows) error {
		var rev, phase string
		var run visit.BucketRun
		_, err := pgx.ForEachRow(rows, []any{&rev, &phase, &run.Litres, &run.Seconds}, func() error {
			run.Phase = visit.Phase(phase)
			at[rev].Buckets = append(at[rev].Buckets, run)
			return nil
		})
		return err
	})
}

func queueSeen(b *pgx.Batch, ids []string, at map[string]*visit.Record) {
	b.Queue(`SELECT revision, sign, answer, place, extent FROM observation WHERE revision = ANY($1) ORDER BY revision, sign`, ids).Query(func(rows pgx.Rows) error {
		var rev, sign, answer, place, extent string
		_, err := pgx.ForEachRow(rows, []any{&rev, &sign, &answer, &place, &extent}, func() error {
			rec := at[rev]
			if look, ok := strings.CutPrefix(sign, lookPrefix); ok {
				rec.Looks[visit.Look(look)] = visit.Trouble
				if answer == "looked_fine" {
					rec.Looks[visit.Look(look)] = visit.Fine
				}
			} else if eye, ok := strings.CutPrefix(sign, eyePrefix); ok {
				rec.EyeMark = visit.EyeMark(eye)
			} else {
				rec.Signs = append(rec.Signs, visit.Sign{ID: sign, Place: place, Extent: extent})
			}
			return nil
		})
		return err
	})
	b.Queue(`SELECT revision, what, note FROM since_last WHERE revision = ANY($1) ORDER BY revision, what`, ids).Query(func(rows pgx.Rows) error {
		var rev string
		var s visit.Since
		_, err := pgx.ForEachRow(rows, []any{&rev, &s.What, &s.Note}, func() error {
			at[rev].Since = append(at[rev].Since, s)
			return nil
		})
		return err
	})
}

func queueWork(b *pgx.Batch, ids []string, at map[string]*visit.Record) {
	b.Queue(`SELECT revision, kind, solute, g, ml, l, minutes, part, pays, note FROM work WHERE revision = ANY($1) ORDER BY revision, ord`, ids).Query(func(rows pgx.Rows) error {
		var rev, kind string
		var w visit.Work
		_, err := pgx.ForEachRow(rows, []any{&rev, &kind, &w.Solute, maybe(&w.Grams), maybe(&w.Ml), maybe(&w.Litres), maybe(&w.Time), &w.Part, &w.Pays, &w.Note}, func() error {
			w.Kind = visit.WorkKind(kind)
			at[rev].Work = append(at[rev].Work, w)
			return nil
		})
		return err
	})
	b.Queue(`SELECT revision, doses, missed, bottle_ml, note FROM between_visits WHERE revision = ANY($1)`, ids).Query(func(rows pgx.Rows) error {
		var rev string
		var d visit.DosesBetween
		_, err := pgx.ForEachRow(rows, []any{&rev, &d.How, maybeInt(&d.Missed), maybe(&d.BottleMl), &d.Note}, func() error {
			at[rev].Doses = d
			return nil
		})
		return err
	})
	b.Queue(`SELECT revision, item, state, note FROM leave_check WHERE revision = ANY($1) ORDER BY revision, item`, ids).Query(func(rows pgx.Rows) error {
		var rev string
		var l visit.Leave
		_, err := pgx.ForEachRow(rows, []any{&rev, &l.Item, &l.State, &l.Note}, func() error {
			at[rev].Leave = append(at[rev].Leave, l)
			return nil
		})
		return err
	})
}

func queueMoved(b *pgx.Batch, ids []string, at map[string]*visit.Record) {
	b.Queue(`SELECT revision, living, grp, species, n, reason, pays, note FROM movement WHERE revision = ANY($1) AND superseded_at IS NULL ORDER BY revision, grp, species, reason, n`, ids).Query(func(rows pgx.Rows) error {
		var rev string
		var m visit.Movement
		_, err := pgx.ForEachRow(rows, []any{&rev, &m.Living, &m.Group, &m.Species, &m.N, &m.Reason, &m.Pays, &m.Note}, func() error {
			at[rev].Movements = append(at[rev].Movements, m)
			return nil
		})
		return err
	})
	b.Queue(`SELECT revision, task, state, reason, who, words FROM task_answer WHERE revision = ANY($1) ORDER BY revision, task`, ids).Query(func(rows pgx.Rows) error {
		var rev string
		var a visit.TaskAnswer
		_, err := pgx.ForEachRow(rows, []any{&rev, &a.Task, &a.State, &a.Reason, &a.Who, &a.Words}, func() error {
			at[rev].Tasks = append(at[rev].Tasks, a)
			return nil
		})
		return err
	})
}
