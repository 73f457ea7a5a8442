package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/visit"
)

// SheetVersion is the version of the care sheet's document. A given sheet is
// frozen; templates show every older version.
const SheetVersion = 1

// Sheet is the care sheet as the customer reads it: text, not sentences, so
// that a later catalogue cannot change what was said.
type Sheet struct {
	Version  int
	Visit    string
	Revision string
	Tank     string // its name
	Customer string
	Shop     string
	Phone    string
	Mail     string
	By       string // who was there
	Day      q.Date
	Status   Status
	Top      string
	Lines    []SheetLine // at most seven
	Donts    []SheetLine // at most three
	Done     []string    // what was done at the visit
	Note     string
	Next     q.Opt[q.Date]
	NextText string
	Figures  []Figure
	Replaces q.Opt[q.Date] // the day of the sheet that this one replaces
	Rules    string
}

// SheetLine is one line with the little picture that goes with it.
type SheetLine struct {
	Icon string
	Text string
	Day  q.Opt[q.Date]
}

// Figure is one reading against its band, in the reader's units.
type Figure struct {
	Kind      q.Kind
	Title     string
	Unit      string // as a person reads it
	Value     float64
	Lo, Hi    q.Opt[float64] // what the kit can mean
	BandLo    q.Opt[float64]
	BandHi    q.Opt[float64]
	Previous  q.Opt[float64]
	State     State
	StateText string
	Text      string // the value with its unit
}

// SheetFor is what a sheet says besides the assessment.
type SheetFor struct {
	Shop, Phone, Mail string
	Tank, Customer    string
	By                string
	Units             say.Units
	Figures           bool // the shop may leave them off
	Replaces          q.Opt[q.Date]
}

// MakeSheet makes the customer's document of an assessment and its visit.
func MakeSheet(a Assessment, r visit.Record, f SheetFor) Sheet {
	text := func(s say.Sentence) string { return say.Render(s, f.Units) }
	s := Sheet{
		Version: SheetVersion, Visit: a.Visit, Revision: a.Revision, Tank: f.Tank, Customer: f.Customer,
		Shop: f.Shop, Phone: f.Phone, Mail: f.Mail, By: f.By, Day: a.Day, Status: a.Status, Top: text(a.Top),
		Note: r.NoteCustomer, Next: a.Next.On, Replaces: f.Replaces, Rules: a.Rules,
	}
	if a.Next.Say.ID != "" {
		s.NextText = text(a.Next.Say)
	}
	for _, l := range a.Customer {
		s.Lines = append(s.Lines, SheetLine{Icon: l.Icon, Text: text(l.Say), Day: l.Day})
	}
	for _, l := range a.Donts {
		s.Donts = append(s.Donts, SheetLine{Icon: l.Icon, Text: text(l.Say)})
	}
	for _, d := range workDone(r) {
		s.Done = append(s.Done, text(d))
	}
	if f.Figures {
		for _, st := range a.Strips {
			if st.State == NotJudged {
				continue // a number without a word only worries
			}
			s.Figures = append(s.Figures, figure(st, f.Units))
		}
	}
	return s
}

// workDone says in the order of the form what was done, once per kind.
func workDone(r visit.Record) []say.Sentence {
	var out []say.Sentence
	for _, k := range visit.WorkKinds {
		w, ok := r.Did(k)
		switch {
		case !ok || k == visit.Dose:
		case k == visit.WaterChange && w.Litres.OK:
			out = append(out, say.S("done.water_change_litres", say.Num("litres", float64(w.Litres.V), q.L, 0)))
		default:
			out = append(out, say.S("done."+string(k)))
		}
	}
	return out
}

func figure(st Strip, u say.Units) Figure {
	m, _ := q.MeasureOf(st.Kind)
	convert := func(v float64) float64 { return v }
	unit := m.Unit
	if u.System == say.US && m.Unit == q.DegC {
		unit = q.DegF
		convert = func(v float64) float64 { return v*9/5 + 32 }
	}
	end := func(v float64) q.Opt[float64] {
		if v-v != 0 { // an open end
			return q.Opt[float64]{}
		}
		return q.Some(convert(v))
	}
	opt := func(o q.Opt[float64]) q.Opt[float64] {
		if o.OK {
			o.V = convert(o.V)
		}
		return o
	}
	return Figure{
		Kind: st.Kind, Title: plainTitle(m), Unit: unit.Sign(), Value: convert(st.Value.Value),
		Lo: end(st.Value.Lo), Hi: end(st.Value.Hi), BandLo: opt(st.Band.Lo), BandHi: opt(st.Band.Hi),
		Previous: opt(st.Previous), State: st.State,
		StateText: plainState(st.State, u),
		Text:      say.Amount(st.Value.Value, m.Unit, m.DecimalsAt(st.Value.Value), u),
	}
}

// plainTitle is what a reading is called in front of somebody who keeps no
// tanks.
func plainTitle(m q.Measure) string {
	if w, ok := say.WordFor("plain." + string(m.Kind)); ok {
		return w
	}
	return m.Title
}

// plainState is how a reading stands, in the same words.
func plainState(s State, u say.Units) string {
	if id := "plain.state." + string(s); say.Has(id) {
		return say.Render(say.S(id), u)
	}
	return say.Render(say.S("state."+string(s)), u)
}
