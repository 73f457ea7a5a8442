package view

// Sheet is the care sheet: the same document for the link and for paper.
type Sheet struct {
	Shop, Phone, Dial, Mail string
	Tank, Customer          string
	Day, By                 string
	Top                     string // the one sentence it opens with
	Standing                string // the same in three words, for the tab and for readers of headings
	Calls                   bool   // something is to be done today
	Lines                   []SheetLine
	Donts                   []string
	Done                    []string
	Note                    []string // paragraphs
	Next, NextText          string
	Figures                 []Strip
	Prints                  []Print // photographs side by side, chosen by whoever gave it
	PrintStyle              string  // address of their style sheet
	Replaces                string  // day of the sheet that this one replaces
	Newer                   bool    // more is known by now
	Earlier                 []Link  // other sheets under the same link
	Link                    string  // the address, to type; empty on a draft
	QR                      QR
	Draft                   bool // not given yet: the technician looks at it

	Letter bool
	Lang   string
	Assets Assets
	Style  string
}

// SheetLine is one line for the customer, with its little drawing.
type SheetLine struct{ Icon, Text, Day string }

// QR is a code as the path of a drawing, in modules, with its quiet margin.
type QR struct {
	Path string
	Size int
}

func (s Sheet) paper() string {
	if s.Letter {
		return "sheet letter"
	}
	return "sheet a4"
}

func (s Sheet) lang() string {
	if s.Lang == "" {
		return "en"
	}
	return s.Lang
}

func (q QR) box() string {
	n := itoa(q.Size)
	return "0 0 " + n + " " + n
}
