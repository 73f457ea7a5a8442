package view

import (
	"net/url"
	"strconv"
	"strings"
)

// VisitForm is the page on which a visit is written down, in the order of the
// work. What was typed is in Form; nothing that is measured is ever filled in
// beforehand.
type VisitForm struct {
	Form
	Action    string // where it is sent
	Preview   string // where the preview is asked
	Board     string // what the tablet needs to judge by itself
	Exec      string // the browser build's two files; empty where there is none
	Wasm      string
	Done      string // address of a visit's page, with VISIT in place of its id
	Zone      string // the shop's, IANA
	Decimal   string // the shop's decimal mark
	Tank      string // id
	TankName  string
	Where     string // customer and site
	Kind      string
	KindWord  string
	Kinds     []VisitKind
	Hidden    []Pair // ids and versions that only the program reads
	Amends    bool   // a revision of a visit that is there: asks why
	Performed string // the shop's wall time, 2026-11-24T10:30, for work without script
	Sections  []VisitSection

	Others  []Link // the other tanks of the stop: a tap goes there, and this one waits
	Call    bool   // advice by phone: nobody is at the tank
	Gear    bool   // gear only: what has nothing to do with it is folded away
	Pinned  []string
	Open    []OpenProblem
	Photo   *VisitPicture
	Photos  string  // where photographs are sent; empty where they cannot be
	Taken   []Print // of this visit, that have arrived
	Since   []Option
	History []VisitSign
	Between VisitBetween
	Looks   []VisitLook
	Clocks  []VisitClock
	Tasks   []VisitTask
	Work    []VisitWork
	Doses   []VisitDose
	Solutes []Option
	Due     []VisitReading
	Folded  []VisitReadingGroup
	Points  int // rows for PPFD points
	Buckets int // rows for bucket runs, before and after each
	Clean   string
	EyeLast string
	Moved   VisitMoved
	Leave   []Option
	Phone   string // the owner's number, for what cannot wait
}

// VisitSection is one part of the page; the rail lists them.
type VisitSection struct{ ID, Title string }

// VisitPicture is a photograph that belongs to the tank.
type VisitPicture struct{ Href, Says, Large string }

// VisitSign is something that can be seen.
type VisitSign struct {
	ID, Label string
	Plain     bool // asks neither where nor how much
}

// VisitLook is one of the four looks. Only trouble unfolds the signs.
type VisitLook struct {
	ID, Title     string
	Fine, Trouble string
	Common, Rest  []VisitSign
}

// VisitBetween is what should have been dosed since the visit before.
type VisitBetween struct {
	Plan   []string
	Choice []Option
}

// VisitClock is one kit that has to stand before it is read.
type VisitClock struct{ Name, Label string }

// VisitTask is an open task, and why it is there.
type VisitTask struct {
	ID, Text, Why, Expect string
	Amount                string
	AskWhy                bool   // it was put off so often that it is asked why, in words
	Times                 string // how often
}

// VisitWork is one kind of work and what is asked about it.
type VisitWork struct {
	Kind, Label string
	Hint        string
	Water       bool // litres, cans or the saved line
	First       bool // the main work, set large
	Gear        bool // work on gear: it stands in the short form too
	Can         string
	CanLitres   string // per can, in the unit of volume; empty where there is none
	Line        string // the saved drain line: "to the third screw"
	LineLitres  string
	Last        string // litres or minutes of last time, as they would be typed
	LastSays    string
	Asked       string   // litres that stand on the list: no other amount is offered beside it
	Ask         []string // which of ml, minutes, part, note, pays are asked
}

// VisitDose is one line of the dosing plan that is given at the visit.
type VisitDose struct{ Solute, Says, Ml string }

// VisitReadingGroup is readings that are not due, kept folded.
type VisitReadingGroup struct {
	Title    string
	Gear     bool // tells how the gear does
	Readings []VisitReading
}

// VisitReading is one value that can be read.
type VisitReading struct {
	Name  string // no3.before
	Label string
	When  string // late in the light period; empty where it goes without saying
	Why   string // why it is due
	Last  string // 8 mg/L, Tuesday 10 November
	Ways  []VisitWay
	Way   int // the one shown
}

// VisitWay is one instrument that the value can be read with.
type VisitWay struct {
	Lot, Name string
	Type      string // classes, drops, meter
	Unit      string // as posted
	Sign      string // as read
	Note      string // past its date
	Drop      string // what one drop means, for the reader
	PerDrop   string // the same as a plain number, for the script
	Classes   []Option
}

// VisitMoved is what the rows for plants and animals offer.
type VisitMoved struct {
	Rows    int
	Plants  []Option
	Animals []Option
	Reasons []Option
}

// Pays is who pays for a thing.
var Pays = []Option{{Value: "included", Label: "Included"}, {Value: "to_bill", Label: "To bill"}, {Value: "warranty", Label: "Warranty"}, {Value: "customers_own", Label: "Customer’s own"}}

func (p VisitForm) shows(id string) bool {
	for _, s := range p.Sections {
		if s.ID == id {
			return true
		}
	}
	return false
}

func (p VisitForm) value(name string) string { return p.Values.Get(name) }

// confirmed lists what was already said to be meant, except what is asked about anew.
func (p VisitForm) confirmed() []string {
	var out []string
	for _, c := range p.Values["confirm"] {
		asked := false
		for _, f := range p.Faults {
			asked = asked || f.Confirm != "" && f.Name+"="+f.Confirm == c
		}
		if !asked {
			out = append(out, c)
		}
	}
	return out
}

// open reports whether a folded reading has to be seen: something is typed in
// it, or something is wrong with it.
func (p VisitForm) open(r VisitReading) bool {
	return p.value("reading."+r.Name) != "" || len(p.Faults.On("reading."+r.Name)) > 0
}

func (p VisitForm) anyOpen(g VisitReadingGroup) bool {
	for _, r := range g.Readings {
		if p.open(r) {
			return true
		}
	}
	return false
}

// typed reports whether any field whose name starts with one of the prefixes holds something.
func (p VisitForm) typed(prefixes ...string) bool { return typedIn(p.Values, prefixes) }

func typedIn(values url.Values, prefixes []string) bool {
	for name, vs := range values {
		for _, prefix := range prefixes {
			if strings.HasPrefix(name, prefix) && strings.Join(vs, "") != "" {
				return true
			}
		}
	}
	return false
}

// Stands reports whether the test has to stand for a while before it is read.
func (r VisitReading) Stands() bool { return r.Ways[r.Way].isClasses() || r.Ways[r.Way].isDrops() }

func (w VisitWay) isClasses() bool { return w.Type == "classes" }
func (w VisitWay) isDrops() bool   { return w.Type == "drops" }

func (w VisitWork) asks(what string) bool {
	for _, a := range w.Ask {
		if a == what {
			return true
		}
	}
	return false
}

func upTo(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i + 1
	}
	return out
}

func row(prefix string, n int, suffix string) string {
	return prefix + "." + strconv.Itoa(n) + "." + suffix
}

// rows is how many rows of a kind are shown: as many as the page had, and as
// many as have something in them.
func (p VisitForm) rows(what string, least int) int {
	n := least
	if had, err := strconv.Atoi(p.value("ui.rows." + what)); err == nil && had > n {
		n = had
	}
	return min(n, 60)
}

// photoPage is the page of photographs with this visit's number.
func (p VisitForm) photoPage() string { return p.Photos + "?visit=" + p.value("visit") + "#add" }

func (p VisitForm) rowsText(what string, least int) string { return strconv.Itoa(p.rows(what, least)) }

// leaveOneByOne reports whether the lines of the leave list have to be seen:
// some are said, or only some are missing.
func (p VisitForm) leaveOneByOne() bool {
	if p.Has("leave.all", "checked") {
		return false
	}
	for _, o := range p.Leave {
		if p.value("leave."+o.Value) != "" {
			return true
		}
	}
	return false
}

// VisitKind is a kind of visit that the form can be for. The scripts make a
// routine form into it where only that one is on the tablet.
type VisitKind struct {
	Link
	ID    string
	Parts []VisitSection
}

// parts are the kind's parts as the scripts read them: ids and titles, a line each.
func (k VisitKind) parts() string {
	lines := make([]string, len(k.Parts))
	for i, s := range k.Parts {
		lines[i] = s.ID + "=" + s.Title
	}
	return strings.Join(lines, "\n")
}

// title is what a part is called in this kind's form.
func (p VisitForm) title(id string) string {
	for _, s := range p.Sections {
		if s.ID == id {
			return s.Title
		}
	}
	return ""
}

func (p VisitForm) arrivedLabel() string {
	if p.Call {
		return "When the call began"
	}
	return "Time of arrival"
}

func (p VisitForm) leftButton() string {
	if p.Call {
		return "Call ended"
	}
	return "Leaving"
}

func (p VisitForm) leftLabel() string {
	if p.Call {
		return "When it ended"
	}
	return "Time of leaving"
}
