package triage

import (
	"slices"
	"strings"
	"time"

	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/typed"
)

// Call is one call for help, and what came of it.
type Call struct {
	ID, Tank, TankName string
	At                 time.Time
	By                 string // name of who took it
	Guide              string
	Replies            map[string]Reply
	Words              string // what the caller said besides
	Read               []int  // which of the three actions were read aloud, from 0
	Advised, Going     Going
	Goes               string // id of who goes; empty: not settled who
	GoesName           string
	OpenProblem        bool
	Problem            string // id of the problem that was opened with it
	Settled            q.Opt[time.Time]
	SettledBy          string // name
}

// MaxWords is the longest text of a call, in characters.
const MaxWords = 2000

// ParseCall reads a call: id, q.QUESTION, read.0 to read.2, words, going, goes
// and problem. Where going is empty the replies decide. people are those who
// can go.
func ParseCall(get typed.Fields, g Guide, people []string) (Call, fault.Fields) {
	f := typed.Form{Get: get}
	c := Call{ID: strings.TrimSpace(get("id")), Guide: g.ID, Replies: map[string]Reply{}}
	for _, ask := range g.Ask {
		if r := typed.Choice(&f, "q."+ask.ID, "", Replies, "Choose yes, no or not known."); r != "" {
			c.Replies[ask.ID] = r
		}
	}
	for i := range g.Do {
		if f.Tick(ReadField(i)) {
			c.Read = append(c.Read, i)
		}
	}
	c.Words = f.Text("words", MaxWords)
	c.Advised, _ = g.Advise(c.Replies)
	c.Going = typed.Choice(&f, "going", c.Advised, Goings, "Choose who goes and when, or leave it to the replies.")
	c.Goes = typed.Choice(&f, "goes", "", people, "Choose somebody who works here.")
	c.OpenProblem = f.Tick("problem")
	return c, f.Faults
}

// ReadField names the box that says an action was read aloud.
func ReadField(i int) string { return "read." + string(rune('0'+i)) }

// TheySaid is the call in words, as a note keeps what the caller said.
func (c Call) TheySaid() string {
	g, _ := GuideOf(c.Guide)
	parts := []string{c.TankName + ": " + lowerFirst(g.Title) + "."}
	for _, ask := range g.Ask {
		if r := c.Replies[ask.ID]; r != "" {
			parts = append(parts, ask.Ask+" "+r.Title()+".")
		}
	}
	if c.Words != "" {
		parts = append(parts, c.Words)
	}
	return strings.Join(parts, "\n")
}

// WeSaid is what was told, likewise.
func (c Call) WeSaid() string {
	g, _ := GuideOf(c.Guide)
	var parts []string
	for i, do := range g.Do {
		if slices.Contains(c.Read, i) {
			parts = append(parts, do)
		}
	}
	going := c.Going.Title()
	if c.GoesName != "" && c.Going.Waits() {
		going += ": " + c.GoesName
	}
	return strings.Join(append(parts, going+"."), "\n")
}

func lowerFirst(s string) string {
	if s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}
