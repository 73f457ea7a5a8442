package round

import (
	"slices"

	q "scaperound/domain/quantity"
	"scaperound/domain/say"
)

// Move is what a hand does with one stop: put it after another stop of a
// person's day, or take it out of the plan.
type Move struct {
	Stop   string // ID
	Day    q.Date
	Person string // ID
	With   string // ID of the second person of a job for two; put where it costs least in their day
	After  string // ID of a stop of that day; empty: the first of the day
	Out    bool   // no place: back among those without one
}

// Quote is what a move costs, before it is done.
type Quote struct {
	Move    Move
	Plan    Plan // as it would be after the move
	Change  Cost // after less before
	Drive   Seconds
	Words   []say.Sentence // what it costs and brings, the gravest first
	Breaks  []Breach       // rules that would be broken and are not now
	Allowed bool           // it breaks none
}

// Price works out a move by hand on a plan, without the search touching anything
// else. Kept stops and promises can be moved too: the quote says what it breaks.
// ok is false where the move names a stop or a working day that is not there.
func Price(p Problem, plan Plan, mv Move) (quote Quote, ok bool) {
	m := compile(&p)
	before := m.draftOf(plan)
	after, ok := m.moved(before, mv)
	if !ok {
		return Quote{Move: mv}, false
	}
	return m.quote(before, after, mv), true
}

// quote compares two drafts.
func (m *model) quote(before, after *draft, mv Move) Quote {
	old := m.plan(before)
	out := Quote{Move: mv, Plan: m.plan(after)}
	m.explain(after, &out.Plan)
	out.Change = out.Plan.Cost.less(old.Cost)
	out.Drive = Seconds(out.Change.Drive)
	out.Breaks = fresh(Check(*m.p, old), Check(*m.p, out.Plan))
	out.Allowed = len(out.Breaks) == 0
	for _, b := range out.Breaks {
		out.Words = append(out.Words, b.Say)
	}
	out.Words = append(out.Words, m.words(old, out.Plan)...)
	return out
}

func (c Cost) less(o Cost) Cost {
	return Cost{
		Total: c.Total - o.Total, Unplaced: c.Unplaced - o.Unplaced, Urgent: c.Urgent - o.Urgent, Due: c.Due - o.Due, Weekday: c.Weekday - o.Weekday,
		Moved: c.Moved - o.Moved, Drive: c.Drive - o.Drive, Uneven: c.Uneven - o.Uneven, Person: c.Person - o.Person, Metres: c.Metres - o.Metres,
	}
}

// fresh are the breaches that are new.
func fresh(old, now []Breach) []Breach {
	key := func(b Breach) string { return b.Rule + " " + b.Day.String() + " " + b.Person + " " + b.Stop }
	was := map[string]bool{}
	for _, b := range old {
		was[key(b)] = true
	}
	return slices.DeleteFunc(now, func(b Breach) bool { return was[key(b)] })
}

// words say what a plan gives up and gains against another.
func (m *model) words(old, now Plan) []say.Sentence {
	var out []say.Sentence
	key := func(g GivenUp) string { return g.Kind + " " + g.Stop + " " + itoa(g.Days) }
	was := map[string]bool{}
	for _, g := range old.GaveUp {
		was[key(g)] = true
	}
	for _, g := range now.GaveUp {
		if !was[key(g)] {
			out = append(out, g.Say)
		}
		delete(was, key(g))
	}
	for _, g := range old.GaveUp {
		if was[key(g)] {
			out = append(out, say.S("round.no_more."+g.Kind, say.Text("stop", m.p.Stops[m.byStop[g.Stop]].Name)))
		}
	}
	switch more := now.Cost.Drive - old.Cost.Drive; {
	case more >= 30:
		out = append(out, say.S("round.drive.more", minutesArg("time", Seconds(more))))
	case more <= -30:
		out = append(out, say.S("round.drive.less", minutesArg("time", Seconds(-more))))
	}
	for i, r := range now.Routes {
		if i < len(old.Routes) && len(r.Visits) > 0 && r.Back > old.Routes[i].Back+5*Minute && len(old.Routes[i].Visits) > 0 {
			out = append(out, say.S("round.back.later", say.Text("who", m.nameOf(r.Person)), say.Day("day", r.Day), say.Text("at", clockText(r.Back))))
		}
	}
	return out
}

// minutesArg is a time in words: minutes, or hours and minutes.
func minutesArg(name string, s Seconds) say.Arg {
	n := int((s + 30) / 60)
	switch {
	case n == 1:
		return say.Text(name, "1 minute")
	case n < 90:
		return say.Text(name, itoa(n)+" minutes")
	}
	return say.Text(name, itoa(n/60)+" h "+itoa(n%60)+" min")
}

// clockText writes 07:45.
func clockText(s Seconds) string { return q.MinuteOfDay(s / 60 % (24 * 60)).String() }

// Prices are the cheapest places for one stop that break no rule, the cheapest
// first, at most most of them: of each shift the best. The stop may stand in the
// plan already; it is priced as if taken out first.
func Prices(p Problem, plan Plan, stop string, most int) []Quote {
	m := compile(&p)
	v, ok := m.nodeOf(stop)
	if !ok {
		return nil
	}
	before := m.draftOf(plan)
	bare := before.clone()
	m.takeOut(bare, v)
	var out []Quote
	for _, x := range m.cheapest(bare, v, most) {
		after := bare.clone()
		m.putAll(after, v, x)
		mv := Move{Stop: stop, Day: p.From.Add(m.cars[x[0].car].day), Person: p.People[m.cars[x[0].car].person].ID}
		if x[0].pos > 0 {
			mv.After = p.Stops[m.stopOf[bare.seq[x[0].car][x[0].pos-1]]].ID
		}
		if len(x) == 2 {
			mv.With = p.People[m.cars[x[1].car].person].ID
		}
		out = append(out, m.quote(before, after, mv))
	}
	return out
}

// cheapest lists where a stop fits: one spot, or two for a job for two.
func (m *model) cheapest(d *draft, v int32, most int) [][]spot {
	var found [][]spot
	if t := m.twin[v]; t >= 0 {
		found = m.pairs(d, v, t)
	} else {
		for _, s := range m.spots(d, v, false) {
			found = append(found, []spot{s})
		}
	}
	sum := func(x []spot) int64 {
		n := int64(0)
		for _, s := range x {
			n += s.cost
		}
		return n
	}
	slices.SortStableFunc(found, func(a, b []spot) int {
		switch x, y := sum(a), sum(b); {
		case x < y:
			return -1
		case x > y:
			return 1
		}
		return 0
	})
	return found[:min(len(found), most)]
}

func (m *model) putAll(d *draft, v int32, x []spot) {
	if len(x) == 2 {
		d.fixed[v], d.fixed[m.twin[v]] = x[0].start, x[0].start
		m.put(d, m.twin[v], x[1])
	}
	m.put(d, v, x[0])
}
