package care

import (
	"time"

	"scaperound/domain/flow"
	"scaperound/domain/light"
	q "scaperound/domain/quantity"
	"scaperound/domain/visit"
)

// Clock is where in the light period the samples were taken.
type Clock struct {
	Known    bool
	On       q.MinuteOfDay
	Hours    float64
	Position float64 // share of the light period that had passed; below 0 before it, above 1 after it
}

// Late reports whether the clock stood in the last third of the light period.
func (c Clock) Late() bool { return c.Known && c.Position >= 2.0/3 && c.Position <= 1 }

// FlowView is the flow and its share of the filter's own clean flow.
type FlowView struct {
	Now   q.Opt[float64] // L/h
	Clean q.Opt[float64] // L/h
	Share q.Opt[float64] // 0 to 1
}

// lightClock says where the visit stands in the light period. The light may
// burn past midnight.
func lightClock(c *Case) Clock {
	l := c.Setup.Light
	if !l.On.OK || !l.Hours.OK || l.Hours.V <= 0 {
		return Clock{}
	}
	k := Clock{Known: true, On: l.On.V, Hours: float64(l.Hours.V)}
	return k.at(c.Now.Minute)
}

func (c Clock) at(minute q.MinuteOfDay) Clock {
	since := float64(minute - c.On)
	lit := c.Hours * 60
	// The day is cut in the middle of the dark, so that the hours before the
	// light count as before and the evening as after.
	dark := 1440 - lit
	for since > lit+dark/2 {
		since -= 1440
	}
	for since < -dark/2 {
		since += 1440
	}
	c.Position = since / lit
	return c
}

// drawnAt is the clock when a sample was drawn.
func (v *View) drawnAt(r visit.Reading) Clock {
	if !v.Clock.Known || r.Drawn.IsZero() || v.Now.Performed.IsZero() {
		return v.Clock
	}
	shift := r.Drawn.Sub(v.Now.Performed)
	if shift < -12*time.Hour || shift > 12*time.Hour {
		return v.Clock
	}
	return v.Clock.at(v.Now.Minute + q.MinuteOfDay(shift/time.Minute))
}

func seeFlow(v *View) FlowView {
	var out FlowView
	if r, ok := v.Read(q.Flow, visit.Before); ok {
		out.Now = q.Some(r.Value)
	} else if f, ok := bucket(v.Now.Buckets, visit.Before); ok {
		out.Now = q.Some(f)
	}
	if r, ok := v.Read(q.Flow, visit.Clean); ok {
		out.Clean = q.Some(r.Value)
	} else if c := v.Setup.Filter.Clean; c.OK {
		out.Clean = q.Some(float64(c.V))
	}
	if r, ok := v.Read(q.FlowShare, visit.Before); ok {
		out.Share = q.Some(r.Value / 100)
	} else if out.Now.OK && out.Clean.OK {
		if s, err := flow.ShareOfClean(q.LitrePerHour(out.Now.V), q.LitrePerHour(out.Clean.V)); err == nil {
			out.Share = q.Some(float64(s))
		}
	}
	return out
}

func bucket(runs []visit.BucketRun, p visit.Phase) (float64, bool) {
	var rs []flow.Run
	for _, b := range runs {
		if b.Phase == p {
			rs = append(rs, flow.Run{Volume: b.Litres, Time: b.Seconds})
		}
	}
	if len(rs) == 0 {
		return 0, false
	}
	m, err := flow.FromBucket(rs...)
	return float64(m.Flow), err == nil
}

func seePPFD(v *View) q.Opt[float64] {
	if len(v.Now.PPFD) > 0 {
		points := make([]q.Micromol, len(v.Now.PPFD))
		for i, p := range v.Now.PPFD {
			points[i] = p.PPFD
		}
		if m, err := light.Measure(points); err == nil {
			return q.Some(float64(m.Mean))
		}
	}
	if r, ok := v.Read(q.PPFD, visit.Before); ok {
		return q.Some(r.Value)
	}
	return q.Opt[float64]{}
}
