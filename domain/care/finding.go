package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
)

// Urgency says when something must be looked after.
type Urgency string

// Urgencies, the most pressing first.
const (
	Now       Urgency = "now"        // before anything else
	Today     Urgency = "today"      // before the day ends
	ThisVisit Urgency = "this_visit" // before leaving
	Routine   Urgency = "routine"
)

// Level is 0 for Now and grows as things can wait.
func (u Urgency) Level() int {
	switch u {
	case Now:
		return 0
	case Today:
		return 1
	case ThisVisit:
		return 2
	}
	return 3
}

// Sooner returns the more pressing of two.
func Sooner(a, b Urgency) Urgency {
	if b.Level() < a.Level() {
		return b
	}
	return a
}

// Audience says who is told.
type Audience string

// Audiences. What may lay blame or name a cause of death stays in the shop.
const (
	ForCustomer Audience = "customer"
	ForShop     Audience = "shop"
)

// System is one part of a tank that the systems check speaks of.
type System string

// Systems in the order of the systems check.
const (
	Light     System = "light"
	CO2       System = "co2"
	Nutrients System = "nutrients"
	Water     System = "water"
	Filter    System = "filter"
	Animals   System = "animals"
	Plants    System = "plants"
	Gear      System = "gear"
)

// Systems in their order.
var Systems = []System{Light, CO2, Nutrients, Water, Filter, Animals, Plants, Gear}

// State is how a thing stands. It is said in words first, on every screen.
type State string

// States.
const (
	InBand      State = "in_band"
	Low         State = "low"
	High        State = "high"
	Borderline  State = "borderline" // the kit cannot tell
	Retest      State = "retest"
	NotDue      State = "not_due"
	NotJudged   State = "not_judged"
	NotMeasured State = "not_measured"
	Seen        State = "seen"     // something was seen that calls for a step
	Due         State = "due"      // work falls due
	Fine        State = "fine"     // looked at, nothing to do
	Internal    State = "internal" // a rule broke; the others stand
)

// Trouble reports whether the state calls for attention.
func (s State) Trouble() bool {
	switch s {
	case Low, High, Retest, Seen, Due, Borderline:
		return true
	}
	return false
}

// Evidence speaks for or against a finding or a cause.
type Evidence struct {
	What string // a reading kind, a sign id, or a fact's word
	Say  say.Sentence
}

// Calc is the arithmetic behind a finding, with enough to do it again.
type Calc struct {
	Name   string // name of the calculation
	Args   []Arg
	Value  float64
	Lo, Hi float64
	Unit   q.Unit
	Limit  q.Opt[float64] // the threshold it was held against
	Source string
}

// Arg is one input of a calculation.
type Arg struct {
	Name  string
	Value float64
	Unit  q.Unit
}

// Finding is what one rule found about one subject.
type Finding struct {
	Rule     string
	Subject  string
	System   System
	State    State
	Urgency  Urgency
	Audience Audience
	For      []Evidence
	Against  []Evidence
	Calc     *Calc
	Say      say.Sentence
	Hold     string // why the owner must release the sheet: death, leak, damage; else empty
	Wishes   []Wish
}

// Rank is the precedence of a wish. A veto of a higher rank stands.
type Rank uint8

// Ranks, the highest first.
const (
	RankPeople Rank = iota
	RankAnimals
	RankPlants
	RankLooks
	RankConvenience
)

var rankNames = [...]string{"people", "animals", "plants", "looks", "convenience"}

func (r Rank) String() string {
	if int(r) < len(rankNames) {
		return rankNames[r]
	}
	return rankNames[RankConvenience]
}

// Who does a task.
type Who string

// Who may be asked.
const (
	Technician Who = "technician"
	Customer   Who = "customer"
	Owner      Who = "owner"
)

// When a task is due.
type When string

// Times of a task; OnDay goes with a day.
const (
	WhenNow       When = "now"
	WhenToday     When = "today"
	WhenThisVisit When = "this_visit"
	WhenNextVisit When = "next_visit"
	WhenOnDay     When = "on_day"
)

// Amount is how much of what.
type Amount struct {
	What  string // a word: water, a salt, a solute
	Value float64
	Unit  q.Unit
}

// Expectation is what a task ought to bring about, for the next look.
type Expectation struct {
	Kind   q.Kind   // read it; empty: look at the signs
	Signs  []string // that ought to be gone, where there is no kind to read
	Lo, Hi float64  // where the reading ought to be
	Days   int      // when it ought to show
}

// Forbid is an action that a finding rules out, and why.
type Forbid struct {
	Action string
	Why    say.Sentence
}

// Wish is what a rule would like to be done. Only the planner makes tasks.
type Wish struct {
	Action   string
	Subject  string
	Amount   []Amount
	When     When
	Day      q.Opt[q.Date]
	Who      Who
	Minutes  int
	Bring    []string // words
	Cautions []string // words
	Expect   *Expectation
	Forbids  []Forbid
	Rank     Rank
	Say      say.Sentence // how to do it, where the action's own words do not suffice
	Alone    bool         // nothing of a lower rank may stand beside it
	Cause    string       // that it is meant against, where there is one
	Weight   float64      // of that cause
}
