package visit

import (
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
)

// Limits on what one post may carry.
const (
	maxNote   = 4000 // runes
	maxShort  = 200
	maxRows   = 60 // of one repeated kind of row
	maxFields = 1500
)

// reader collects what a post says; each handler reads one family of fields.
type reader struct {
	c      Context
	s      Submission
	faults fault.Fields
	values map[string][]string
	rows   rowSet
}

// Parse reads a post. It returns all it could read together with every fault,
// in the order of the fields; blank is "not said" everywhere and never zero.
func Parse(fields []Field, c Context) (Submission, fault.Fields) {
	r := &reader{c: c, values: make(map[string][]string, len(fields)), rows: rowSet{}}
	r.s.Looks = map[Look]Answer{}
	r.s.Confirmed = map[string]string{}
	r.s.Tank = c.Tank
	if len(fields) > maxFields {
		r.faults.Add("visit", fault.TooLong, "The form has more fields than a visit can have.")
		return r.s, r.faults
	}
	order := make([]string, 0, len(fields))
	for _, f := range fields {
		v := strings.TrimSpace(f.Value)
		if !utf8.ValidString(v) {
			r.faults.Add(f.Name, fault.NotChoice, "This text has characters that cannot be read.")
			continue
		}
		if v == "" {
			continue
		}
		if f.Name == "confirm" {
			if name, value, ok := strings.Cut(v, "="); ok {
				r.s.Confirmed[name] = value
			}
			continue
		}
		if _, seen := r.values[f.Name]; !seen {
			order = append(order, f.Name)
		}
		r.values[f.Name] = append(r.values[f.Name], v)
	}
	r.head()
	for _, name := range order {
		r.field(name)
	}
	r.finishRows()
	return r.s, r.faults
}

// one returns the single value of a field and complains about a second.
func (r *reader) one(name string) string {
	vs := r.values[name]
	if len(vs) == 0 {
		return ""
	}
	if len(vs) > 1 && vs[0] != vs[len(vs)-1] {
		r.faults.Add(name, fault.NotChoice, "This was sent twice with different values: %s and %s.", vs[0], vs[1])
	}
	return vs[0]
}

// headFields are read once, before the rest.
var headFields = map[string]bool{
	"visit": true, "revision": true, "base": true, "wire": true, "staff": true, "stop": true, "kind": true,
	"performed": true, "arrived": true, "left": true, "sent": true, "offline": true, "drawn": true, "reason": true,
	"acted.hash": true, "acted.rules": true, "acted.at": true, "acted.lines": true, "acted.by": true, "acted.record": true, "acted.late": true, "leave.asked": true, "leave.all": true, "flow.eye": true,
	"dosed": true, "dosed.missed": true, "dosed.bottle": true, "dosed.note": true,
	"note.customer": true, "note.inside": true, "since": true,
}

func (r *reader) head() {
	s := &r.s
	s.WireGiven = r.one("wire")
	if s.WireGiven != "" && s.WireGiven != Wire {
		r.faults.Add("wire", fault.Unknown, "This form is of version %s, which the server does not know. It may be older than the tablet's page.", clip(s.WireGiven))
	}
	s.Visit, s.Revision, s.Base = r.id("visit", true), r.id("revision", true), r.id("base", false)
	s.Stop, s.Staff = r.id("stop", false), r.id("staff", false)
	s.Kind = Kind(r.choice("kind", string(Routine), kindIDs...))
	if t, ok := r.instant("performed"); ok {
		s.Performed = t
	} else if r.values["performed"] == nil {
		r.faults.Add("performed", fault.Missing, "Say when the visit was.")
	}
	s.Arrived, s.Left, s.Sent, s.Drawn = r.optInstant("arrived"), r.optInstant("left"), r.optInstant("sent"), r.optInstant("drawn")
	s.Offline = r.one("offline") == "1"
	s.Reason = r.text("reason", maxNote)
	s.ActedHash, s.ActedRules = r.text("acted.hash", maxShort), r.text("acted.rules", maxShort)
	s.ActedAt = r.optInstant("acted.at")
	s.NoteCustomer, s.NoteInside = r.text("note.customer", maxNote), r.text("note.inside", maxNote)
	s.EyeMark = EyeMark(r.choice("flow.eye", "", string(EyeWell), string(EyeLittle), string(EyeNot)))
	s.Doses = DosesBetween{
		How:      r.choice("dosed", "", "as_planned", "some_missed", "altered", "not_known"),
		BottleMl: number[q.Millilitre](r, "dosed.bottle", q.ML, 0, 100000),
		Note:     r.text("dosed.note", maxNote),
	}
	if n, ok := r.count("dosed.missed", 0, 400); ok {
		s.Doses.Missed = q.Some(n)
	}
	for _, what := range r.values["since"] {
		if !known(SinceChoices, what) {
			r.faults.Add("since", fault.NotChoice, "“%s” is not among the choices.", clip(what))
			continue
		}
		s.Since = append(s.Since, Since{What: what, Note: r.text("since."+what+".note", maxNote)})
	}
	s.LeaveAsked = r.one("leave.asked") == "1"
	if r.one("leave.all") == "checked" {
		for _, item := range LeaveItems {
			if r.values["leave."+item] == nil {
				s.Leave = append(s.Leave, Leave{Item: item, State: "checked"})
			}
		}
	}
}

// field reads one field that is not of the head.
func (r *reader) field(name string) {
	if headFields[name] {
		return
	}
	family, rest, _ := strings.Cut(name, ".")
	switch family {
	case "reading":
		r.reading(name, rest)
	case "unit", "kit", "drawn":
		// Read with their reading; alone they say nothing.
	case "look":
		r.look(name, rest)
	case "sign":
		r.sign(name, rest)
	case "since":
		// Notes are read with their choice.
	case "work":
		r.work(name, rest)
	case "task":
		r.task(name, rest)
	case "leave":
		r.leave(name, rest)
	case "ppfd", "bucket", "moved":
		r.rows.note(family, rest)
	case "ui", "more":
		// Fields that steer the page and say nothing about the visit.
	default:
		r.faults.Add(name, fault.Unknown, "The form has no field of this name.")
	}
}

func (r *reader) look(name, rest string) {
	look := Look(rest)
	if !known(Looks, look) {
		r.faults.Add(name, fault.Unknown, "There is no look of this name.")
		return
	}
	r.s.Looks[look] = Answer(r.choice(name, "", string(Fine), string(Trouble), "not_looked"))
	if r.s.Looks[look] == "not_looked" {
		r.s.Looks[look] = NotLooked
	}
}

func (r *reader) sign(name, rest string) {
	id, sub, has := strings.Cut(rest, ".")
	if has {
		if sub != "place" && sub != "extent" {
			r.faults.Add(name, fault.Unknown, "The form has no field of this name.")
		}
		return
	}
	if _, known := SignOf(id); !known {
		r.faults.Add(name, fault.Unknown, "There is no sign of this name.")
		return
	}
	if v := r.one(name); v == "no" || v == "0" {
		return
	}
	r.s.Signs = append(r.s.Signs, Sign{ID: id, Place: r.text(name+".place", maxShort), Extent: r.text(name+".extent", maxShort)})
}

func (r *reader) task(name, rest string) {
	id, sub, has := strings.Cut(rest, ".")
	if has {
		if sub != "reason" && sub != "why" && sub != "who" && sub != "words" {
			r.faults.Add(name, fault.Unknown, "The form has no field of this name.")
		}
		return
	}
	if !IsID(id) {
		r.faults.Add(name, fault.Unknown, "This task is not known.")
		return
	}
	a := TaskAnswer{
		Task: strings.ToLower(id), State: r.choice(name, "", "done", "not_needed", "declined", "skipped"),
	}
	reason := r.choice(name+".reason", "", "no_time", "no_part", "customer_said_no", "could_not_reach", "not_needed")
	why, who, words := r.text(name+".why", maxNote), r.text(name+".who", maxShort), r.text(name+".words", maxNote)
	switch a.State {
	case "skipped":
		a.Reason, a.Words = reason, why
		if why == "" { // as forms asked for it before
			a.Words = words
		}
		if reason == "" {
			r.faults.Add(name+".reason", fault.Missing, "Say why it was skipped.")
		}
	case "declined":
		a.Who, a.Words = who, words
		r.asked(name+".who", who, "Who said no?")
		r.asked(name+".words", words, "In which words? It matters when something dies later.")
	}
	if a.State != "" {
		r.s.Tasks = append(r.s.Tasks, a)
	}
}

// asked complains of a blank that somebody can still be asked about. A visit that
// was kept without a signal is taken as it is: nobody is there to ask any more.
func (r *reader) asked(name, value, question string) {
	if value == "" && !r.s.Offline {
		r.faults.Add(name, fault.Missing, "%s", question)
	}
}

func (r *reader) leave(name, rest string) {
	item, sub, has := strings.Cut(rest, ".")
	if has && sub == "note" {
		return
	}
	if has || !known(LeaveItems, item) {
		r.faults.Add(name, fault.Unknown, "The leave list has no such line.")
		return
	}
	if st := r.choice(name, "", "checked", "not_here", "left_open"); st != "" {
		r.s.Leave = append(r.s.Leave, Leave{Item: item, State: st, Note: r.text(name+".note", maxNote)})
	}
}

var kindIDs = func() []string {
	ids := make([]string, len(Kinds))
	for i, k := range Kinds {
		ids[i] = string(k)
	}
	return ids
}()

func known[T comparable](all []T, v T) bool {
	for _, x := range all {
		if x == v {
			return true
		}
	}
	return false
}

func (r *reader) choice(name, fallback string, choices ...string) string {
	v := r.one(name)
	if v == "" {
		return fallback
	}
	if !known(choices, v) {
		r.faults.Add(name, fault.NotChoice, "“%s” is not among the choices.", clip(v))
		return fallback
	}
	return v
}

func (r *reader) text(name string, limit int) string {
	v := r.one(name)
	if utf8.RuneCountInString(v) > limit {
		r.faults.Add(name, fault.TooLong, "This is longer than the %d characters that are kept.", limit)
	}
	return v
}

func (r *reader) id(name string, must bool) string {
	v := strings.ToLower(r.one(name))
	if v == "" && must {
		r.faults.Add(name, fault.Missing, "The form came without its number. Reload the page; what was typed is kept.")
	}
	if v != "" && !IsID(v) {
		r.faults.Add(name, fault.NotChoice, "“%s” is not a number that a form can have.", clip(v))
		return ""
	}
	return v
}

func (r *reader) count(name string, lo, hi int) (int, bool) {
	v := r.one(name)
	if v == "" {
		return 0, false
	}
	n, err := strconv.Atoi(strings.TrimPrefix(strings.ReplaceAll(strings.ReplaceAll(v, "−", "-"), "–", "-"), "+"))
	if err != nil {
		r.faults.Add(name, fault.NotNumber, "“%s” is not a whole number.", clip(v))
		return 0, false
	}
	if n < lo || n > hi {
		r.faults.Add(name, fault.Impossible, "%d cannot be: it lies between %d and %d.", n, lo, hi)
		return 0, false
	}
	return n, true
}

func (r *reader) optInstant(name string) q.Opt[time.Time] {
	if t, ok := r.instant(name); ok {
		return q.Some(t)
	}
	return q.Opt[time.Time]{}
}

// instant reads RFC 3339 from a script, local wall time from a plain form, or
// a bare hour of the visit's day.
func (r *reader) instant(name string) (time.Time, bool) {
	v := r.one(name)
	if v == "" {
		return time.Time{}, false
	}
	if t, ok := q.ParseInstant(v); ok {
		return t, r.reasonable(name, t)
	}
	if day, at, ok := q.ParseWall(v); ok {
		return r.c.Wall(day, at), r.reasonable(name, day.Midnight())
	}
	if m, ok := q.ParseMinute(v); ok && name != "performed" && !r.s.Performed.IsZero() {
		day, at := r.c.Local(r.s.Performed)
		if m > at+12*60 {
			day--
		}
		return r.c.Wall(day, m), true
	}
	r.faults.Add(name, fault.NotDate, "“%s” is not a date and time such as 2026-11-24 10:30.", clip(v))
	return time.Time{}, false
}

func (r *reader) reasonable(name string, t time.Time) bool {
	if t.Year() < 2000 || t.Year() > 2200 {
		r.faults.Add(name, fault.Impossible, "The year %d cannot be.", t.Year())
		return false
	}
	return true
}

// clip keeps a quoted input short enough for a sentence.
func clip(s string) string {
	if utf8.RuneCountInString(s) <= 40 {
		return s
	}
	return string([]rune(s)[:40]) + "…"
}

// IsID reports whether s has the form of a UUID.
func IsID(s string) bool {
	if len(s) != 36 {
		return false
	}
	for i := 0; i < len(s); i++ {
		c := s[i]
		if i == 8 || i == 13 || i == 18 || i == 23 {
			if c != '-' {
				return false
			}
		} else if (c < '0' || c > '9') && (c < 'a' || c > 'f') && (c < 'A' || c > 'F') {
			return false
		}
	}
	return true
}
