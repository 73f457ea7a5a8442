// Package visit turns what was typed at a tank into a record that judgement
// can trust: parsing, what must hold, and the shape of one visit.
package visit

import (
	"time"

	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
)

// Wire is the version of the form's fields. A body keeps the version it was
// written in, and each version's decoder is kept for ever.
const Wire = "1"

// Kind of visit; each has its own short form.
type Kind string

// Kinds of visit.
const (
	Routine  Kind = "routine"
	CallOut  Kind = "call_out"
	Build    Kind = "build"
	StartUp  Kind = "start_up"
	Move     Kind = "move"
	GearOnly Kind = "gear_only"
	ByPhone  Kind = "by_phone"
)

// Kinds in the order of the form.
var Kinds = []Kind{Routine, CallOut, Build, StartUp, Move, GearOnly, ByPhone}

// Phase says when in the day or in the work a sample was taken.
type Phase string

// Phases; the ids are part of the form's field names.
const (
	Before         Phase = "before" // before the work of the visit, hour of light not known to be late or early
	Late           Phase = "late"   // last third of the light period
	Morning        Phase = "morning"
	Night          Phase = "night"
	After          Phase = "after" // after the change or the cleaning
	Dosed          Phase = "dosed"
	Degassed       Phase = "degassed" // aerated to equilibrium with room air
	FromSource     Phase = "source"
	SourceDegassed Phase = "source_degassed"
	SourceReport   Phase = "source_report"
	Clean          Phase = "clean" // of the clean filter
	Between        Phase = "between"
	Bag            Phase = "bag"
	InRoom         Phase = "room"
	Setting        Phase = "setting"
	LastChange     Phase = "last_change"
)

// Phases known to the form.
var Phases = []Phase{Before, Late, Morning, Night, After, Dosed, Degassed, FromSource, SourceDegassed, SourceReport, Clean, Between, Bag, InRoom, Setting, LastChange}

// Reading is one value with what it can mean.
type Reading struct {
	Kind  q.Kind
	Phase Phase
	Drawn time.Time // when the sample was taken, which may be long before it was read
	// Value in the canonical unit; Lo to Hi is what the kit can mean, ±Inf at an open end.
	q.Interval
	Lot       string // instrument lot, empty where none was named
	Typed     string // as typed
	TypedUnit q.Unit
	Confirmed bool // unlikely, and said to be meant
}

// Look is one of the four looks at arrival.
type Look string

// The four looks.
const (
	LookAnimals Look = "animals"
	LookPlants  Look = "plants"
	LookAlgae   Look = "algae"
	LookGear    Look = "gear"
)

// Looks in the order of the form.
var Looks = []Look{LookAnimals, LookPlants, LookAlgae, LookGear}

// Answer to a look. The zero Answer is "not looked", never "fine".
type Answer string

// Answers to a look.
const (
	NotLooked Answer = ""
	Fine      Answer = "fine"
	Trouble   Answer = "trouble"
)

// Sign is something seen.
type Sign struct {
	ID     string
	Place  string
	Extent string
}

// Since is one thing that happened since last time.
type Since struct {
	What string // an id of SinceChoices
	Note string
}

// SinceChoices in the order of the form; "nothing_new" excludes the rest.
var SinceChoices = []string{"nothing_new", "died", "new_animals", "fed_by_others", "dosed_something", "altered", "power_cut", "spraying", "other"}

// EyeMark of the flow: how plants at the far end move.
type EyeMark string

// Eye marks.
const (
	EyeWell   EyeMark = "well"
	EyeLittle EyeMark = "little"
	EyeNot    EyeMark = "not"
)

// Work is one thing done at the tank.
type Work struct {
	Kind   WorkKind
	Solute string // for a dose: quantity kind of the ion or salt id
	Grams  q.Opt[q.Gram]
	Ml     q.Opt[q.Millilitre]
	Litres q.Opt[q.Litre]
	Time   q.Opt[float64] // minutes
	Part   string
	Pays   string // included, to_bill, warranty, customers_own
	Note   string
}

// WorkKind is a kind of work.
type WorkKind string

// Kinds of work.
const (
	WaterChange  WorkKind = "water_change"
	FilterClean  WorkKind = "filter_clean"
	Trim         WorkKind = "trim"
	Glass        WorkKind = "glass"
	Vacuum       WorkKind = "vacuum"
	PlantsIn     WorkKind = "plants_in"
	PlantsOut    WorkKind = "plants_out"
	CylinderSwap WorkKind = "cylinder_swap"
	CO2Set       WorkKind = "co2_set"
	LightSet     WorkKind = "light_set"
	HeaterSet    WorkKind = "heater_set"
	DoserRefill  WorkKind = "doser_refill"
	Dose         WorkKind = "dose"
	TopOff       WorkKind = "top_off"
	PartFitted   WorkKind = "part_fitted"
)

// WorkKinds in the order of the form.
var WorkKinds = []WorkKind{WaterChange, FilterClean, Trim, Glass, Vacuum, PlantsIn, PlantsOut, CylinderSwap, CO2Set, LightSet, HeaterSet, DoserRefill, Dose, TopOff, PartFitted}

// DosesBetween is how the plan was really kept since the visit before.
type DosesBetween struct {
	How      string // as_planned, some_missed, altered, not_known; empty: not asked
	Missed   q.Opt[int]
	BottleMl q.Opt[q.Millilitre]
	Note     string
}

// Leave is one line of the leave list.
type Leave struct {
	Item  string
	State string // checked, not_here, left_open
	Note  string
}

// LeaveItems in the order in which one walks round the tank before leaving.
var LeaveItems = []string{"filter_running", "heater_plugged", "timers_right", "valves_no_drip", "tap_shut", "level_and_lid", "floor_dry", "key"}

// Movement of plants or animals noted at the visit.
type Movement struct {
	Living  string // plant or animal
	Group   string
	Species string
	N       int // plus or minus
	Reason  string
	Pays    string
	Note    string
}

// TaskAnswer is what became of an open task.
type TaskAnswer struct {
	Task   string
	State  string // done, not_needed, declined, skipped
	Reason string // for skipped: no_time, no_part, customer_said_no, could_not_reach, not_needed
	Who    string // for declined: who said no
	Words  string // for declined: in their words; for skipped: what stands in the way
}

// PPFDPoint is one point of a light map.
type PPFDPoint struct {
	X, Y, Depth q.Opt[q.Centimetre]
	PPFD        q.Micromol
}

// BucketRun is one timed bucket at the return.
type BucketRun struct {
	Phase   Phase // before or after
	Litres  q.Litre
	Seconds q.Seconds
}

// Record is one revision of a visit, checked.
type Record struct {
	Visit, Revision, Base string
	Tank, Stop            string
	Staff                 string
	Kind                  Kind
	Performed             time.Time // UTC, corrected for the device's clock
	Day                   q.Date    // the shop's civil day of Performed
	Minute                q.MinuteOfDay
	Arrived, Left         q.Opt[time.Time]
	Sent                  q.Opt[time.Time]
	Received              time.Time
	Skew                  time.Duration
	Offline               bool

	Since     []Since
	Looks     map[Look]Answer
	Signs     []Sign
	EyeMark   EyeMark
	Readings  []Reading
	PPFD      []PPFDPoint
	Buckets   []BucketRun
	Work      []Work
	Doses     DosesBetween
	Movements []Movement
	Tasks     []TaskAnswer
	Leave     []Leave

	NoteCustomer, NoteInside string
	Reason                   string // why a revision was made
	Flags                    []string
	ActedHash, ActedRules    string
}

// First returns the record's reading of the kind in the first of the phases in
// which there is one; nil where there is none.
func (r *Record) First(k q.Kind, phases ...Phase) *Reading {
	var best *Reading
	left := phases // those that would stand before the best so far
	for i := range r.Readings {
		x := &r.Readings[i]
		if x.Kind != k {
			continue
		}
		for j, p := range left {
			if x.Phase == p {
				best, left = x, left[:j]
				break
			}
		}
	}
	return best
}

// Reading returns the record's reading of the kind and phase.
func (r *Record) Reading(k q.Kind, p Phase) (Reading, bool) {
	for i := range r.Readings {
		if r.Readings[i].Kind == k && r.Readings[i].Phase == p {
			return r.Readings[i], true
		}
	}
	return Reading{}, false
}

// Tankwater returns the reading of the kind that tells most about the tank's
// own water at this visit: late in the light period before any other hour.
func (r *Record) Tankwater(k q.Kind) (Reading, bool) {
	for _, p := range []Phase{Late, Before, Morning} {
		if x, ok := r.Reading(k, p); ok {
			return x, true
		}
	}
	return Reading{}, false
}

// Has reports whether the sign was seen.
func (r *Record) Has(sign string) bool {
	for _, s := range r.Signs {
		if s.ID == sign {
			return true
		}
	}
	return false
}

// Did returns the work of the kind, if it was done.
func (r *Record) Did(k WorkKind) (Work, bool) {
	for _, w := range r.Work {
		if w.Kind == k {
			return w, true
		}
	}
	return Work{}, false
}

// Context is what a post is read against.
type Context struct {
	Tank   string
	Locale q.Locale
	// Units of fields whose unit is not named in the post.
	UnitOf func(q.Kind) q.Unit
	// Wall turns the shop's local wall time into an instant; a skipped hour
	// moves forward, a doubled one is the first.
	Wall func(q.Date, q.MinuteOfDay) time.Time
	// Local is its inverse.
	Local func(time.Time) (q.Date, q.MinuteOfDay)
	Kits  []tank.Instrument
	Can   q.Opt[q.Litre] // the customer's can
}
