// Package triage is what is asked and told on the telephone while nobody is at
// the tank: five questions that a layman can answer without a kit, three actions
// to read aloud, what not to do, and who goes. It names no medicine and doses
// nothing.
package triage

import (
	"slices"
)

// Reply is what a caller answers to a question.
type Reply string

// Replies.
const (
	Yes      Reply = "yes"
	No       Reply = "no"
	NotKnown Reply = "not_known"
)

// Replies in the order of a form.
var Replies = []Reply{Yes, No, NotKnown}

// Title is the reply in words.
func (r Reply) Title() string {
	switch r {
	case Yes:
		return "Yes"
	case No:
		return "No"
	}
	return "Not known"
}

// Going is whether and when somebody goes there.
type Going string

// Goings, the most pressing first.
const (
	GoNow       Going = "now"
	GoToday     Going = "today"
	GoTomorrow  Going = "tomorrow"
	GoNextVisit Going = "next_visit"
	GoNobody    Going = "nobody"
)

// Goings in the order of their pressing.
var Goings = []Going{GoNow, GoToday, GoTomorrow, GoNextVisit, GoNobody}

// Title is the decision in words.
func (g Going) Title() string {
	switch g {
	case GoNow:
		return "Somebody goes now"
	case GoToday:
		return "Somebody goes today"
	case GoTomorrow:
		return "Somebody goes tomorrow"
	case GoNextVisit:
		return "Looked at on the next visit"
	case GoNobody:
		return "Nobody needs to go"
	}
	return ""
}

// Short is the decision as it stands beside a question.
func (g Going) Short() string {
	switch g {
	case GoNow:
		return "go now"
	case GoToday:
		return "go today"
	case GoTomorrow:
		return "go tomorrow"
	}
	return ""
}

// Waits reports whether somebody is expected soon, so that it must not be
// forgotten.
func (g Going) Waits() bool { return g == GoNow || g == GoToday || g == GoTomorrow }

// Question is asked of whoever stands at the tank.
type Question struct {
	ID  string
	Ask string
	// Presses is the reply that makes it press, and Then how much; no reply
	// presses where Then is empty.
	Presses Reply
	Then    Going
}

// Guide is one kind of trouble.
type Guide struct {
	ID    string
	Title string // as the caller says it
	First string // before all else: people
	Ask   [5]Question
	Do    [3]string // read aloud, in the words of a layman
	Not   []string
	Goes  string // who
	Else  Going  // where no reply presses
	Bring []string
	There []string // what whoever goes does first
}

// GuideOf finds a guide.
func GuideOf(id string) (Guide, bool) {
	i := slices.IndexFunc(guides, func(g Guide) bool { return g.ID == id })
	if i < 0 {
		return Guide{}, false
	}
	return guides[i], true
}

// Guides lists all, the most dangerous first. The caller must not change them.
func Guides() []Guide { return guides }

// Advise says from the replies whether somebody goes, and which questions made
// it so. What nobody could answer presses half as much as what is bad: where it
// would be now, it is today.
func (g Guide) Advise(replies map[string]Reply) (Going, []Question) {
	out, why := g.Else, []Question(nil)
	for _, q := range g.Ask {
		then := q.Then
		switch r := replies[q.ID]; {
		case then == "", r == "":
			continue
		case r == NotKnown && then == GoNow:
			then = GoToday
		case r != q.Presses:
			continue
		}
		switch by := slices.Index(Goings, then) - slices.Index(Goings, out); {
		case by < 0:
			out, why = then, []Question{q}
		case by == 0:
			why = append(why, q)
		}
	}
	return out, why
}
