//go:build !js

package visit

import (
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	q "scaperound/domain/quantity"
)

// Limits on the list that a post may carry. A longer one is left unread: half a
// list would tell of differences that are none.
const (
	maxActed      = 24000 // bytes
	maxActedLines = 120
)

// ListLine is a line of the list that a form shows while it is filled in.
type ListLine struct {
	Part string // now, pour, findings, visit, next, customer
	ID   string // the task's key or the finding's rule; empty where lines have none
	Text string
}

// NewListLine makes a line of what may have been written in several.
func NewListLine(part, id, text string) ListLine {
	return ListLine{Part: part, ID: id, Text: strings.Join(strings.Fields(text), " ")}
}

// ActedOn is the list that a form showed when it was sent.
type ActedOn struct {
	Lines []ListLine
	Given bool // the form told of its list, which may have been empty
	Here  bool // judged on the tablet, by what it had taken along
	// Record is of when the tank's record was by which the list was drawn.
	Record q.Opt[time.Time]
	// Late says that something was typed after the list was drawn.
	Late bool
}

// ActedOnIn reads the list that a post carries. What it cannot read it takes as
// not said: no visit is refused for it.
func ActedOnIn(fields []Field) ActedOn {
	var a ActedOn
	for _, f := range fields {
		switch f.Name {
		case "acted.lines":
			a.Lines, a.Given = readList(f.Value)
		case "acted.by":
			a.Here = f.Value == "tablet"
		case "acted.record":
			if t, ok := q.ParseInstant(f.Value); ok {
				a.Record = q.Some(t)
			}
		case "acted.late":
			a.Late = f.Value == "1"
		}
	}
	return a
}

// listHead begins the text of every list, so that an empty one is told from none.
const listHead = "list"

// readList reads lines of a part, an id and a text with tabulators between them.
func readList(text string) (lines []ListLine, ok bool) {
	rows := strings.Split(strings.TrimSpace(strings.ReplaceAll(text, "\r\n", "\n")), "\n")
	if len(text) > maxActed || len(rows) > maxActedLines+1 || rows[0] != listHead || !utf8.ValidString(text) {
		return nil, false
	}
	for _, row := range rows[1:] {
		cells := strings.Split(row, "\t")
		if len(cells) != 3 || strings.TrimSpace(cells[2]) == "" {
			return nil, false
		}
		lines = append(lines, NewListLine(cells[0], cells[1], cells[2]))
	}
	return lines, true
}

// ListChange is a place where two lists differ. A side without a text has no
// such line.
type ListChange struct{ Was, Is ListLine }

// Added and Gone report that only one of the lists has the line.
func (c ListChange) Added() bool { return c.Was.Text == "" }
func (c ListChange) Gone() bool  { return c.Is.Text == "" }

// ListChanges says where two lists differ, in the order of the list that is, and
// then in that of the one that was. Lines of the same task or rule are held
// against each other, and lines without an id where only their figures differ.
func ListChanges(was, is []ListLine) []ListChange {
	gone, added := apart(was, is), apart(is, was)
	var out []ListChange
	used := make([]bool, len(gone))
	for _, line := range added {
		c := ListChange{Is: line}
		for i, old := range gone {
			if !used[i] && sameMatter(old, line) {
				used[i], c.Was = true, old
				break
			}
		}
		out = append(out, c)
	}
	for i, old := range gone {
		if !used[i] {
			out = append(out, ListChange{Was: old})
		}
	}
	return out
}

// apart are the lines of a list that the other one does not have, word for word.
func apart(lines, other []ListLine) []ListLine {
	count := map[ListLine]int{}
	for _, l := range other {
		count[l]++
	}
	var out []ListLine
	for _, l := range lines {
		if count[l] > 0 {
			count[l]--
			continue
		}
		out = append(out, l)
	}
	return out
}

// sameMatter reports whether two lines speak of the same. A task that has moved
// from next time to now is still the same task.
func sameMatter(a, b ListLine) bool {
	if a.ID != b.ID || listGroup(a.Part) != listGroup(b.Part) {
		return false
	}
	return a.ID != "" || wording(a.Text) == wording(b.Text)
}

func listGroup(part string) string {
	if part == "now" || part == "visit" || part == "next" {
		return "task"
	}
	return part
}

// wording is a text without its figures.
func wording(text string) string {
	var b strings.Builder
	for _, word := range strings.Fields(text) {
		if _, err := strconv.ParseFloat(strings.ReplaceAll(strings.Trim(word, ".,;:()"), ",", "."), 64); err == nil {
			word = "#"
		}
		b.WriteString(word)
		b.WriteByte(' ')
	}
	return b.String()
}
