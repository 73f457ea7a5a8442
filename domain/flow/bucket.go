// Package flow is filtration by what a bucket and a clock show: the flow, how
// often the tank's water passes the filter, and how a filter's own flow decays
// between cleanings.
package flow

import (
	"math"

	"scaperound/domain/fault"
	"scaperound/domain/num"
	"scaperound/domain/quantity"
)

// Run is one timed bucket at the return.
type Run struct {
	Volume quantity.Litre
	Time   quantity.Seconds
}

// Errors of a bucket run that its repetition does not show.
const (
	BucketMark = 0.02 // relative error of the mark on the bucket, one standard deviation
	HandOnStop = 0.2  // s, of starting and stopping the clock by hand, one standard deviation
)

// Measured is a flow with its 90 % interval.
type Measured struct {
	Flow   quantity.LitrePerHour
	Lo, Hi quantity.LitrePerHour
	Runs   int
}

// FromBucket returns the flow of one or more runs (three are usual) of 0.05 to
// 1000 L and 1 to 7200 s. Runs are weighed by their volume: the flow is all
// litres over all seconds.
//
//	q = 3600 · ΣL/Σs
//
// The interval takes the scatter between runs (Student's t), the bucket's mark
// (2 %) and the hand on the clock (0.2 s a run) together.
//
// Source: ISO 4185 (1980), volumetric timing; JCGM 100:2008 for the interval.
func FromBucket(runs ...Run) (Measured, error) {
	if len(runs) == 0 || len(runs) > 1000 {
		return Measured{}, fault.New(fault.Invalid, "A flow needs at least one bucket with its time.")
	}
	litres, secs := 0.0, 0.0
	for _, r := range runs {
		if err := num.Within("The bucket's volume", float64(r.Volume), 0.05, 1000, "L"); err != nil {
			return Measured{}, err
		}
		if err := num.Within("The time to fill the bucket", float64(r.Time), 1, 7200, "s"); err != nil {
			return Measured{}, err
		}
		litres += float64(r.Volume)
		secs += float64(r.Time)
	}
	q := 3600 * litres / secs
	n := float64(len(runs))
	scatter := 0.0
	for _, r := range runs {
		d := float64(r.Time)/float64(r.Volume)*litres/secs - 1
		scatter += float64(d * d)
	}
	// 1.645 is the 90 % point of the normal; with few runs the scatter counts more.
	clock := HandOnStop * math.Sqrt(n) / secs
	rel := 1.645 * 1.645 * (BucketMark*BucketMark + float64(clock*clock))
	if n > 1 {
		k := student90(len(runs) - 1)
		rel += k * k * scatter / (n - 1) / n
	}
	e := min(math.Sqrt(rel), 0.9)
	return Measured{
		Flow: quantity.LitrePerHour(q),
		Lo:   quantity.LitrePerHour(q * (1 - e)),
		Hi:   quantity.LitrePerHour(q * (1 + e)),
		Runs: len(runs),
	}, nil
}

// student90 is the two-sided 90 % point of Student's t.
//
// Source: ISO 2854, table of the t distribution, 0.95 quantile.
func student90(df int) float64 {
	table := [...]float64{6.314, 2.920, 2.353, 2.132, 2.015, 1.943, 1.895, 1.860, 1.833, 1.812}
	if df <= len(table) {
		return table[df-1]
	}
	return 1.7
}

// Turnover returns how often an hour's flow renews the net volume. Rules of the
// trade (3 to 6 an hour without CO2, 5 to 10 with) help to choose a filter; a
// filter that runs is judged by its own clean flow.
func Turnover(q quantity.LitrePerHour, net quantity.Litre) (quantity.PerHour, error) {
	if err := num.Within("Flow", float64(q), 0, 1e6, "L/h"); err != nil {
		return 0, err
	}
	if err := num.Positive("The net volume", float64(net), "L"); err != nil {
		return 0, err
	}
	v, err := num.Finite("The turnover", float64(q)/float64(net))
	return quantity.PerHour(v), err
}

// CleanBelow is the share of its own clean flow below which a filter is cleaned.
// It is practice.
const CleanBelow quantity.Share = 0.6

// ShareOfClean returns the flow as a share of the same filter's flow after its
// last cleaning. It may pass 1: a bucket is good to a few per cent.
func ShareOfClean(now, clean quantity.LitrePerHour) (quantity.Share, error) {
	if err := num.Within("Flow", float64(now), 0, 1e6, "L/h"); err != nil {
		return 0, err
	}
	if err := num.Positive("The clean flow", float64(clean), "L/h"); err != nil {
		return 0, err
	}
	v, err := num.Finite("The share of the clean flow", float64(now)/float64(clean))
	return quantity.Share(v), err
}
