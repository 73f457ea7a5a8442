package store

import (
	"context"
	"time"

	"scaperound/domain/care"
	"scaperound/domain/counter"
	"scaperound/domain/fault"
	"scaperound/domain/tank"
)

// ProfileEffects judges the newest visit of each tank that is held to a profile
// twice: by the bands now and by the bands next. It begins behind the first
// skip tanks, in the order of ProfileRecord, and stops when patience is over;
// left is how many tanks it did not come to. Nothing is kept.
func (db *DB) ProfileEffects(ctx context.Context, now, next tank.Profile, skip int, patience time.Duration, assess Assess) (out []counter.Effect, left int, err error) {
	rec, err := db.ProfileRecord(ctx, now.ID)
	if err != nil {
		return nil, 0, err
	}
	tanks := rec.Tanks[min(max(skip, 0), len(rec.Tanks)):]
	until := time.Now().Add(patience)
	for i, t := range tanks {
		if i > 0 && time.Now().After(until) {
			return out, len(tanks) - i, nil
		}
		e := counter.Effect{Tank: t.ID, TankName: t.Name, CustomerName: t.CustomerName}
		newest, err := VisitsOfTank(ctx, db.pool, t.ID, time.Time{}, endOfTime, 1)
		if err != nil {
			return nil, 0, err
		}
		if len(newest) == 1 {
			c, err := db.CaseFor(ctx, newest[0])
			if err != nil {
				return nil, 0, err
			}
			e.Visit, e.Performed = newest[0].Visit, newest[0].Performed
			c.Profile = now
			e.Was = assess(c)
			c.Profile = next
			e.Would = assess(c)
		}
		out = append(out, e)
	}
	return out, 0, nil
}

// RenameProfile changes what a profile is called and what it is for. Its bands
// and what was judged by them stay.
func (db *DB) RenameProfile(ctx context.Context, by, id, name, about string) error {
	return db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		if err := lockRow(ctx, tx, "profile", id, errNoProfile); err != nil {
			return err
		}
		var was, wasAbout string
		if err := tx.QueryRow(ctx, `SELECT name, about FROM profile WHERE id = $1`, id).Scan(&was, &wasAbout); err != nil {
			return err
		}
		before, after := differing(map[string]any{"Name": was, "About": wasAbout}, map[string]any{"Name": name, "About": about})
		if len(after) == 0 {
			return nil
		}
		if _, err := tx.Exec(ctx, `UPDATE profile SET name = $2, about = $3 WHERE id = $1`, id, name, about); err != nil {
			return err
		}
		return Audit(ctx, tx, by, "renamed", "profile", id, before, after)
	})
}

// troubleStates are the states of a finding that call for attention.
var troubleStates = func() []string {
	var out []string
	for _, s := range []care.State{care.InBand, care.Low, care.High, care.Borderline, care.Retest, care.NotDue, care.NotJudged, care.NotMeasured, care.Seen, care.Due, care.Fine, care.Internal} {
		if s.Trouble() {
			out = append(out, string(s))
		}
	}
	return out
}()

// RuleCounts counts how often each rule fired at visits performed since a
// moment, each visit by its present judgement.
func (db *DB) RuleCounts(ctx context.Context, since time.Time) (counter.RuleCounts, error) {
	out := counter.RuleCounts{Rules: map[string]counter.RuleCount{}}
	const standing = ` FROM evaluation e JOIN visit v ON v.head = e.revision AND v.withdrawn_at IS NULL WHERE e.current AND e.performed_at >= $1`
	if err := db.pool.QueryRow(ctx, `SELECT count(*)`+standing, since).Scan(&out.Visits); err != nil {
		return out, asFault(err)
	}
	rows, err := db.pool.Query(ctx, `SELECT f.rule, count(DISTINCT f.evaluation), count(DISTINCT f.evaluation) FILTER (WHERE f.state = ANY($2)), max(n.performed_at) FILTER (WHERE f.state = ANY($2))
		FROM finding f JOIN (SELECT e.id, e.performed_at`+standing+`) n ON n.id = f.evaluation GROUP BY f.rule`, since, troubleStates)
	if err != nil {
		return out, asFault(err)
	}
	defer rows.Close()
	for rows.Next() {
		var rule string
		var c counter.RuleCount
		var last *time.Time
		if err := rows.Scan(&rule, &c.Judged, &c.Fired, &last); err != nil {
			return out, asFault(err)
		}
		if last != nil {
			c.Last = last.UTC()
		}
		out.Rules[rule] = c
	}
	return out, asFault(rows.Err())
}

// SetUsualKit is the function of the same name in a transaction of its own.
func (db *DB) SetUsualKit(ctx context.Context, by, tankID string, since time.Time, u tank.UsualKit) error {
	return db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		if u.Kit != "" {
			var measures string
			if err := tx.QueryRow(ctx, `SELECT coalesce((SELECT measures FROM kit WHERE id::text = $1), '')`, u.Kit).Scan(&measures); err != nil {
				return err
			}
			if measures != string(u.Kind) {
				return fault.New(fault.NotFound, "There is no such kit for this reading.")
			}
		}
		return SetUsualKit(ctx, tx, by, tankID, since, u)
	})
}
