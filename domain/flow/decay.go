package flow

import (
	"math"

	"scaperound/domain/fault"
	"scaperound/domain/num"
	"scaperound/domain/quantity"
)

// Point is a flow measured some days after a cleaning.
type Point struct {
	Since quantity.Days
	Flow  quantity.LitrePerHour
}

// Decay is a filter's clogging: q = q0·exp(-λτ), τ days since its cleaning.
type Decay struct {
	Rate   float64               // λ, per day; zero or below means that it does not clog
	Start  quantity.LitrePerHour // q0 of the last cycle given
	Sigma  float64               // standard error of λ; +Inf with a single point per cycle
	Points int
}

// Fit finds one rate for all cycles and a start for each: a straight line
// through several cycles would mean nothing. The cycles run from one cleaning to
// the next, oldest first; each point is at 0 to 2000 d and above 0 L/h. At least
// one cycle must hold two different days.
//
//	ln q = ln q0(cycle) - λ τ, least squares
//
// Source: ordinary least squares with a common slope (analysis of covariance).
func Fit(cycles ...[]Point) (Decay, error) {
	var sxx, sxy, syy, lastX, lastY float64
	n, groups := 0, 0
	for _, c := range cycles {
		if len(c) == 0 {
			continue
		}
		mx, my := 0.0, 0.0
		for _, p := range c {
			if err := num.Within("Days since the cleaning", float64(p.Since), 0, 2000, "d"); err != nil {
				return Decay{}, err
			}
			if err := num.Within("Flow", float64(p.Flow), 0.01, 1e6, "L/h"); err != nil {
				return Decay{}, err
			}
			mx += float64(p.Since)
			my += num.Log(float64(p.Flow))
		}
		k := float64(len(c))
		mx, my = mx/k, my/k
		for _, p := range c {
			dx, dy := float64(p.Since)-mx, num.Log(float64(p.Flow))-my
			sxx += float64(dx * dx)
			sxy += float64(dx * dy)
			syy += float64(dy * dy)
		}
		n += len(c)
		groups++
		lastX, lastY = mx, my
	}
	if !(sxx > 0) {
		return Decay{}, fault.New(fault.Invalid, "How fast a filter clogs needs flows on at least two different days after one cleaning.")
	}
	slope := sxy / sxx
	d := Decay{Rate: -slope, Start: quantity.LitrePerHour(num.Exp(lastY - float64(slope*lastX))), Points: n, Sigma: math.Inf(1)}
	if free := n - groups - 1; free > 0 {
		d.Sigma = math.Sqrt(max(0, syy-float64(slope*sxy)) / float64(free) / sxx)
	}
	return d, nil
}

// DaysToFraction returns after how many days a decay of rate per day (above 0)
// leaves the share f (above 0, to 1) of the clean flow.
//
//	τ = -ln f/λ
func DaysToFraction(rate float64, f quantity.Share) (quantity.Days, error) {
	if err := num.Within("The decay", rate, 1e-6, 10, "1/d"); err != nil {
		return 0, err
	}
	if err := num.Within("The share of the clean flow", float64(f), 1e-3, 1, ""); err != nil {
		return 0, err
	}
	return quantity.Days(-num.Log(float64(f)) / rate), nil
}

// Reaches returns the day since the cleaning on which the flow reaches limit. It
// is false where the filter does not clog, and 0 where it is there from the start.
func (d Decay) Reaches(limit quantity.LitrePerHour) (quantity.Days, bool) {
	if limit <= 0 || d.Start <= 0 {
		return 0, false
	}
	if d.Start <= limit {
		return 0, true
	}
	if d.Rate <= 0 {
		return 0, false
	}
	t := num.Log(float64(d.Start/limit)) / d.Rate
	return quantity.Days(t), t <= 3650
}
