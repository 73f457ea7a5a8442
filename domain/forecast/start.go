package forecast

import (
	"math"

	"scaperound/domain/num"
	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
)

// Start is what is expected of a tank before its first visit.
func Start(setup tank.Setup) State {
	n := &usual
	s := State{Version: Version, SetUpOn: setup.SetUpOn.Or(0), Every: float64(setup.Agreement.EveryDays.Or(0))}
	_, metered := NetVolume(setup)
	known, _ := NetVolume(setup)
	put := func(i int, mean, sd float64) {
		s.Mean[i] = mean
		s.Cov[at(i, i)] = float64(sd * sd)
	}
	for i, k := range [...]q.Kind{q.Nitrate, q.Phosphate, q.Potassium, q.Iron} {
		src := clamp(setup.Change(k).Or([...]float64{5, 0.1, 2, 0}[i]), 0, 1e4)
		put(i, num.Log(plus(src, 6, offset[i])), 1.5)
	}
	rich := 0
	if setup.CO2.Injected {
		rich = 1
	}
	for i := range nutrient {
		put(eatNO3+i, num.Log(appetite[i][rich]), 0)
		for j := range i + 1 {
			s.Cov[at(eatNO3+i, eatNO3+j)] = float64(n.AppetiteShared * n.AppetiteShared)
		}
		s.widen(eatNO3+i, n.Appetite, 1)
	}
	for i := range moves {
		put(kitNO3+i, 0, n.Kit[i])
	}
	put(lossFe, num.Log(n.LossMedian), n.Loss)
	put(feedNO3, 0, n.FeedNO3)
	put(feedPO4, 0, n.FeedPO4)
	if !feedKnown(&setup) {
		put(feedNO3, 0, n.FeedUnknown)
		put(feedPO4, 0, n.FeedUnknown)
	}
	put(driftK, 0, n.DriftK)
	put(driftGH, 0, n.DriftGH)
	put(driftKH, 0, n.DriftKH)
	put(sinkKH, 0, n.Sink)
	sd, mean := n.Given, 0.0
	if setup.Share.Doses {
		sd, mean = n.GivenOwner, n.GivenOwnerMean
	}
	if !metered {
		sd = math.Sqrt(plus(sd*sd, 0.03, 0.03))
	}
	if !known.OK {
		sd = 0.5
	}
	put(given, mean, sd)
	put(evap, num.Log(n.EvapMedian), n.Evap)
	source := func(i int, k q.Kind, other, share, least float64) {
		v := setup.Change(k)
		if !v.OK {
			put(i, other, other)
			return
		}
		x := clamp(v.V, 0, 1e4)
		put(i, x, plus(least, share, x))
	}
	source(inNO3, q.Nitrate, 8, n.SourceNO3, 0.4)
	source(inGH, q.GH, 8, n.SourceHard, 0.15)
	source(inKH, q.KH, 6, n.SourceHard, 0.15)
	put(gh, s.Mean[inGH], plus(1, 0.25, s.Mean[inGH]))
	put(kh, s.Mean[inKH], plus(1, 0.25, s.Mean[inKH]))
	s.Flow = startFlow(setup)
	return s
}
