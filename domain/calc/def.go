// Package calc is the registry of the shop's calculations: each has one
// definition here, and the command, the bench's page, the Go caller and a
// finding's "how so?" all go through it, so that they cannot drift apart.
//
// A definition names its inputs and their units, calls a function of the science
// packages, and writes down the steps with the numbers filled in.
package calc

import (
	"math"
	"strings"

	"scaperound/domain/fault"
	"scaperound/domain/quantity"
	"scaperound/domain/say"
)

// Ref is where a relation is published.
type Ref string

// Shape is what an input holds.
type Shape int

// Shapes of inputs.
const (
	Number Shape = iota
	Numbers
	Word
	Words
)

// Input is one value that a calculation asks for.
type Input struct {
	Key     string        // as vectors and the command name it
	Aliases []string      // nicer names
	Title   string        // in a sentence on the bench
	Unit    quantity.Unit // canonical; empty for words and plain numbers
	Shape   Shape
	// Optional inputs may be left out; Default says what then holds, where there
	// is a number that holds.
	Optional bool
	Default  quantity.Opt[float64]
	Lo, Hi   float64       // what is taken; both zero means any finite number
	Share    bool          // a part of a whole, which people write in per cent
	Hidden   bool          // for documents only; the bench does not ask for it
	YesNo    bool          // 1 or 0
	Kind     quantity.Kind // of what the mg/L are, where the key does not tell
	Choices  []string      // of a word, for the bench's list; others are judged by Eval
}

// Def is one calculation.
type Def struct {
	Name    string // stable
	Aliases []string
	Title   string // what it is for, in the words of the trade
	Topic   Topic
	Find    string // further words under which people look for it
	In      []Input
	Out     quantity.Unit
	// Share says that the answer is a part of a whole, written in per cent.
	Share bool
	// Sentence asks for the inputs in braces, as the bench shows it; the answer
	// follows. Inputs that it leaves out are asked for below it.
	Sentence string
	Source   Ref
	// Valid says in words where the relation holds; beyond it Eval returns a fault
	// or an answer with a warning.
	Valid string
	Eval  func(Args) (Answer, error)
}

// Topic groups calculations on the bench.
type Topic string

// Topics, in the order of the bench.
const (
	TopicCO2    Topic = "co2"
	TopicAnimal Topic = "animals"
	TopicHard   Topic = "hardness"
	TopicLight  Topic = "light"
	TopicSalt   Topic = "salts"
	TopicWeek   Topic = "balance"
	TopicFeed   Topic = "feed"
	TopicSource Topic = "source"
	TopicVolume Topic = "volume"
	TopicFlow   Topic = "flow"
	TopicGear   Topic = "gear"
	TopicSafety Topic = "safety"
	TopicFact   Topic = "facts"
)

// Topics lists them in order.
func Topics() []Topic {
	return []Topic{TopicCO2, TopicAnimal, TopicHard, TopicLight, TopicSalt, TopicWeek, TopicFeed, TopicSource, TopicVolume, TopicFlow, TopicGear, TopicSafety, TopicFact}
}

// Title is the topic as a heading.
func (t Topic) Title() string {
	switch t {
	case TopicCO2:
		return "CO2"
	case TopicAnimal:
		return "Animals: ammonia, nitrite, oxygen"
	case TopicHard:
		return "Hardness, conductivity, readings"
	case TopicLight:
		return "Light"
	case TopicSalt:
		return "Salts and doses"
	case TopicWeek:
		return "Week by week"
	case TopicFeed:
		return "Feed"
	case TopicSource:
		return "Change water"
	case TopicVolume:
		return "Volume and changes"
	case TopicFlow:
		return "Filter and flow"
	case TopicGear:
		return "Heater, evaporation, cylinder"
	case TopicSafety:
		return "People and floors"
	case TopicFact:
		return "Units, constants, figures from the literature"
	}
	return string(t)
}

// Answer is a result with the way to it.
type Answer struct {
	Value float64
	What  string // of what the value is so much, such as a salt; may be empty
	// Lo and Hi bound the value where the inputs or the relation leave an
	// interval; Hi may be +Inf. Without one both are the value.
	Lo, Hi float64
	Unit   quantity.Unit
	Steps  []Step
	Warn   []say.Sentence
}

// Step is one line of the working.
type Step struct {
	Name    string // what is computed
	Formula string // with symbols
	Filled  string // the same with the numbers
	Value   float64
	Unit    quantity.Unit
	// Also marks what belongs to the answer rather than to the way there: what comes
	// along, what else is weighed.
	Also bool
}

// also makes a step part of the answer.
func (s Step) also() Step { s.Also = true; return s }

// Run checks raw values against the inputs, fills in defaults and evaluates. The
// fault names every input that is wrong. A result that is not finite (but for the
// open end of an interval) is a fault too, never an answer.
func (d *Def) Run(raw map[string]Value) (Answer, error) {
	args, err := d.take(raw)
	if err != nil {
		return Answer{}, err
	}
	a, err := d.Eval(args)
	if err != nil {
		return Answer{}, err
	}
	if a.Unit == "" {
		a.Unit = d.Out
	}
	if a.Lo == 0 && a.Hi == 0 {
		a.Lo, a.Hi = a.Value, a.Value
	}
	if math.IsNaN(a.Value) || math.IsInf(a.Value, 0) || math.IsNaN(a.Lo) || math.IsNaN(a.Hi) || math.IsInf(a.Lo, 0) {
		return Answer{}, fault.New(fault.Invalid, "%s cannot be computed from these values.", d.Title)
	}
	return a, nil
}

// Input returns the input of a key or an alias, nil where there is none.
func (d *Def) Input(key string) *Input { return d.named(key) }

// named returns the input with this key or alias.
func (d *Def) named(key string) *Input {
	for i := range d.In {
		in := &d.In[i]
		if strings.EqualFold(in.Key, key) {
			return in
		}
		for _, alias := range in.Aliases {
			if strings.EqualFold(alias, key) {
				return in
			}
		}
	}
	return nil
}
