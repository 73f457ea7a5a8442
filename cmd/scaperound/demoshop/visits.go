package demoshop

import (
	"context"
	"crypto/sha256"
	"time"

	"scaperound/domain/care"
	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
	"scaperound/store"
)

// call is one day on which somebody came, or tried to.
type call struct{ ago, left int }

// calls are the days of a tank's visits, the oldest first.
func calls(spec tankSpec, today q.Date) []call {
	every := ways[spec.way].everyDays
	begin := min(past, spec.weeks*7)
	var ago []int
	for at := begin - spec.place%every; at >= 0; {
		if day := today - q.Date(at); day.Weekday() != time.Sunday && (day.Weekday() != time.Saturday || places[spec.place].kind == "restaurant") {
			ago = append(ago, at)
			step := every
			if spec.way == "young" && len(ago) > 8 {
				step = 7 // the second month needs fewer changes
			}
			at -= step
		} else {
			at--
		}
	}
	all := make([]call, len(ago))
	for i, a := range ago {
		all[i] = call{ago: a, left: len(ago) - 1 - i}
	}
	return all
}

// site makes the tanks of a place and lives through their nine months.
func (l *loader) site(ctx context.Context, site int, made []madeTank) error {
	stops := map[int]string{} // by days ago: three tanks in one restaurant are one stop
	for i, spec := range tanks {
		if spec.place != site {
			continue
		}
		m, err := l.tank(ctx, i)
		if err != nil {
			return err
		}
		if err := l.story(ctx, i, &m, stops); err != nil {
			return err
		}
		made[i] = m
	}
	return nil
}

func (l *loader) story(ctx context.Context, i int, m *madeTank, stops map[int]string) error {
	spec := tanks[i]
	w := newWorld(spec, m.setup, m.net, l.bag, l.req.Today, l.zone, l.dice(i))
	all := calls(spec, l.req.Today)
	next := 0
	for ago := min(past, spec.weeks*7); ago >= 0; ago-- {
		w.lived(ago)
		if next == len(all) || all[next].ago != ago {
			continue
		}
		c := all[next]
		next++
		if w.tale.cannotEnter != nil {
			if why := w.tale.cannotEnter(c.left); why != "" {
				if err := l.shutOut(ctx, spec, c.ago, why); err != nil {
					return err
				}
				continue
			}
		}
		if err := l.visit(ctx, w, m, c, stops); err != nil {
			return err
		}
	}
	return nil
}

// visit posts one visit as the tablet would: the form, read by the domain,
// judged, and written in one transaction.
func (l *loader) visit(ctx context.Context, w *world, m *madeTank, c call, stops map[int]string) error {
	by := l.regular(w.spec.place)
	if w.r.Float64() < 0.1 {
		by = l.req.Staff[1+(w.spec.place+1)%2].ID
	}
	stop, known := stops[c.ago]
	if !known {
		stop = store.NewID()
		at := time.Date(1970, 1, 1+int(l.req.Today)-c.ago, 0, int(w.way.visitMinute), 0, 0, l.zone)
		err := l.db.Tx(ctx, func(ctx context.Context, tx store.Tx) error {
			return store.RecordStop(ctx, tx, store.PastStop{ID: stop, Site: l.sites[w.spec.place], Staff: by, Arrived: at.UTC(), Left: at.Add(90 * time.Minute).UTC(), Outcome: "done"})
		})
		if err != nil {
			return err
		}
		stops[c.ago] = stop
	}
	open, err := l.db.OpenTasks(ctx, m.id)
	if err != nil {
		return err
	}
	p, at := w.visited(c.ago, c.left, [2]string{store.NewID(), store.NewID()}, by, stop, open)
	rec, err := l.read(ctx, p, m.id, at)
	if err != nil {
		return err
	}
	sum := sha256.Sum256(visit.Canonical(p.fields))
	if _, err := l.db.SubmitVisit(ctx, rec, store.Body{Raw: p.body(), SHA256: sum[:]}, care.Assess); err != nil {
		return err
	}
	m.newestVisit = rec.Visit
	return nil
}

func (l *loader) read(ctx context.Context, p *post, tankID string, at time.Time) (visit.Record, error) {
	var setup tank.Setup
	err := l.db.Snapshot(ctx, func(ctx context.Context, tx store.Tx) (err error) {
		setup, _, _, err = store.TankAt(ctx, tx, tankID, at)
		return err
	})
	if err != nil {
		return visit.Record{}, err
	}
	c := visit.Context{Tank: tankID, Locale: q.Locale{Decimal: '.'}, Kits: setup.Kits, Can: setup.CanLitres,
		Wall: func(d q.Date, m q.MinuteOfDay) time.Time {
			return time.Date(1970, 1, 1+int(d), 0, int(m), 0, 0, l.zone).UTC()
		},
		Local: func(t time.Time) (q.Date, q.MinuteOfDay) {
			t = t.In(l.zone)
			return q.DateOf(t), q.MinuteOfDay(t.Hour()*60 + t.Minute())
		}}
	s, faults := visit.Parse(p.fields, c)
	if err := faults.Err(); err != nil {
		return visit.Record{}, err
	}
	return visit.New(s, setup, at.Add(20*time.Minute), c)
}

// shutOut is a complete stop without readings.
func (l *loader) shutOut(ctx context.Context, spec tankSpec, ago int, why string) error {
	at := time.Date(1970, 1, 1+int(l.req.Today)-ago, 0, int(ways[spec.way].visitMinute), 0, 0, l.zone).UTC()
	return l.db.Tx(ctx, func(ctx context.Context, tx store.Tx) error {
		return store.RecordStop(ctx, tx, store.PastStop{ID: store.NewID(), Site: l.sites[spec.place], Staff: l.regular(spec.place),
			Arrived: at, Left: at.Add(10 * time.Minute), Outcome: "could_not_get_in", Why: why})
	})
}
