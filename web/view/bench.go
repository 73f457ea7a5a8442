package view

import "strings"

// Bench is the list of the shop's calculations.
type Bench struct {
	Text   string // what was looked for
	Tank   *BenchTank
	Found  []BenchRow
	Nearly bool // nothing holds all words; Found holds what comes near
	Daily  []BenchRow
	Fields []BenchField
}

// BenchTank is the tank from which numbers are filled in.
type BenchTank struct {
	ID, Name, Href string
	Without        string // the same page without it
}

// BenchField is one field of science with its calculations.
type BenchField struct {
	Title string
	Rows  []BenchRow
}

// BenchRow is one calculation in a list.
type BenchRow struct{ Title, Href, Quiet string }

// BenchCalc is one calculation: a sentence to fill in, and what it comes to.
type BenchCalc struct {
	Action  string // of the form
	Form    Form   // faults and what is confirmed
	Tank    *BenchTank
	Pieces  []BenchPiece
	More    []Blank // what may be said besides
	Opened  bool    // something of More is said or wrong
	Example string  // address of the page filled with an example; empty for none
	Valid   string  // where the relation holds
	Answer  BenchAnswer
}

// BenchPiece is words of the sentence, or a blank in it.
type BenchPiece struct {
	Words string
	Blank *Blank
}

// Kinds of blanks.
const (
	BlankNumber  = "number"
	BlankNumbers = "numbers"
	BlankWord    = "word"
	BlankWords   = "words"
	BlankChoice  = "choice"
)

// Blank is one input.
type Blank struct {
	Field
	Kind    string
	Span    string   // where it may lie; in its unit
	Note    string   // where the number comes from
	Options []Option // of words and choices
	Chosen  []string // of words
}

func (b Blank) chosen(v string) bool {
	for _, c := range b.Chosen {
		if c == v {
			return true
		}
	}
	return false
}

// caption is the line below the blank that says what may stand there.
func (b Blank) caption() string {
	parts := make([]string, 0, 3)
	for _, p := range []string{b.Span, b.hint, b.Note} {
		if p != "" {
			parts = append(parts, p)
		}
	}
	return strings.Join(parts, " · ")
}

func (b Blank) describedBy() string {
	var ids []string
	if b.caption() != "" {
		ids = append(ids, b.id()+"-hint")
	}
	if len(b.Faults) > 0 {
		ids = append(ids, b.id()+"-fault")
	}
	return strings.Join(ids, " ")
}

// BenchAnswer is what it comes to. Without a Figure it says what is still open.
type BenchAnswer struct {
	Said     string // the sentence as filled in
	With     string // what was said besides
	Figure   string
	Unit     string // behind the figure, with of what it is
	Between  string // the interval in words
	Open     string // what is still to be filled in
	Fault    string // why there is none, where no field is to blame
	Also     []BenchAlso
	Heed     []string
	Handling []string // what to heed when handling salts
	Steps    []BenchStep
	Source   string
	Labels   []Link // to print
}

// BenchAlso is what belongs to the answer beside its figure.
type BenchAlso struct{ Label, Value string }

// BenchStep is one line of the working.
type BenchStep struct{ Name, Formula, Numbers, Value string }
