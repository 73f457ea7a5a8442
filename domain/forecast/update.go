package forecast

import (
	"math"

	"scaperound/domain/num"
	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
)

// longest is after how many days without a visit the water's past says nothing
// more.
const longest = 200

// Update folds one visit into the state: the days since the last one under the
// plan that was in force, then what was read before the work, then the work.
// The set-up is that of the visit's day. A visit earlier than the state's last
// leaves it as it is: fold the tank's visits anew, in the order in which they
// were performed.
func Update(s State, setup tank.Setup, plan tank.Plan, v visit.Record) State {
	if s.Version != Version || rebuilt(&s, &setup) {
		s = Start(setup)
	}
	if s.Visits > 0 && v.Day < s.Day {
		return s
	}
	days := 0.0
	if s.Visits > 0 {
		days = float64(v.Day - s.Day)
	}
	net := float64(volumeOf(&setup))
	s.Turn = Turn{}
	switch {
	case days > longest:
		s = afterSilence(s, setup)
	case days > 0:
		iv := between(&s, &setup, &plan, v.Doses, days, net, v.Day)
		before := s
		s.carry(&iv, &setup)
		trial := s
		doubt := trial.readings(&setup, &v)
		s = weighTurns(before, s, trial, doubt, &iv, &setup, &v)
	}
	if days == 0 || days > longest {
		s.readings(&setup, &v)
	}
	s.gearReadings(&setup, &v, days)
	s.work(&setup, &plan, &v, net)
	s.after(&setup, &v)
	if s.Visits > 0 && days > 0 {
		s.Every = usualOf(s.Every, days)
	}
	s.Day = v.Day
	s.Visits++
	return s
}

func rebuilt(s *State, setup *tank.Setup) bool {
	return setup.SetUpOn.OK && s.SetUpOn != 0 && setup.SetUpOn.V != s.SetUpOn
}

func usualOf(old, now float64) float64 {
	if old == 0 {
		return now
	}
	return old + float64(0.25*(now-old))
}

func volumeOf(setup *tank.Setup) q.Litre {
	net, _ := NetVolume(*setup)
	return q.Litre(clamp(float64(net.Or(usualNet)), 0.5, 1e5))
}

// afterSilence keeps what is learnt about kits and source and forgets the rest.
func afterSilence(s State, setup tank.Setup) State {
	n := Start(setup)
	for _, i := range [...]int{kitNO3, kitPO4, kitK, kitFe, kitGH, kitKH, evap} {
		n.Mean[i] = s.Mean[i]
		n.Cov[at(i, i)] = s.Cov[at(i, i)]
	}
	n.Visits, n.Share, n.Seen, n.Cylinder = s.Visits, s.Share, s.Seen, s.Cylinder
	n.Cylinder.forget()
	return n
}

// between is what is known of the days before the visit.
func between(s *State, setup *tank.Setup, plan *tank.Plan, d visit.DosesBetween, days, net float64, on q.Date) interval {
	iv := interval{days: days, since: s.SinceFull, dose: dailyOf(*plan, net), fed: fedDaily(setup, net), jolt: 1, topoff: setup.Topoff, soil: soilSink(setup, on)}
	iv.source = sourceOf(setup)
	n := &usual
	owner := setup.Share.Doses
	iv.noise = n.Report[0]
	if owner {
		iv.noise = n.Report[2]
	}
	switch d.How {
	case "some_missed":
		iv.noise = n.Report[3]
		iv.less = n.SomeMissed
		if d.Missed.OK {
			planned := math.Max(1, dosesIn(plan, days))
			iv.less = num.Log(1 - clamp(float64(d.Missed.V)/planned, 0, 0.95))
		}
	case "altered":
		iv.noise = 0.5
	case "as_planned":
		iv.noise = math.Min(iv.noise, n.Report[1])
	}
	return iv
}

func sourceOf(setup *tank.Setup) (u [3]float64) {
	for i, k := range [...]q.Kind{q.Phosphate, q.Potassium, q.Iron} {
		u[i] = clamp(setup.Change(k).Or([...]float64{0.1, 2, 0}[i]), 0, 1e4)
	}
	return u
}

// carry moves the state through an interval and lets what is learnt drift.
func (s *State) carry(iv *interval, setup *tank.Setup) {
	n := &usual
	s.push(mostChances, iv.idle(), iv.pass)
	t := iv.days
	week := t / 7
	for i := range moves {
		sd := n.Stray[i]
		if i == gh || i == kh {
			sd *= 1 + math.Abs(s.Mean[i])/20
		}
		s.widen(i, sd, week)
	}
	for i := range nutrient {
		s.widen(eatNO3+i, n.Drift, t)
		for j := range i + 1 {
			s.Cov[at(eatNO3+i, eatNO3+j)] += float64(n.DriftShared*n.DriftShared) * t
		}
	}
	s.widen(lossFe, n.LossDrift, t)
	s.widen(feedNO3, n.FeedDrift, t)
	s.widen(feedPO4, n.FeedDrift, t)
	s.widen(driftGH, n.DriftGHWalk, t)
	s.widen(driftKH, n.DriftKHWalk, t)
	s.widen(given, n.GivenDrift, t)
	for _, i := range [...]int{inNO3, inGH, inKH} {
		s.widen(i, plus(0.02, n.SourceWalk, math.Abs(s.Mean[i])), t)
	}
	s.SinceFull += t
	if iv.topoff == tank.TopoffRO || iv.topoff == tank.TopoffTap {
		s.SinceFull = 0
	}
	s.bound()
}

// bound keeps terms where their meaning ends, whatever was read.
func (s *State) bound() {
	for i := range terms {
		top := 14.0
		if i == gh || i == kh || i == inGH || i == inKH {
			top = 300
		}
		if i == inNO3 {
			top = 5000
		}
		if i == driftGH || i == driftKH {
			top = 5
		}
		s.Mean[i] = clamp(s.Mean[i], -math.Min(top, 14), top)
	}
}

// readings conditions on what was read of the water before the work, and
// returns how probable it is that something unusual happened.
func (s *State) readings(setup *tank.Setup, v *visit.Record) (ln float64) {
	ln = s.sourceReadings(v)
	for i := range moves {
		r, ok := v.Tankwater(kinds[i])
		if !ok && i == lnNO3 {
			if x, got := v.Tankwater(q.NitrateN); got {
				r, ok = x, true
				for _, p := range [...]*float64{&r.Value, &r.Lo, &r.Hi} {
					*p *= 4.4266
				}
			}
		}
		if !ok || !finite(r.Value) || r.Value < 0 {
			continue
		}
		m := meaningOf(i, widened(r))
		on, sc := s.shownBy(i, i)
		mean, vr := s.along(on[:])
		p := m.read(mean, vr, sc)
		s.shrink(on[:], mean, vr, p.m, p.v)
		s.bound()
		ln += lnOf(p.evidence)
		side := 0.0
		if vr > 0 {
			side = (p.m - mean) / math.Sqrt(vr)
		}
		s.Seen[i] = Sight{Count: s.Seen[i].Count + 1, Last: v.Day, Value: r.Value, Guess: p.guess, Wrong: p.wrong, Side: side, Expired: expired(setup, &r, v.Day)}
	}
	return ln
}

// shownBy is the sum of terms that a kit shows of a term, and on what scale: a
// kit is off by a share.
func (s *State) shownBy(term, kind int) (on [2]weighed, sc scale) {
	if term < nutrient {
		return [2]weighed{{term, 1}, {kitNO3 + kind, 1}}, scale{true, offset[kind]}
	}
	return [2]weighed{{term, 1}, {kitNO3 + kind, math.Max(0, s.Mean[term])}}, scale{}
}

func (s *State) sourceReadings(v *visit.Record) (ln float64) {
	for _, c := range [...]struct{ term, kind int }{{inNO3, lnNO3}, {inGH, gh}, {inKH, kh}} {
		r, ok := v.Reading(kinds[c.kind], visit.FromSource)
		if !ok || !finite(r.Value) || r.Value < 0 {
			continue
		}
		m := meaningOf(c.kind, widened(r))
		on, sc := s.shownBy(c.term, c.kind)
		mean, vr := s.along(on[:])
		p := m.read(mean, vr, sc)
		s.shrink(on[:], mean, vr, p.m, p.v)
		ln += lnOf(p.evidence)
	}
	s.bound()
	return ln
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// widened gives a bare number what it can mean.
func widened(r visit.Reading) q.Interval {
	i := r.Interval
	if math.IsNaN(i.Lo) || math.IsNaN(i.Hi) || r.Lot == "" && i.Lo == i.Hi && i.Value != 0 {
		i = visit.MeaningOf(r.Kind, r.Value)
	}
	return i
}

func expired(setup *tank.Setup, r *visit.Reading, on q.Date) bool {
	for i := range setup.Kits {
		if k := &setup.Kits[i]; r.Lot != "" && k.Lot == r.Lot {
			return k.Expired(on)
		}
	}
	return false
}

// work is what the visit changed.
func (s *State) work(setup *tank.Setup, plan *tank.Plan, v *visit.Record, net float64) {
	n := &usual
	c := change{since: s.SinceFull, sd: n.Change, topoff: setup.Topoff, source: sourceOf(setup), at: atOnce(v, net), sdDose: 0.05}
	drained, filled := 0.0, false
	for i := range v.Work {
		w := &v.Work[i]
		switch w.Kind {
		case visit.WaterChange:
			l := w.Litres
			if !l.OK {
				l = setup.DrainLitres
			}
			if l.OK && l.V > 0 {
				drained += float64(l.V) / net
			} else {
				drained += s.usualShare()
				c.sd = 0.3
			}
			filled = true
		case visit.TopOff:
			filled = true
		case visit.Trim:
			for j := range nutrient {
				s.Mean[eatNO3+j] -= 0.08
				s.Cov[at(eatNO3+j, eatNO3+j)] += 0.01
				for k := range j {
					s.Cov[at(eatNO3+j, eatNO3+k)] += 0.008
				}
			}
		case visit.LightSet, visit.PlantsIn, visit.PlantsOut:
			s.stir(0.25)
		case visit.CO2Set:
			s.stir(0.1)
		}
	}
	c.share = math.Min(drained, 0.98)
	c.refilled = filled
	if filled || c.at != (supply{}) {
		s.push(2, kitNO3, c.pass)
		s.bound()
	}
	if filled {
		s.SinceFull = 0
	}
	if c.share > 0 {
		s.Share = usualOf(s.Share, c.share)
	}
}

// stir says that the plants' appetite may have changed, all alike.
func (s *State) stir(sd float64) {
	for j := range nutrient {
		for k := range j + 1 {
			s.Cov[at(eatNO3+j, eatNO3+k)] += float64(sd * sd)
		}
	}
}

// usualShare is what is usually changed at a visit of this tank.
func (s *State) usualShare() float64 {
	if s.Share > 0 {
		return s.Share
	}
	return 0.4
}

// after conditions on what was read after the change.
func (s *State) after(setup *tank.Setup, v *visit.Record) {
	for i := range moves {
		r, ok := v.Reading(kinds[i], visit.After)
		if !ok || !finite(r.Value) || r.Value < 0 {
			continue
		}
		m := meaningOf(i, widened(r))
		on, sc := s.shownBy(i, i)
		mean, vr := s.along(on[:])
		p := m.read(mean, vr, sc)
		s.shrink(on[:], mean, vr, p.m, p.v)
	}
	s.bound()
}

func dosesIn(p *tank.Plan, days float64) float64 {
	most := 0
	for i := range p.Lines {
		most = max(most, p.Lines[i].DosesPerWeek())
	}
	return float64(most) * days / 7
}
