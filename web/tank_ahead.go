package web

import (
	"math"
	"strconv"
	"strings"

	"scaperound/domain/forecast"
	"scaperound/domain/gear"
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/web/view"
)

// What the page says of the days to come.
const (
	aheadVisits   = 4   // before fewer visits nothing is said
	aheadSilence  = 200 // days after the last visit, from which nothing is said any more
	aheadFarthest = 45  // days of a fan at most
	gearFarthest  = 120 // days within which a cylinder or a filter is asked about
)

// lookAhead works out what is to be expected until the next visit is due, or for
// a week where that is past.
func (c *curveSheet) lookAhead() {
	if c.unknown() != "" {
		return
	}
	c.next = c.state.Day.Add(c.course().Every)
	end := min(max(c.next, c.today.Add(7)), c.today.Add(aheadFarthest))
	var days []q.Date
	for d := c.state.Day; d <= end; d = d.Add(1) {
		days = append(days, d)
	}
	c.ahead = forecast.Ahead(c.state, c.tank.Setup, c.course(), days)
	c.last = end
}

// unknown says why nothing is said of the days to come; empty where something is.
func (c *curveSheet) unknown() string {
	s := &c.state
	need := "Not enough to say: a tank is known after " + plural(aheadVisits, "visit", "visits") + " since it was set up; "
	switch {
	case !s.Usable():
		return need + "this one has had none."
	case c.tank.Setup.SetUpOn.OK && s.SetUpOn != 0 && c.tank.Setup.SetUpOn.V != s.SetUpOn:
		return need + "this one was set up anew on " + c.when.Day(c.tank.Setup.SetUpOn.V) + " and has had none since."
	case s.Visits < aheadVisits:
		return need + "this one has had " + plural(s.Visits, "visit", "visits") + "."
	case c.today-s.Day > aheadSilence:
		return "Not enough to say: the last visit, on " + c.when.Day(s.Day) + ", is too long ago."
	}
	return ""
}

// course is what is assumed: the plan as it is, the usual change at the agreed
// visits.
func (c *curveSheet) course() forecast.Course {
	return c.other.of(forecast.Course{Plan: c.tank.Plan, Share: q.Share(c.state.Share), Every: c.tank.Setup.Agreement.EveryDays.Or(14)})
}

// seen is how often a kind was read so far, as far as what was learnt goes.
func (c *curveSheet) seen(k q.Kind) forecast.Sight {
	for i, x := range forecast.Kinds() {
		if x == k {
			return c.state.Seen[i]
		}
	}
	return forecast.Sight{}
}

// addAhead puts the fan of a kind into its curve, and says it in words.
func (c *curveSheet) addAhead(m q.Measure, v *view.Curve) {
	if m.Kind == q.CylinderGross || c.seen(m.Kind).Count < 2 {
		return
	}
	in, _ := c.shown(m)
	shown := func(x float64) float64 {
		y, _ := q.FromCanonical(m.Kind, x, in)
		return y
	}
	for _, e := range c.ahead {
		if e.Kind == m.Kind {
			v.Ahead = append(v.Ahead, view.CurveAhead{Day: float64(e.Day - c.first), Value: shown(e.Value), Lo: shown(e.Lo), Hi: shown(e.Hi), When: c.when.Day(e.Day)})
		}
	}
	for _, e := range c.ahead {
		if e.Kind == m.Kind && e.Day == c.next && c.next >= c.today {
			v.Sums = append(v.Sums, "At the next visit, "+c.when.Day(c.next)+": about "+c.amount(m, e.Value)+", likely "+c.amount(m, e.Lo)+" to "+c.amount(m, e.Hi)+".")
		}
	}
}

func (c *curveSheet) amount(m q.Measure, x float64) string {
	return say.Amount(math.Max(x, 0), m.Unit, m.Decimals, c.units)
}

// says is what holds for the tank as a whole.
func (c *curveSheet) says() []string {
	if why := c.unknown(); why != "" {
		return []string{why}
	}
	var out []string
	s := c.tank.Setup
	if s.CO2.Injected && s.CO2.Cylinder.OK {
		limit := float64(s.CO2.Cylinder.V) * float64(gear.SwapShare)
		out = append(out, "CO2 cylinder, down to a fifth: "+c.dates(forecast.Crossing(c.state, s, c.course(), q.CylinderGross, forecast.Below, limit, gearFarthest))+".")
	}
	if clean := s.Filter.Clean; clean.OK {
		out = append(out, "Filter, below 60 % of its clean flow: "+c.dates(forecast.Crossing(c.state, s, c.course(), q.Flow, forecast.Below, 0.6*float64(clean.V), gearFarthest))+".")
	}
	if left := c.longest(); left != "" {
		out = append(out, left)
	}
	for _, x := range forecast.Suspicions(c.state) {
		out = append(out, c.suspicion(x))
	}
	if test := c.teaches(); test != "" {
		out = append(out, test)
	}
	return out
}

// dates says when something will be.
func (c *curveSheet) dates(r forecast.Range) string {
	day := func(n int) string { return c.when.Day(c.state.Day.Add(n)) }
	switch r.Verdict {
	case forecast.Already:
		return "by now"
	case forecast.Around:
		if r.Hi.OK {
			return "around " + day(r.Days) + ", likely between " + day(r.Lo) + " and " + day(r.Hi.V)
		}
		return "around " + day(r.Days) + ", likely not before " + day(r.Lo)
	case forecast.NotWithin:
		if r.Early.OK {
			return "not within " + strconv.Itoa(r.Within) + " days, most likely; possible from " + day(r.Early.V)
		}
		return "not within " + strconv.Itoa(r.Within) + " days"
	}
	return "not enough to say"
}

// longest says how long the tank may be left and what ends it.
func (c *curveSheet) longest() string {
	l := forecast.LongestInterval(c.state, c.tank.Setup, c.course().Plan, forecast.LimitsOf(c.tank.Setup, c.tank.Profile), longestLeft)
	m, _ := q.MeasureOf(l.By.Kind)
	side := "below "
	if l.By.Side == forecast.Above {
		side = "above "
	}
	limit := m.Title + " " + side + c.amount(m, l.By.At)
	if l.By.Kind == q.CylinderGross {
		limit = "the CO2 cylinder at a fifth"
	}
	switch l.Verdict {
	case forecast.Around:
		return "Without a visit it keeps its limits until " + c.when.Day(c.state.Day.Add(l.Days)) + ", " + plural(l.Days, "day", "days") + " after the last one; then the first to go is " + limit + "."
	case forecast.Already:
		return "A limit is passed as it is: " + limit + "."
	case forecast.NotWithin:
		return "Without a visit it keeps its limits for " + plural(l.Within, "day", "days") + " and more."
	}
	return ""
}

// longestLeft is for how many days a tank is looked at without a visit.
const longestLeft = 90

var suspects = map[forecast.Suspect]string{
	forecast.DosesMissed:  "Far less was probably dosed than the plan says",
	forecast.RatesChanged: "Plants or animals probably take or make more or less than before",
	forecast.WrongReading: "The last reading does not fit",
	forecast.ExpiredKit:   "The kit is past its date and does not fit",
	forecast.KitOff:       "Readings of this tank seem to be off by a share all along",
}

var settles = map[forecast.Check]string{
	forecast.RepeatTest:    "read it again, with another kit or by somebody else",
	forecast.FreshKit:      "read the same water with a fresh kit beside it",
	forecast.KnownSolution: "read a solution of known strength",
	forecast.CountBottle:   "look at what has left the dosing bottle",
	forecast.LookAround:    "ask and look: trimmed, replanted, light or food altered?",
}

func (c *curveSheet) suspicion(x forecast.Suspicion) string {
	text := suspects[x.Suspect]
	if m, ok := q.MeasureOf(x.Kind); ok {
		text = m.Title + ": " + strings.ToLower(text[:1]) + text[1:] + ", " + c.amount(m, x.Value) + " where about " + c.amount(m, x.Expected) + " was to be expected"
	}
	return text + ". To settle it, " + settles[x.Check] + "."
}

// teaches names the reading that would teach most at the next visit.
func (c *curveSheet) teaches() string {
	for _, l := range forecast.WhichTestTeaches(c.state, c.tank.Setup, c.course(), max(c.next, c.today), forecast.LimitsOf(c.tank.Setup, c.tank.Profile)) {
		if m, ok := q.MeasureOf(l.Kind); ok && l.Worth > worthTelling {
			return "At the next visit the reading that would teach most is " + m.Title + "."
		}
	}
	return ""
}

// worthTelling is the worth below which no reading is named before the others.
const worthTelling = 0.15
