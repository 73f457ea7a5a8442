package triage

import (
	"time"

	"scaperound/domain/care"
	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/typed"
)

// Stood is how long a filter stood still.
type Stood string

// Spans of standing. Between two and four hours, by how full and how warm it
// is, what lives in a closed canister runs out of oxygen and what is in it turns
// to poison (trade practice).
const (
	StoodUnderTwo Stood = "under_2h"
	StoodTwoFour  Stood = "2_to_4h"
	StoodLonger   Stood = "over_4h"
	StoodUnknown  Stood = "not_known"
)

// Stoods in the order of a form.
var Stoods = []Stood{StoodUnderTwo, StoodTwoFour, StoodLonger, StoodUnknown}

// Title is the span in words.
func (s Stood) Title() string {
	switch s {
	case StoodUnderTwo:
		return "Less than two hours"
	case StoodTwoFour:
		return "Two to four hours"
	case StoodLonger:
		return "More than four hours"
	}
	return "Not known"
}

// Rinse reports whether the canister has to be emptied before it runs again.
func (s Stood) Rinse() bool { return s != StoodUnderTwo }

// Stop is a filter that stood still, alone or in a power cut.
type Stop struct {
	ID, Tank string
	PowerCut bool
	Stood    Stood
	Timers   bool // every timer was looked at
	Words    string
}

// Steps is what to do, in order.
func (s Stop) Steps() []string {
	var out []string
	if s.Stood.Rinse() {
		out = append(out,
			"Do not just switch it on. Plug out, empty the canister into the drain, rinse media and hoses in tank water, fill it, then let it run.",
			"Bring air in until it runs clear.",
			"No food today, and little for two days.")
	} else {
		out = append(out, "Switch it on, let the air out, and stay until it runs as before.")
	}
	out = append(out, "Check every timer: light, CO2, doser, heater. Each shows the right time and switches. So it is after a change of the clocks, too.")
	if s.Stood.Rinse() {
		out = append(out, "Ammonia (TAN) and nitrite tomorrow and the day after: both are put on the list.")
	}
	return out
}

// Tasks is what is put on the tank's list: tests after 24 and 48 hours where
// the filter's life may have suffered, and the timers where nobody has looked.
func (s Stop) Tasks(today q.Date) []care.Task {
	var out []care.Task
	add := func(action, subject string, when care.When, day q.Opt[q.Date]) {
		a := care.ActionOf(action)
		out = append(out, care.Task{Action: action, Subject: subject, When: when, Day: day, Who: care.Technician, Urgency: care.ThisVisit, Rank: care.RankAnimals,
			Minutes: a.Minutes, Bring: a.Bring, Cautions: a.Caution, Opened: q.Some(today)})
	}
	if !s.Timers {
		add("check_timer", "stopped", care.WhenNextVisit, q.Opt[q.Date]{})
	}
	if s.Stood.Rinse() {
		add("test_nh3_no2", "after_24h", care.WhenOnDay, q.Some(today.Add(1)))
		add("test_nh3_no2", "after_48h", care.WhenOnDay, q.Some(today.Add(2)))
	}
	return out
}

// StopLine is a stop as it was written down.
type StopLine struct {
	Stop
	At time.Time
	By string // name
}

// ParseStop reads the fields id, stood, power_cut, timers and words.
func ParseStop(get typed.Fields) (Stop, fault.Fields) {
	f := typed.Form{Get: get}
	s := Stop{ID: get("id"), Stood: typed.Must(&f, "stood", Stoods, "Say how long it stood, or that nobody knows."), PowerCut: f.Tick("power_cut"), Timers: f.Tick("timers"), Words: f.Text("words", MaxWords)}
	return s, f.Faults
}
