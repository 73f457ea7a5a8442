package care

import (
	"scaperound/domain/forecast"
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
)

// Status is the tone of the whole visit.
type Status string

// Statuses.
const (
	AllWell  Status = "all_well"
	Watching Status = "watching"
	PleaseDo Status = "please_do"
)

// Cause is one explanation and how much weight it carries.
type Cause struct {
	ID      string
	Weight  float64 // share of 1
	Own     float64 // share among the causes that speak of the same signs and readings
	Leads   bool    // none of these weighs more
	For     []Evidence
	Against []Evidence
}

// Reason says why a task is on the list.
type Reason struct {
	Rule   string
	Say    say.Sentence
	Calc   *Calc
	Source string
}

// Task is one line of the next-visit list. An open one is unique per tank,
// action and subject; Key names that pair.
type Task struct {
	ID       string // of the stored task; empty while it is new
	Action   string
	Subject  string
	When     When
	Day      q.Opt[q.Date]
	Who      Who
	Urgency  Urgency
	Rank     Rank
	Amount   []Amount
	Minutes  int
	Bring    []string
	Cautions []string
	Expect   *Expectation
	LookOn   q.Opt[q.Date]
	Say      say.Sentence
	Why      []Reason
	Opened   q.Opt[q.Date]
	Renewed  bool   // it was open before this visit
	Skips    int    // how often it was skipped, with a reason, so far
	Cause    string // that it is meant against; empty where none is

	weight float64 // of the cause behind it
}

// Key is the action and the subject, under which a task is open only once.
func (t *Task) Key() string { return t.Action + ":" + t.Subject }

// Withdrawn is a task that was open and is no longer called for.
type Withdrawn struct {
	Task Task
	Why  say.Sentence
}

// Verdict is how a task turned out.
type Verdict string

// Verdicts of a follow-up.
const (
	Worked       Verdict = "worked"
	NotYet       Verdict = "not_yet" // it is too early to tell
	DidNot       Verdict = "did_not" // the next cause is tried
	Declined     Verdict = "declined"
	SkippedTwice Verdict = "skipped_twice" // somebody asks why
)

// FollowUp is what became of a task that was answered at an earlier visit, or
// that was put off for the second time.
type FollowUp struct {
	Action, Subject string
	Cause           string
	Since           q.Date // when it was done or declined, or opened
	Verdict         Verdict
	Say             say.Sentence
}

// Refusal is something that somebody might do or ask for, and why not.
type Refusal struct {
	Action string
	Rule   string
	Rank   Rank
	Asked  bool // the owner asked for it, or a rule wished it
	Why    say.Sentence
}

// Line is one sentence for the customer.
type Line struct {
	Action string
	Day    q.Opt[q.Date]
	Icon   string // a word for the little picture beside it
	Say    say.Sentence
}

// Strip is one reading against its band.
type Strip struct {
	Kind     q.Kind
	Phase    string
	Value    q.Interval
	Band     Band
	Previous q.Opt[float64]
	State    State
}

// Band of a strip in the canonical unit.
type Band struct{ Lo, Hi q.Opt[float64] }

// TestDue is a reading worth taking at the next visit, and why.
type TestDue struct {
	Kind  q.Kind
	Phase string
	Why   say.Sentence
}

// Next is when somebody comes again.
type Next struct {
	On     q.Opt[q.Date]
	Latest q.Opt[q.Date] // the end of the agreed tolerance
	Extra  q.Opt[q.Date] // an extra visit that the rules ask the owner for
	Say    say.Sentence
	Tests  []TestDue
	Bring  []string
}

// SystemState sums up one system.
type SystemState struct {
	System System
	State  State
	Say    say.Sentence
	More   []say.Sentence // how sure, since when, what would change the answer
}

// Step is one line of the trace: what the planner or a rule decided and why.
type Step struct {
	At   string // rule id, or "planner"
	What string // hit, fine, not_applicable, not_measured, kept, merged, vetoed, postponed, withdrawn, renewed
	On   string // an action or subject
	Say  say.Sentence
}

// Recipe is the water change of this visit: how much, and what to put into the
// new water.
type Recipe struct {
	Litres q.Opt[q.Litre]
	Cans   q.Opt[float64]
	Temp   q.Opt[q.Celsius] // match this
	RO     q.Opt[q.Litre]
	Weigh  []Amount
	Steps  []say.Sentence
}

// Assessment is what a visit means and what happens next.
type Assessment struct {
	Visit, Revision, Tank string
	Rules                 string // RulesVersion
	Day                   q.Date
	Status                Status
	Urgency               Urgency
	Top                   say.Sentence
	Systems               []SystemState
	Findings              []Finding
	Causes                []Cause
	NotKnown              float64     // weight of "none of these", share of 1
	Separate              []Separator // what would tell the first two causes apart
	Tasks                 []Task
	Later                 []Task // beyond the ceiling, or one change at a time
	Withdrawn             []Withdrawn
	Followed              []FollowUp
	Refused               []Refusal
	Recipe                Recipe
	Customer              []Line
	Donts                 []Line
	HoldFor               string // death, leak, damage: the owner must release the sheet
	Next                  Next
	Strips                []Strip
	Trace                 []Step
	Memory                forecast.State // of the tank, this visit included; stored beside the document
}

// NeedsOwner reports whether the sheet is held until the owner releases it.
func (a *Assessment) NeedsOwner() bool { return a.HoldFor != "" }
