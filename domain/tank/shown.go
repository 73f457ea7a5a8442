package tank

import (
	"strings"

	"scaperound/domain/say"

	q "scaperound/domain/quantity"
)

// Shown is a form as it is drawn: the text of each field by name.
type Shown struct {
	Units say.Units
	Text  map[string]string
}

// NewShown is an empty form for a reader.
func NewShown(units say.Units) Shown { return Shown{units, map[string]string{}} }

func (f Shown) tick(name string, on bool) {
	if on {
		f.Text[name] = "1"
	}
}

func (f Shown) day(name string, d q.Opt[q.Date]) {
	if d.OK {
		f.Text[name] = d.V.String()
	}
}

func (f Shown) clock(name string, m q.Opt[q.MinuteOfDay]) {
	if m.OK {
		f.Text[name] = m.V.String()
	}
}

func (f Shown) lines(name string, l []string) { f.Text[name] = strings.Join(l, "\n") }

// The longest texts that are kept, in characters.
const (
	MaxNote   = 2000
	MaxPinned = 600
)
