package tank

import (
	"strings"
	"time"
	"unicode/utf8"

	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
)

// Problem is a trouble that is worked at over several visits, by whoever comes,
// so that the customer hears one story.
type Problem struct {
	ID       string
	Tank     string
	Title    string
	Belief   string // what we take for the cause
	Next     string // what we do next
	OpenedAt time.Time
	OpenedBy string // name
	ClosedAt q.Opt[time.Time]
	Tries    []Try // the newest first
	Version  int
}

// Try is something that was done about a problem, and what came of it.
type Try struct {
	ID            string
	At            time.Time
	Staff         string // name
	Tried, Result string
}

// The longest texts of a problem, in characters.
const (
	MaxProblemTitle = 120
	MaxProblemText  = 2000
)

// CheckProblem tidies the texts and says every fault of them; the fields are
// named title, belief and next.
func CheckProblem(p Problem) (Problem, fault.Fields) {
	var fs fault.Fields
	p.Title = strings.Join(strings.Fields(p.Title), " ")
	p.Belief, p.Next = tidyText(p.Belief), tidyText(p.Next)
	if p.Title == "" {
		fs.Add("title", fault.Missing, "Say in a few words what is wrong.")
	}
	tooLong(&fs, "title", p.Title, MaxProblemTitle)
	tooLong(&fs, "belief", p.Belief, MaxProblemText)
	tooLong(&fs, "next", p.Next, MaxProblemText)
	return p, fs
}

// CheckTry tidies the texts and says every fault of them; the fields are named
// tried and result.
func CheckTry(t Try) (Try, fault.Fields) {
	var fs fault.Fields
	t.Tried, t.Result = tidyText(t.Tried), tidyText(t.Result)
	if t.Tried == "" {
		fs.Add("tried", fault.Missing, "Say what was tried.")
	}
	tooLong(&fs, "tried", t.Tried, MaxProblemText)
	tooLong(&fs, "result", t.Result, MaxProblemText)
	return t, fs
}

func tidyText(s string) string { return strings.TrimSpace(strings.ReplaceAll(s, "\r\n", "\n")) }

func tooLong(fs *fault.Fields, name, s string, most int) {
	if n := utf8.RuneCountInString(s); n > most {
		fs.Add(name, fault.TooLong, "This is %d characters long; at most %d are kept. Please shorten it.", n, most)
	}
}
