package forecast

import (
	"math"

	"scaperound/domain/num"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
)

func lnOf(x float64) float64 { return num.Log(math.Max(x, 1e-12)) }

// What may have happened between two visits beside the usual, and how often.
const (
	oftenMissed = 0.03
	oftenTurned = 0.05
	lnMissed    = -1.2 // a third of the plan, give or take
	sdMissed    = 0.8
	joltTurned  = 4
)

// weighTurns compares the usual course of an interval with two others: doses
// were missed far beyond the usual, and the rates changed. The three are merged
// by their probabilities into one normal with the same moments. The others are
// tried only where the usual course does not fit what was read.
func weighTurns(before, carried, read State, ln float64, iv *interval, setup *tank.Setup, v *visit.Record) State {
	odd := false
	for i := range moves {
		if s := &read.Seen[i]; s.Last == v.Day && (s.Wrong > 0.12 || math.Abs(s.Side) > 1.6) {
			odd = true
		}
	}
	if !odd {
		return read
	}
	type course struct {
		s     State
		ln    float64
		prior float64
	}
	all := [3]course{{read, ln, 1 - oftenMissed - oftenTurned}}
	n := 1
	missed := -1
	if iv.dose != (supply{}) {
		other := *iv
		other.less += lnMissed
		other.noise = sdMissed
		s := before
		s.carry(&other, setup)
		l := s.readings(setup, v)
		missed = n
		all[n] = course{s, l, oftenMissed}
		n++
	}
	other := *iv
	other.jolt = joltTurned
	s := before
	s.carry(&other, setup)
	s.stir(0.35)
	s.widen(feedNO3, 0.3, 1)
	s.widen(lossFe, 0.4, 1)
	s.widen(driftKH, 0.03, 1)
	l := s.readings(setup, v)
	turned := n
	all[n] = course{s, l, oftenTurned}
	n++

	top := math.Inf(-1)
	for _, c := range all[:n] {
		top = math.Max(top, c.ln)
	}
	var w [3]float64
	sum := 0.0
	for i, c := range all[:n] {
		w[i] = c.prior * num.Exp(c.ln-top)
		sum += w[i]
	}
	out := read
	out.Mean, out.Cov = [terms]float64{}, [coeffs]float64{}
	for i, c := range all[:n] {
		w[i] /= sum
		for j := range terms {
			out.Mean[j] = plus(out.Mean[j], w[i], c.s.Mean[j])
		}
	}
	for i, c := range all[:n] {
		for j := range terms {
			dj := c.s.Mean[j] - out.Mean[j]
			for k := range j + 1 {
				out.Cov[at(j, k)] = plus(out.Cov[at(j, k)], w[i], c.s.Cov[at(j, k)]+float64(dj*(c.s.Mean[k]-out.Mean[k])))
			}
		}
		for j := range moves {
			if i == 0 {
				out.Seen[j].Wrong = 0
			}
		}
	}
	for j := range moves {
		out.Seen[j].Wrong = read.Seen[j].Wrong
		if read.Seen[j].Last == v.Day {
			out.Seen[j].Wrong = 0
			for i, c := range all[:n] {
				out.Seen[j].Wrong = plus(out.Seen[j].Wrong, w[i], c.s.Seen[j].Wrong)
			}
		}
	}
	if missed > 0 {
		out.Turn.Missed = w[missed]
	}
	out.Turn.Rates = w[turned]
	return out
}
