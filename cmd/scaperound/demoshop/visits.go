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
	at := begin - spec.place%every
	for every%7 == 0 && (today-q.Date(at)).Weekday() != usualDay(spec.place) {
		at--
	}
	if every%7 == 0 && today.Weekday() == usualDay(spec.place) {
		at -= at % every // so that today has its share
	}
	for at >= 1 { // today is still to come
		if day := today - q.Date(at); day.Weekday() != time.Sunday && day.Weekday() != time.Saturday {
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

// usualDay is the weekday on which a place is used to us.
func usualDay(place int) time.Weekday { return time.Monday + time.Weekday(place%5) }

// site makes the tanks of a place and lives through their nine months.
func (l *loader) site(ctx context.Context, site int, made []madeTank) error {
	stops, err := l.stops(ctx, site)
	if err != nil {
		return err
	}
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

// stops writes the place's stops and returns them by days ago: three tanks in
// one restaurant are one stop. A stop at which nobody could get in is complete
// without a visit.
func (l *loader) stops(ctx context.Context, site int) (map[int]string, error) {
	byDay := map[int]string{}
	stay := stays(site, l.req.Today)
	var all []store.PastStop
	for _, spec := range tanks {
		if spec.place != site {
			continue
		}
		for _, c := range calls(spec, l.req.Today) {
			at := l.at(c.ago, ways[spec.way].visitMinute)
			s := store.PastStop{ID: store.NewID(), Site: l.sites[site], Staff: l.regular(site), Arrived: at, Left: at.Add(stay(c.ago)), Outcome: "done"}
			why := ""
			if t := tales[spec.story]; t.cannotEnter != nil {
				why = t.cannotEnter(c.left)
			}
			if why != "" {
				s.Left, s.Outcome, s.Why = at.Add(10*time.Minute), "could_not_get_in", why
			} else if byDay[c.ago] != "" {
				continue
			} else {
				byDay[c.ago] = s.ID
			}
			all = append(all, s)
		}
	}
	return byDay, l.db.Tx(ctx, func(ctx context.Context, tx store.Tx) error { return store.RecordStops(ctx, tx, all) })
}

// stays is how long each day's stop at a place takes: about what is agreed for
// the tanks that are visited then, a little more or less.
func stays(site int, today q.Date) func(ago int) time.Duration {
	minutes := map[int]int{}
	for _, spec := range tanks {
		if spec.place == site {
			for _, c := range calls(spec, today) {
				minutes[c.ago] += usualMinutes(spec.length * spec.width * (spec.height - 4) / 1000 * 0.9)
			}
		}
	}
	return func(ago int) time.Duration {
		return time.Duration((places[site].parking+minutes[ago])*(92+(ago*7+site*3)%20)/100) * time.Minute
	}
}

// usualMinutes is what is agreed for a visit to so many litres.
func usualMinutes(litres float64) int { return 25 + int(litres/8) }

// at is the shop's wall time on a day that lies ago days before today.
func (l *loader) at(ago int, minute q.MinuteOfDay) time.Time {
	return time.Date(1970, 1, 1+int(l.req.Today)-ago, 0, int(minute), 0, 0, l.zone).UTC()
}

// story lives through a tank's months day by day and posts each visit.
func (l *loader) story(ctx context.Context, i int, m *madeTank, stops map[int]string) error {
	spec := tanks[i]
	w := newWorld(spec, m.setup, m.net, l.bag, l.req.Today, l.zone, l.dice(i))
	ahead, ago := calls(spec, l.req.Today), min(past, spec.weeks*7)
	var err error
	m.newestVisit, err = l.db.LoadVisits(ctx, m.id, func(at func(time.Time) (tank.Setup, error), open []care.Task) (*visit.Record, store.Body, error) {
		for len(ahead) > 0 {
			c := ahead[0]
			ahead = ahead[1:]
			for ; ago >= c.ago; ago-- {
				w.lived(ago)
			}
			if w.tale.cannotEnter == nil || w.tale.cannotEnter(c.left) == "" {
				return l.visit(w, m.id, c, stops[c.ago], at, open)
			}
		}
		return nil, store.Body{}, nil
	}, care.Assess)
	return err
}

// visit is one visit as the tablet would post it: the form, read by the domain.
func (l *loader) visit(w *world, tankID string, c call, stop string, at func(time.Time) (tank.Setup, error), open []care.Task) (*visit.Record, store.Body, error) {
	by := l.regular(w.spec.place)
	if w.r.Float64() < 0.1 {
		by = l.req.Staff[1+(w.spec.place+1)%2].ID
	}
	p, when := w.visited(c.ago, c.left, [2]string{store.NewID(), store.NewID()}, by, stop, open)
	setup, err := at(when.UTC())
	if err != nil {
		return nil, store.Body{}, err
	}
	rec, err := l.read(p, tankID, setup, when)
	sum := sha256.Sum256(visit.Canonical(p.fields))
	return &rec, store.Body{Raw: p.body(), SHA256: sum[:]}, err
}

func (l *loader) read(p *post, tankID string, setup tank.Setup, at time.Time) (visit.Record, error) {
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
