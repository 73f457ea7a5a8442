package view

// RoundLine is one person's day, drawn to scale: seconds of the day.
type RoundLine struct {
	Person  string
	Span    string // leaves and is back, in words
	Sum     string // stops, driving, time at tanks
	From    int    // the line's own ends
	To      int
	Leave   int
	Back    int
	Now     int // of today; 0 is no mark
	Home    int // seconds of driving from the last stop
	Break   *RoundSpan
	Stops   []RoundBar
	Rows    []RoundRow
	Nothing string // why there is no line
}

// RoundSpan is a time from and to, in seconds of the day.
type RoundSpan struct{ From, To int }

// RoundBar is a stop on the line.
type RoundBar struct {
	N                  int
	Drive, Arrive      int // seconds of driving before, time of arriving
	Begin, End         int
	Kept, Done         bool
	Promise            *RoundSpan
	Last               bool // kept apart: the last of the day
	Title, PromiseText string
}

// RoundRow is a stop in words, below the line.
type RoundRow struct {
	N                    int
	ID                   string // of the element
	Time, Drive, Minutes string
	Site, Href, Address  string
	Tanks                string
	Marks                []string // kept here; promised 9-11; with Bea; keep apart: last; nobody asks for it any more
	Urgent               []string // what is wrong with it
	Move                 *Link
	Keep                 *Post
	TakeOut              *Post
	Done                 bool
}

// lineWidth is about that of the page, so that the drawing's text is as large as
// the rest.
const lineWidth = 660.0

// x is where a second of the day lies on a line from from to to.
func (l RoundLine) x(second int) float64 {
	if l.To <= l.From {
		return 0
	}
	return lineWidth * float64(second-l.From) / float64(l.To-l.From)
}

func (l RoundLine) at(second int) string { return coordinate(l.x(second)) }

func (l RoundLine) wide(from, to int) string { return coordinate(max(2, l.x(to)-l.x(from))) }

func (l RoundLine) middle(from, to int) string { return coordinate((l.x(from) + l.x(to)) / 2) }

// hours are the full hours within the line.
func (l RoundLine) hours() []int {
	var out []int
	for h := (l.From + 3599) / 3600; h*3600 <= l.To; h++ {
		out = append(out, h)
	}
	return out
}

// drives are the stretches of driving: from leaving the stop before until
// arriving, and the way home.
func (l RoundLine) drives() []RoundSpan {
	var out []RoundSpan
	for _, s := range l.Stops {
		if s.Drive > 0 {
			out = append(out, RoundSpan{s.Arrive - s.Drive, s.Arrive})
		}
	}
	if n := len(l.Stops); n > 0 && l.Home > 0 {
		out = append(out, RoundSpan{l.Back - l.Home, l.Back})
	}
	return out
}

// waits are the times of waiting before a stop begins.
func (l RoundLine) waits() []RoundSpan {
	var out []RoundSpan
	for _, s := range l.Stops {
		if s.Begin > s.Arrive {
			out = append(out, RoundSpan{s.Arrive, s.Begin})
		}
	}
	return out
}
