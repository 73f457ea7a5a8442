package forecast

import (
	"math"

	"scaperound/domain/flow"
	"scaperound/domain/num"
	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
)

// FlowState is a filter: ln of its flow now, ln of its flow after a cleaning and
// ln of the rate at which it clogs, pooled over its cleaning cycles.
type FlowState struct {
	Known bool // the clean flow is on record, or a flow was read
	Mean  [3]float64
	Cov   [6]float64
}

const (
	lnNow = iota
	lnClean
	lnClog
)

func startFlow(setup tank.Setup) FlowState {
	n := &usual
	clean, sd := 600.0, 1.0
	f := FlowState{}
	if c := setup.Filter.Clean; c.OK && c.V > 0 {
		clean, sd = clamp(float64(c.V), 1, 1e6), n.FlowClean
		f.Known = true
	}
	rate := n.FlowRateMedian
	since := 15.0 // days since the last cleaning, where nobody knows
	f.Mean = [3]float64{num.Log(clean) - rate*since, num.Log(clean), num.Log(rate)}
	f.Cov = [6]float64{float64(sd*sd) + 0.12*0.12, float64(sd * sd), float64(sd * sd), -float64(rate * since * n.FlowRate * n.FlowRate), 0, float64(n.FlowRate * n.FlowRate)}
	return f
}

func (f *FlowState) carry(days float64) {
	n := &usual
	if !(days > 0) {
		return
	}
	days = math.Min(days, 1000)
	lost := num.Exp(clamp(f.Mean[lnClog], -9, 0)) * days
	f.Mean[lnNow] -= lost
	// now' = now - days·e^clog
	j := -lost
	f.Cov[0] = plus(plus(f.Cov[0], 2*j, f.Cov[3]), float64(j*j), f.Cov[5])
	f.Cov[1] = plus(f.Cov[1], j, f.Cov[4])
	f.Cov[3] = plus(f.Cov[3], j, f.Cov[5])
	f.Cov[0] += float64(n.FlowStray*n.FlowStray) * days / 7
	f.Cov[5] += float64(n.FlowRateWalk*n.FlowRateWalk) * days
}

func (f *FlowState) shrink(term int, newM, newV float64) {
	v := f.Cov[at(term, term)]
	if !(v > 0) {
		return
	}
	var g [3]float64
	for i := range 3 {
		g[i] = f.Cov[at(i, term)]
	}
	shift, keep := (newM-f.Mean[term])/v, (v-newV)/v/v
	for i := range 3 {
		f.Mean[i] = plus(f.Mean[i], g[i], shift)
		for j := range i + 1 {
			f.Cov[at(i, j)] = plus(f.Cov[at(i, j)], -keep, float64(g[i]*g[j]))
		}
	}
}

// read conditions the flow now on a reading in L/h.
func (f *FlowState) read(r q.Interval) posterior {
	half := (r.Hi - r.Lo) / 2
	sd := usual.FlowNoise
	if finite(half) && half > 0 {
		sd = math.Max(sd, half/r.Value/2)
	}
	m, v := f.Mean[lnNow], f.Cov[0]
	mean := meaning{lo: r.Value - 2.5, hi: r.Value + 2.5, sd: 1, share: sd, wrong: 5 / (50 + r.Value)}
	p := mean.read(m, v, scale{log: true})
	f.shrink(lnNow, p.m, p.v)
	f.Known = true
	return p
}

// clean resets the flow.
func (f *FlowState) clean() {
	n := &usual
	f.Mean[lnClean] -= n.Fouling
	f.Cov[2] += float64(n.FoulingSD * n.FoulingSD)
	f.Mean[lnNow] = f.Mean[lnClean]
	f.Cov[0], f.Cov[1], f.Cov[3] = f.Cov[2]+float64(n.FlowReset*n.FlowReset), f.Cov[2], f.Cov[4]
}

// left speaks of a filter that nobody cleaned at a visit: far below half of its
// clean flow somebody would have.
func (f *FlowState) left() {
	// The share of the clean flow is exp(now - clean).
	m := f.Mean[lnNow] - f.Mean[lnClean]
	v := f.Cov[0] - 2*f.Cov[1] + f.Cov[2]
	if !(v > 1e-6) {
		return
	}
	sd := math.Sqrt(v)
	var z0, z1, z2 float64
	for i := range leftGrid {
		u := -4 + 8*float64(i)/(leftGrid-1)
		w := num.Exp(-float64(u*u)/2) * (0.12 + 0.88*phi((plus(m, sd, u)-lnHalf)/0.12))
		z0 += w
		z1 = plus(z1, w, u)
		z2 = plus(z2, w, float64(u*u))
	}
	mu := z1 / z0
	newM, newV := plus(m, sd, mu), math.Max(1e-6, z2/z0-float64(mu*mu))*v
	var g [3]float64
	for i := range 3 {
		g[i] = f.Cov[at(i, lnNow)] - f.Cov[at(i, lnClean)]
	}
	shift, keep := (newM-m)/v, (v-newV)/v/v
	for i := range 3 {
		f.Mean[i] = plus(f.Mean[i], g[i], shift)
		for j := range i + 1 {
			f.Cov[at(i, j)] = plus(f.Cov[at(i, j)], -keep, float64(g[i]*g[j]))
		}
	}
}

const (
	lnHalf   = -0.693
	leftGrid = 33
)

// gearReadings carries filter and cylinder to the visit and reads them, then
// does to them what the visit did.
func (s *State) gearReadings(setup *tank.Setup, v *visit.Record, days float64) {
	s.Flow.carry(days)
	s.Cylinder.carry(days)
	r, ok := flowOf(v, visit.Before)
	_, cleaned := v.Did(visit.FilterClean)
	if ok {
		p := s.Flow.read(r)
		s.Seen[6] = Sight{Count: s.Seen[6].Count + 1, Last: v.Day, Value: r.Value, Guess: p.guess, Wrong: p.wrong}
	} else if !cleaned && s.Visits > 0 && v.Kind == visit.Routine {
		s.Flow.left()
	}
	if cleaned {
		s.Flow.clean()
	}
	for _, ph := range [...]visit.Phase{visit.After, visit.Clean} {
		if r, ok := flowOf(v, ph); ok && (ph == visit.Clean || cleaned) {
			s.Flow.read(r)
		}
	}
	s.weigh(setup, v)
}

func flowOf(v *visit.Record, p visit.Phase) (q.Interval, bool) {
	if r, ok := v.Reading(q.Flow, p); ok && r.Value > 0 && finite(r.Value) {
		return widened(r), true
	}
	var runs []flow.Run
	for _, b := range v.Buckets {
		if b.Phase == p {
			runs = append(runs, flow.Run{Volume: b.Litres, Time: b.Seconds})
		}
	}
	if len(runs) == 0 {
		return q.Interval{}, false
	}
	m, err := flow.FromBucket(runs...)
	if err != nil || !(m.Flow > 0) {
		return q.Interval{}, false
	}
	f := float64(m.Flow)
	return q.Interval{Value: f, Lo: f, Hi: f}, true
}
