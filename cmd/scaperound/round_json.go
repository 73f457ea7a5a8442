package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/round"
	"scaperound/domain/say"
)

// The document of a week. Times are written 07:45 or 07:45:30, days 2026-11-24,
// weekdays mon to sun.
type weekJSON struct {
	From    dayJSON      `json:"from"`
	Days    int          `json:"days"`
	Places  []placeJSON  `json:"places"`
	Vans    []vanJSON    `json:"vans,omitempty"`
	People  []personJSON `json:"people"`
	Stops   []stopJSON   `json:"stops"`
	Travel  *travelJSON  `json:"travel,omitempty"`
	Weights *weightsJSON `json:"weights,omitempty"`
	Known   *planJSON    `json:"known,omitempty"`
}

type placeJSON struct {
	ID   string   `json:"id"`
	Name string   `json:"name,omitempty"`
	Lat  *float64 `json:"lat,omitempty"`
	Lon  *float64 `json:"lon,omitempty"`
}

type vanJSON struct {
	ID        string `json:"id"`
	Name      string `json:"name,omitempty"`
	WaterL    int    `json:"water_l"`
	Cylinders int    `json:"cylinders"`
}

type personJSON struct {
	ID      string      `json:"id"`
	Name    string      `json:"name,omitempty"`
	Skills  []string    `json:"skills,omitempty"`
	Hours   []shiftJSON `json:"hours,omitempty"`
	Leave   []leaveJSON `json:"leave,omitempty"`
	Special []shiftJSON `json:"special,omitempty"`
}

type shiftJSON struct {
	Weekday string     `json:"weekday,omitempty"`
	Day     *dayJSON   `json:"day,omitempty"`
	From    clockJSON  `json:"from"`
	To      clockJSON  `json:"to"`
	Start   string     `json:"start,omitempty"`
	End     string     `json:"end,omitempty"`
	Van     string     `json:"van,omitempty"`
	Break   *breakJSON `json:"break,omitempty"`
}

type breakJSON struct {
	From    clockJSON `json:"from"`
	To      clockJSON `json:"to"`
	Minutes float64   `json:"minutes"`
}

type leaveJSON struct {
	From dayJSON `json:"from"`
	To   dayJSON `json:"to"`
}

type windowJSON struct {
	Weekday string    `json:"weekday,omitempty"`
	Day     *dayJSON  `json:"day,omitempty"`
	From    clockJSON `json:"from"`
	To      clockJSON `json:"to"`
}

type promiseJSON struct {
	Day  dayJSON   `json:"day"`
	From clockJSON `json:"from"`
	To   clockJSON `json:"to"`
}

type keepJSON struct {
	Day    dayJSON    `json:"day"`
	Person string     `json:"person,omitempty"`
	With   string     `json:"with,omitempty"`
	Start  *clockJSON `json:"start,omitempty"`
}

type stopJSON struct {
	ID          string       `json:"id"`
	Name        string       `json:"name,omitempty"`
	Place       string       `json:"place"`
	Phone       string       `json:"phone,omitempty"`
	WorkMinutes float64      `json:"work_minutes"`
	Windows     []windowJSON `json:"windows,omitempty"`
	Away        []leaveJSON  `json:"away,omitempty"`
	Due         dayJSON      `json:"due"`
	EarlyDays   int          `json:"early_days,omitempty"`
	LateDays    int          `json:"late_days,omitempty"`
	NotBefore   *dayJSON     `json:"not_before,omitempty"`
	NotAfter    *dayJSON     `json:"not_after,omitempty"`
	Press       string       `json:"press,omitempty"`
	Weekday     string       `json:"weekday,omitempty"`
	Promised    *promiseJSON `json:"promised,omitempty"`
	Skills      []string     `json:"skills,omitempty"`
	People      int          `json:"people,omitempty"`
	Prefer      string       `json:"prefer,omitempty"`
	LastBy      string       `json:"last_by,omitempty"`
	WaterL      int          `json:"water_l,omitempty"`
	Cylinders   int          `json:"cylinders,omitempty"`
	KeptApart   bool         `json:"kept_apart,omitempty"`
	Keep        *keepJSON    `json:"keep,omitempty"`
	Unsuited    []string     `json:"unsuited,omitempty"`
}

type travelJSON struct {
	DriveS [][]int `json:"drive_s"`
	Metres [][]int `json:"metres,omitempty"`
	Pace   []int   `json:"pace_percent,omitempty"`
}

type weightsJSON struct {
	Unplaced   int64 `json:"unplaced"`
	UrgentLate int64 `json:"urgent_late"`
	SlipLate   int64 `json:"slip_late"`
	OutOfDays  int64 `json:"out_of_days"`
	OffDue     int64 `json:"off_due"`
	Weekday    int64 `json:"weekday"`
	Moved      int64 `json:"moved"`
	NotPrefer  int64 `json:"not_prefer"`
	NotLast    int64 `json:"not_last"`
	Uneven     int64 `json:"uneven"`
}

// clockJSON is a time of the day.
type clockJSON round.Seconds

func (c clockJSON) MarshalText() ([]byte, error) {
	text := fmt.Sprintf("%02d:%02d", c/3600, c/60%60)
	if c%60 != 0 {
		text += fmt.Sprintf(":%02d", c%60)
	}
	return []byte(text), nil
}

func (c *clockJSON) UnmarshalText(b []byte) error {
	if string(b) == "24:00" {
		*c = clockJSON(24 * round.Hour)
		return nil
	}
	for _, layout := range []string{"15:04", "15:04:05"} {
		if t, err := time.Parse(layout, string(b)); err == nil {
			*c = clockJSON(t.Hour()*3600 + t.Minute()*60 + t.Second())
			return nil
		}
	}
	return fmt.Errorf("%q is no time of the day; it is written 07:45", b)
}

// dayJSON is a civil day.
type dayJSON q.Date

func (d dayJSON) MarshalText() ([]byte, error) { return []byte(q.Date(d).String()), nil }

func (d *dayJSON) UnmarshalText(b []byte) error {
	v, ok := q.ParseDate(string(b))
	if !ok {
		return fmt.Errorf("%q is no day; it is written 2026-11-24", b)
	}
	*d = dayJSON(v)
	return nil
}

var weekdays = []string{"sun", "mon", "tue", "wed", "thu", "fri", "sat"}

// weekReader turns the document into a problem and collects what is wrong.
type weekReader struct {
	places map[string]int
	faults fault.Fields
}

func readWeek(b []byte) (round.Problem, error) {
	var w weekJSON
	dec := json.NewDecoder(bytes.NewReader(b))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&w); err != nil {
		var at *json.UnmarshalTypeError
		if errors.As(err, &at) {
			return round.Problem{}, fault.New(fault.Malformed, "%s: this must be %s, not %s.", at.Field, at.Type.Kind(), at.Value)
		}
		return round.Problem{}, fault.New(fault.Malformed, "The document cannot be read: %s.", strings.TrimPrefix(err.Error(), "json: "))
	}
	if dec.More() {
		return round.Problem{}, fault.New(fault.Malformed, "Something follows after the document.")
	}
	r := weekReader{places: map[string]int{}}
	p := r.problem(w)
	return p, r.faults.Err()
}

func (r *weekReader) problem(w weekJSON) round.Problem {
	p := round.Problem{From: q.Date(w.From), Days: w.Days}
	if w.Days < 1 || w.Days > 62 {
		r.faults.Add("days", fault.Impossible, "A plan is for 1 to 62 days.")
	}
	for i, x := range w.Places {
		at := round.Place{ID: x.ID, Name: x.Name, Unknown: x.Lat == nil || x.Lon == nil}
		if !at.Unknown {
			at.Lat, at.Lon = *x.Lat, *x.Lon
			if at.Lat < -90 || at.Lat > 90 || at.Lon < -180 || at.Lon > 180 {
				r.faults.Add(fmt.Sprintf("places.%d", i), fault.Impossible, "There is no such point on the earth.")
			}
		}
		if _, twice := r.places[x.ID]; twice || x.ID == "" {
			r.faults.Add(fmt.Sprintf("places.%d.id", i), fault.Taken, "Each place needs an id of its own.")
		}
		r.places[x.ID] = i
		p.Places = append(p.Places, at)
	}
	for _, v := range w.Vans {
		p.Vans = append(p.Vans, round.Van{ID: v.ID, Name: v.Name, Carries: round.Load{WaterL: v.WaterL, Cylinders: v.Cylinders}})
	}
	seen := map[string]bool{}
	own := func(path, id string) {
		if id == "" || seen[path[:1]+id] {
			r.faults.Add(path+".id", fault.Taken, "Each one needs an id of its own.")
		}
		seen[path[:1]+id] = true
	}
	for i, x := range w.People {
		path := fmt.Sprintf("people.%d", i)
		own(path, x.ID)
		p.People = append(p.People, r.person(path, x))
	}
	for i, x := range w.Stops {
		path := fmt.Sprintf("stops.%d", i)
		own(path, x.ID)
		p.Stops = append(p.Stops, r.stop(path, x))
	}
	if w.Travel != nil {
		p.Travel = r.travel(w.Travel, len(p.Places))
	}
	if w.Weights != nil {
		p.Weights = round.Weights(*w.Weights)
	}
	if w.Known != nil {
		known := w.Known.plan()
		p.Known = &known
	}
	return p
}

func (r *weekReader) place(path, id string) int {
	i, ok := r.places[id]
	if !ok {
		r.faults.Add(path, fault.Unknown, "There is no place %q.", id)
		return -1
	}
	return i
}

func (r *weekReader) weekday(path, text string) time.Weekday {
	i := slices.Index(weekdays, text)
	if i < 0 {
		r.faults.Add(path, fault.NotChoice, "A weekday is one of %s.", strings.Join(weekdays, ", "))
		return 0
	}
	return time.Weekday(i)
}

func (r *weekReader) person(path string, x personJSON) round.Person {
	who := round.Person{ID: x.ID, Name: nameOr(x.Name, x.ID), Skills: x.Skills, Leave: leaves(x.Leave)}
	for i, h := range x.Hours {
		at := fmt.Sprintf("%s.hours.%d", path, i)
		who.Hours = append(who.Hours, round.Hours{Weekday: r.weekday(at+".weekday", h.Weekday), Shift: r.shift(at, h)})
	}
	for i, h := range x.Special {
		at := fmt.Sprintf("%s.special.%d", path, i)
		if h.Day == nil {
			r.faults.Add(at+".day", fault.Missing, "Which day?")
			continue
		}
		s := round.Shift{Day: q.Date(*h.Day)}
		if h.To > h.From {
			s = r.shift(at, h)
			s.Day = q.Date(*h.Day)
		}
		who.Special = append(who.Special, s)
	}
	return who
}

func (r *weekReader) shift(path string, h shiftJSON) round.Shift {
	s := round.Shift{From: round.Seconds(h.From), To: round.Seconds(h.To), Van: h.Van, Start: r.place(path+".start", h.Start)}
	s.End = s.Start
	if h.End != "" {
		s.End = r.place(path+".end", h.End)
	}
	if h.Break != nil {
		s.Break = round.Break{From: round.Seconds(h.Break.From), To: round.Seconds(h.Break.To), Length: r.minutes(path+".break.minutes", h.Break.Minutes)}
	}
	return s
}

func (r *weekReader) minutes(path string, m float64) round.Seconds {
	if !(m >= 0 && m <= 24*60) {
		r.faults.Add(path, fault.Impossible, "Minutes are 0 to 1440.")
		return 0
	}
	return round.Seconds(m*60 + 0.5)
}

func leaves(in []leaveJSON) []round.Leave {
	var out []round.Leave
	for _, l := range in {
		out = append(out, round.Leave{From: q.Date(l.From), To: q.Date(l.To)})
	}
	return out
}

func maybeDay(d *dayJSON) q.Opt[q.Date] {
	if d == nil {
		return q.Opt[q.Date]{}
	}
	return q.Some(q.Date(*d))
}

var presses = []string{"routine", "no_slip", "urgent"}

func (r *weekReader) stop(path string, x stopJSON) round.Stop {
	s := round.Stop{
		ID: x.ID, Name: nameOr(x.Name, x.ID), Place: r.place(path+".place", x.Place), Phone: x.Phone, Work: r.minutes(path+".work_minutes", x.WorkMinutes),
		Away: leaves(x.Away), Due: q.Date(x.Due), EarlyDays: x.EarlyDays, LateDays: x.LateDays, NotBefore: maybeDay(x.NotBefore), NotAfter: maybeDay(x.NotAfter),
		Skills: x.Skills, People: x.People, Prefer: x.Prefer, LastBy: x.LastBy, Load: round.Load{WaterL: x.WaterL, Cylinders: x.Cylinders},
		KeptApart: x.KeptApart, Unsuited: x.Unsuited,
	}
	if x.Press != "" {
		i := slices.Index(presses, x.Press)
		if i < 0 {
			r.faults.Add(path+".press", fault.NotChoice, "This is one of %s.", strings.Join(presses, ", "))
		}
		s.Press = round.Press(max(i, 0))
	}
	if x.People < 0 || x.People > 2 {
		r.faults.Add(path+".people", fault.Impossible, "One person or two.")
	}
	if x.Weekday != "" {
		s.Weekday = q.Some(r.weekday(path+".weekday", x.Weekday))
	}
	for i, w := range x.Windows {
		out := round.Window{Day: maybeDay(w.Day), From: round.Seconds(w.From), To: round.Seconds(w.To)}
		if w.Day == nil {
			out.Weekday = r.weekday(fmt.Sprintf("%s.windows.%d.weekday", path, i), w.Weekday)
		}
		s.Windows = append(s.Windows, out)
	}
	if pr := x.Promised; pr != nil {
		s.Promised = q.Some(round.Promise{Day: q.Date(pr.Day), From: round.Seconds(pr.From), To: round.Seconds(pr.To)})
	}
	if k := x.Keep; k != nil {
		keep := round.Keep{Day: q.Date(k.Day), Person: k.Person, With: k.With}
		if k.Start != nil {
			keep.Start = q.Some(round.Seconds(*k.Start))
		}
		s.Keep = q.Some(keep)
	}
	return s
}

func nameOr(name, id string) string {
	if name == "" {
		return id
	}
	return name
}

func (r *weekReader) travel(t *travelJSON, n int) round.Travel {
	var out round.Travel
	if len(t.DriveS) != n {
		r.faults.Add("travel.drive_s", fault.Impossible, "This needs a row for each of the %d places.", n)
		return out
	}
	for i, row := range t.DriveS {
		if len(row) != n || len(t.Metres) > 0 && (len(t.Metres) != n || len(t.Metres[i]) != n) {
			r.faults.Add(fmt.Sprintf("travel.drive_s.%d", i), fault.Impossible, "A row needs a number for each of the %d places.", n)
			return round.Travel{}
		}
		for j, s := range row {
			if s < 0 || s > 86400 {
				r.faults.Add(fmt.Sprintf("travel.drive_s.%d.%d", i, j), fault.Impossible, "Seconds of driving are 0 to 86400.")
			}
			out.Drive = append(out.Drive, round.Seconds(min(max(s, 0), 86400)))
			if len(t.Metres) > 0 {
				out.Metres = append(out.Metres, int32(min(max(t.Metres[i][j], 0), 50_000_000)))
			}
		}
	}
	if len(t.Pace) > 0 && len(t.Pace) != 24 {
		r.faults.Add("travel.pace_percent", fault.Impossible, "The pace needs 24 numbers, one for each hour.")
	} else {
		copy(out.Pace[:], t.Pace)
	}
	return out
}

// sayAll puts sentences into words.
func sayAll(in []say.Sentence) []string {
	var out []string
	for _, s := range in {
		out = append(out, say.Render(s, say.MetricUnits))
	}
	return out
}
