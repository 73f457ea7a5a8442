package forecast

import (
	"cmp"
	"math"

	"scaperound/domain/num"
	q "scaperound/domain/quantity"
)

// Suspect is what may be behind readings that do not fit.
type Suspect string

// Suspects.
const (
	DosesMissed  Suspect = "doses_missed"  // far less was dosed than the plan says
	RatesChanged Suspect = "rates_changed" // plants or animals take or make more or less than before
	WrongReading Suspect = "wrong_reading" // a slip of the pen, the class or the unit
	ExpiredKit   Suspect = "expired_kit"   // past its date, and it does not fit
	KitOff       Suspect = "kit_off"       // this tank's readings are off by a share all along
)

// Check is what would settle a suspicion.
type Check string

// Checks.
const (
	RepeatTest    Check = "repeat_test"    // again, by somebody else or with another kit
	FreshKit      Check = "fresh_kit"      // beside it, the same water
	KnownSolution Check = "known_solution" // of the kind, of a known strength
	CountBottle   Check = "count_bottle"   // what has left the dosing bottle
	LookAround    Check = "look_around"    // trimmed, replanted, light or feed altered?
)

// Suspicion is said beside what it rests on; it changes no reading.
type Suspicion struct {
	Suspect     Suspect
	Kind        q.Kind  // of the reading; empty where it is about several
	Probability float64 // 0 to 1
	Value       float64 // as read
	Expected    float64 // what was expected to be read
	Check       Check
}

// Suspicions are what the last visit's readings make one suspect, the likeliest
// first.
func Suspicions(s State) []Suspicion {
	if !s.Usable() {
		return nil
	}
	var out []Suspicion
	if s.Turn.Missed > 0.25 {
		out = append(out, Suspicion{Suspect: DosesMissed, Probability: s.Turn.Missed, Check: CountBottle})
	}
	if s.Turn.Rates > 0.3 {
		out = append(out, Suspicion{Suspect: RatesChanged, Probability: s.Turn.Rates, Check: LookAround})
	}
	for i, k := range kinds {
		x := s.Seen[i]
		if x.Count == 0 || x.Last != s.Day {
			continue
		}
		switch {
		case x.Expired && (x.Wrong > 0.2 || math.Abs(x.Side) > 1.3):
			out = append(out, Suspicion{ExpiredKit, k, math.Max(x.Wrong, 0.4), x.Value, x.Guess, FreshKit})
		case x.Wrong > 0.4 && x.Count > 1:
			out = append(out, Suspicion{WrongReading, k, x.Wrong, x.Value, x.Guess, RepeatTest})
		case i < moves && x.Count > 3 && math.Abs(s.Mean[kitNO3+i]) > 1.6*usual.Kit[i]:
			out = append(out, Suspicion{KitOff, k, 0.5, x.Value, x.Guess, KnownSolution})
		}
	}
	num.SortStable(out, func(a, b Suspicion) int { return cmp.Compare(b.Probability, a.Probability) })
	return out
}
