package care

import (
	"scaperound/domain/forecast"
	q "scaperound/domain/quantity"
)

// What is ahead is acted on only where the tank has been seen often enough to
// have rates of its own.
const (
	aheadVisits   = 4
	aheadReadings = 3
)

// knows reports whether enough was learnt of a kind to act on what is ahead.
func (v *View) knows(k q.Kind) bool {
	if !v.Learnt.Usable() || v.Learnt.Visits < aheadVisits {
		return false
	}
	for i, x := range forecast.Kinds() {
		if x == k {
			return v.Learnt.Seen[i].Count >= aheadReadings
		}
	}
	return false
}

// course is what is assumed of the days to come: the plan and the usual change
// at the agreed visits.
func (v *View) course() forecast.Course {
	return forecast.Course{Plan: v.Plan, Share: q.Share(v.Learnt.Share), Every: int(v.everyDays())}
}

// everyDays is how long until the next visit is due.
func (v *View) everyDays() float64 {
	if e := v.Setup.Agreement.EveryDays; e.OK && e.V > 0 {
		return float64(e.V)
	}
	return 14
}

// nextDay is the day on which the next visit is due.
func (v *View) nextDay() q.Date { return v.Now.Day.Add(int(v.everyDays())) }

// ahead is what the kind is expected to be on a day, before that day's work.
func (v *View) ahead(k q.Kind, on q.Date) (e forecast.Expected, ok bool) {
	if !v.knows(k) || v.Doubtful(k) {
		return e, false
	}
	for _, e := range v.expected(on) {
		if e.Kind == k && e.Day == on {
			return e, true
		}
	}
	return e, false
}

// expected is what is ahead on a day. The day of the next visit, for which most
// rules ask, is worked out once.
func (v *View) expected(on q.Date) []forecast.Expected {
	if on != v.nextDay() {
		return forecast.Ahead(v.Learnt, v.Setup, v.course(), []q.Date{on})
	}
	if v.awaited == nil {
		v.awaited = forecast.Ahead(*v.atNext(), v.Setup, v.course(), []q.Date{on})
	}
	return v.awaited
}

// atNext is what was learnt, moved to the day of the next visit, before its work.
func (v *View) atNext() *forecast.State {
	if !v.moved {
		v.then, v.moved = forecast.Moved(v.Learnt, v.Setup, v.course(), v.nextDay()), true
	}
	return &v.then
}

// wellBefore is what a kind is expected to be so long before the agreed visit that
// the wait matters; ok is false where the agreed visit is as near, or where not
// even that day is more likely than not past the limit.
func (v *View) wellBefore(k q.Kind, side forecast.Side, limit float64) (e forecast.Expected, ok bool) {
	days := int(v.everyDays()) - soon
	if days < 1 {
		return e, false
	}
	then, ok := v.ahead(k, v.nextDay())
	if !ok || side == forecast.Below && !(then.Value < limit) || side == forecast.Above && !(then.Value > limit) {
		return e, false
	}
	return v.ahead(k, v.Now.Day.Add(days))
}

// crosses is when a kind of the gear falls below a limit, within so many days.
func (v *View) crosses(k q.Kind, limit float64, within int) (forecast.Range, bool) {
	if !v.knows(k) {
		return forecast.Range{}, false
	}
	r := forecast.Crossing(v.Learnt, v.Setup, v.course(), k, forecast.Below, limit, within)
	return r, r.Verdict == forecast.Around
}

// visitBefore asks the owner for a visit on the day on which a limit is passed as
// likely as not. The agreement's interval is a contract: the owner decides.
func (v *View) visitBefore(k q.Kind, side forecast.Side, limit float64, rank Rank) []Wish {
	most := max(1, int(v.everyDays())-soon)
	day := most
	if r := forecast.Crossing(v.Learnt, v.Setup, v.course(), k, side, limit, most); r.Verdict == forecast.Around {
		day = max(1, r.Days)
	}
	return []Wish{{Action: "extra_visit", Rank: rank, When: WhenOnDay, Day: q.Some(v.Now.Day.Add(day))}}
}

// riseAhead is by how much to raise a solute so that the next visit finds it in
// the middle of its band: for what will be, not for what was. usual is taken
// where the tank is not known well enough, or needs no rise. It never passes the band's upper end
// on the way.
func (v *View) riseAhead(k q.Kind, usual float64) float64 {
	b := v.bandOf(k)
	then, ok := v.ahead(k, v.nextDay())
	now, okNow := v.ahead(k, v.Now.Day)
	if !ok || !okNow || !b.Lo.OK || !b.Hi.OK || b.Hi.V <= b.Lo.V {
		return usual
	}
	rise := min((b.Lo.V+b.Hi.V)/2-then.Value, b.Hi.V-now.Value)
	if rise <= 0 {
		return usual
	}
	return rise
}

// dosed reports whether the plan gives the solute.
func (v *View) dosed(k q.Kind) bool {
	for _, l := range v.Plan.Lines {
		if l.Solute == k && l.PerDose > 0 && l.DosesPerWeek() > 0 {
			return true
		}
	}
	return false
}

// How a lesson of the forecast weighs among the tests that are due.
const (
	lessonWeight = 4.0 // a test worth a quarter counts as one that is due by the calendar
	openDoubt    = 0.6 // from here it is open whether a limit is kept
)

// lessons are what readings at the next visit would teach, where the tank is
// known well enough to say.
func (v *View) lessons() []forecast.Lesson {
	if !v.Learnt.Usable() || v.Learnt.Visits < aheadVisits {
		return nil
	}
	return forecast.WhichTestTeaches(*v.atNext(), v.Setup, v.course(), v.nextDay(), forecast.LimitsOf(v.Setup, v.Profile))
}

func lessonOn(all []forecast.Lesson, k q.Kind) (l forecast.Lesson, ok bool) {
	for _, l := range all {
		if l.Kind == k {
			return l, true
		}
	}
	return l, false
}
