package web

import (
	"crypto/rand"
	"encoding/hex"
	"fmt"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"time"

	"github.com/a-h/templ"

	"scaperound/domain/care"
	"scaperound/domain/counter"
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
	"scaperound/static"
	"scaperound/web/view"
)

// visitScripts are what the form needs beside the house's own, in this order.
func visitScripts() []string {
	names := []string{"outbox.js", "visit_kind.js", "visit_taps.js", "visit_clocks.js", "assess.js", "visit_preview.js", "visit_show.js", "visit.js", "photo_queue.js", "photo_take.js"}
	for i, n := range names {
		names[i] = static.Path(n)
	}
	return names
}

// draw makes the visit's page from what is known of the tank and what was typed.
func (p visitPages) draw(r *http.Request, b care.Before, kind visit.Kind, f view.Form, others ...view.Link) (view.Frame, templ.Component) {
	in := who(r)
	now := p.cfg.Now()
	zone := local(r).Zone
	today, at := onWall(zone, now)
	units := in.Shop.Reads(in.Person.Units)
	s := b.Setup
	fields := readingFields{before: b, person: in.Person.ID, form: f, units: units, local: local(r), today: today, at: at}
	due := fields.due(kind)
	v := view.VisitForm{
		Form: f, Action: "/tanks/" + s.ID + "/visits", Preview: "/tanks/" + s.ID + "/preview", Board: boardPath(s.ID), Done: "/visits/VISIT",
		Others: others, Zone: in.Shop.Zone, Decimal: in.Shop.DecimalMark(),
		Tank: s.ID, TankName: s.Name, Where: where(b), Kind: string(kind), KindWord: kindWords[kind],
		Amends: f.Values.Get("base") != "", Sections: sectionsOf(kind), Pinned: s.Pinned, Phone: b.Owner,
		Since: options(visit.SinceChoices, sinceWords), History: toldSigns(), Looks: looksOf(kind),
		Due: due, Folded: fields.folded(due), Leave: options(visit.LeaveItems, leaveWords),
		Moved: movedChoices(),
	}
	if s.KeepApart {
		v.Pinned = append([]string{"Keep apart: own net and scissors, no plants, media or water to another tank."}, v.Pinned...)
	}
	for _, name := range []string{"visit", "revision", "base", "wire", "staff", "stop", "kind"} {
		v.Hidden = append(v.Hidden, view.Pair{Name: name, Value: f.Values.Get(name)})
	}
	v.Hidden = append(v.Hidden, sawAt(f.Values.Get("acted.at"), now))
	if !v.Amends {
		for _, k := range visit.Kinds {
			v.Kinds = append(v.Kinds, view.VisitKind{
				ID: string(k), Parts: sectionsOf(k),
				Link: view.Link{Label: kindWords[k], Href: formAddress(s.ID, f.Values.Get("stop"), k), Here: k == kind},
			})
		}
	}
	v.Exec, v.Wasm = browserBuild()
	v.Call, v.Gear = !kind.Physical(), kind == visit.GearOnly
	v.Between = view.VisitBetween{Plan: planLines(b.Plan, units)}
	if len(b.Plan.Lines) > 0 {
		v.Between.Choice = betweenChoices
	}
	for _, d := range due {
		if !d.Stands() {
			continue
		}
		v.Clocks = append(v.Clocks, view.VisitClock{Name: d.Name, Label: d.Label})
	}
	v.Tasks = taskFields(b.Open, units)
	v.Work = workFields(b, units, local(r))
	v.Solutes, v.Doses = doseFields(b.Plan, units)
	v.Clean, v.EyeLast = flowHints(b, units, local(r))
	p.withPhotos(r, &v)
	p.withProblems(r, &v)
	frame := view.Frame{Title: s.Name, Lead: v.Where, Up: &view.Link{Label: "The tank", Href: "/tanks/" + s.ID}, Scripts: visitScripts(), Styles: []string{static.Path("visit.css"), static.Path("photo.css")}}
	if stop := f.Values.Get("stop"); stop != "" {
		frame.Up = &view.Link{Label: "The stop", Href: "/stops/" + stop}
	}
	if v.Amends {
		frame.Title = s.Name + ": change the visit"
	}
	return frame, view.VisitFormBody(v)
}

func where(b care.Before) string {
	if b.Customer == "" || b.Customer == b.Site.Name {
		return b.Site.Name
	}
	return b.Site.Name + ", " + b.Customer
}

func formAddress(tankID, stop string, k visit.Kind) string {
	query := url.Values{"kind": {string(k)}}
	if stop != "" {
		query.Set("stop", stop)
	}
	return "/tanks/" + tankID + "/visits/new?" + query.Encode()
}

// fresh are the values of a form that nobody has typed in yet. Its ids are for
// work without script: a script makes its own.
func (p visitPages) fresh(r *http.Request, kind visit.Kind, stop string) url.Values {
	day, minute := onWall(local(r).Zone, p.cfg.Now())
	return url.Values{
		"visit": {newID(p.cfg.Now())}, "revision": {newID(p.cfg.Now())}, "base": {""}, "wire": {visit.Wire},
		"staff": {who(r).Person.ID}, "stop": {stop}, "kind": {string(kind)},
		"performed": {day.String() + "T" + minute.String()},
	}
}

// newID makes a key: a UUID of version 7 (RFC 9562).
func newID(now time.Time) string {
	var b [16]byte
	// crypto/rand.Read never fails: it ends the program where it cannot read.
	_, _ = rand.Read(b[6:])
	ms := uint64(now.UnixMilli())
	for i := range 6 {
		b[i] = byte(ms >> (40 - 8*i))
	}
	b[6], b[8] = b[6]&0x0f|0x70, b[8]&0x3f|0x80
	h := hex.EncodeToString(b[:])
	return h[:8] + "-" + h[8:12] + "-" + h[12:16] + "-" + h[16:20] + "-" + h[20:]
}

func movedChoices() view.VisitMoved {
	m := view.VisitMoved{Reasons: moveWords}
	for _, g := range tank.PlantGroups {
		m.Plants = append(m.Plants, view.Option{Value: g.ID, Label: g.Name})
	}
	for _, g := range tank.AnimalGroups {
		m.Animals = append(m.Animals, view.Option{Value: g.ID, Label: g.Name})
	}
	return m
}

var weekdays = []string{"Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"}

// planLines say what should have been dosed since last time.
func planLines(plan tank.Plan, u say.Units) []string {
	var out []string
	for _, l := range plan.Lines {
		out = append(out, planLine(l, u))
	}
	return out
}

func planLine(l tank.DosingLine, u say.Units) string {
	m, _ := q.MeasureOf(l.Solute)
	text := m.Title + ", " + say.Amount(float64(l.PerDose), "mg", 0, u)
	if l.MlPerDose.OK {
		text += " in " + say.Amount(float64(l.MlPerDose.V), q.ML, 1, u)
		if l.MlPerStroke.OK && l.MlPerStroke.V > 0 {
			text += fmt.Sprintf(" (%s pump strokes)", say.Number(float64(l.MlPerDose.V/l.MlPerStroke.V), 0, u))
		}
	}
	if l.DosesPerWeek() == 7 {
		text += " every day"
	} else {
		var days []string
		for i, d := range weekdays {
			if l.Weekdays&(1<<i) != 0 {
				days = append(days, d)
			}
		}
		text += " on " + say.JoinAnd(days)
	}
	switch l.ByWhom {
	case "customer":
		text += ", by the customer"
	case "device":
		text += ", by the doser"
	}
	return text
}

func taskFields(open []care.Task, u say.Units) []view.VisitTask {
	var out []view.VisitTask
	for _, t := range open {
		if t.Who == care.Owner {
			continue
		}
		v := view.VisitTask{ID: t.ID, Text: taskText(t, u), Amount: care.AmountsText(t.Amount, u)}
		if len(t.Why) > 0 {
			v.Why = say.Render(t.Why[0].Say, u)
		}
		if t.Who == care.Customer {
			v.Text = "The customer: " + v.Text
		}
		if t.Skips > 0 {
			v.Why = strings.TrimSpace(v.Why + " Put off " + times(t.Skips) + " so far.")
			v.AskWhy, v.Times = t.Skips >= counter.AskWhy, times(t.Skips)
		}
		out = append(out, v)
	}
	return out
}

func times(n int) string {
	switch n {
	case 1:
		return "once"
	case 2:
		return "twice"
	}
	return strconv.Itoa(n) + " times"
}

func workFields(b care.Before, u say.Units, l view.Local) []view.VisitWork {
	var out []view.VisitWork
	for _, k := range visit.WorkKinds {
		words, listed := workForm[k]
		if !listed {
			continue
		}
		w := view.VisitWork{Kind: string(k), Label: words.label, Hint: words.hint, Ask: words.ask, Water: asksWater(k), First: k == visit.WaterChange, Gear: words.gear}
		if w.Water && b.Setup.CanLitres.OK {
			w.CanLitres = plainLitres(b.Setup.CanLitres.V, u)
		}
		if k == visit.WaterChange && b.Setup.DrainLitres.OK {
			w.Line, w.LineLitres = lineName(b.Setup.DrainLine), plainLitres(b.Setup.DrainLitres.V, u)
		}
		w.Last, w.LastSays = lastWork(b.History, k, u, l)
		if litres, ok := changeAsked(b.Open); ok && k == visit.WaterChange {
			w.Asked = plainLitres(litres, u)
		}
		out = append(out, w)
	}
	return out
}

// changeAsked is how much water the list says to change, the least of several.
func changeAsked(open []care.Task) (least q.Litre, ok bool) {
	for _, t := range open {
		for _, a := range t.Amount {
			if care.ActionOf(t.Action).Family == "change" && a.What == "water" && (!ok || q.Litre(a.Value) < least) {
				least, ok = q.Litre(a.Value), true
			}
		}
	}
	return least, ok
}

func lineName(line string) string {
	if line == "" {
		return "To the line"
	}
	return strings.ToUpper(line[:1]) + line[1:]
}

func plainLitres(v q.Litre, u say.Units) string {
	return say.Number(float64(v), min(decimals(float64(v)), 1), u)
}

// lastWork is how much, or how, the same was done the last time.
func lastWork(history []visit.Record, k visit.WorkKind, u say.Units, l view.Local) (value, says string) {
	for i := len(history) - 1; i >= 0; i-- {
		w, did := history[i].Did(k)
		if !did {
			continue
		}
		if asksWater(k) {
			if !w.Litres.OK {
				continue
			}
			value = plainLitres(w.Litres.V, u)
			return value, "last time " + value + " L, " + l.Day(history[i].Day)
		}
		if w.Note != "" {
			return w.Note, ""
		}
	}
	return "", ""
}

func doseFields(plan tank.Plan, u say.Units) (what []view.Option, planned []view.VisitDose) {
	for _, id := range solutes {
		m, _ := q.MeasureOf(q.Kind(id))
		what = append(what, view.Option{Value: id, Label: m.Title})
	}
	for _, l := range plan.Lines {
		if l.ByWhom == "shop" {
			d := view.VisitDose{Solute: string(l.Solute), Says: planLine(l, u)}
			if l.MlPerDose.OK {
				d.Ml = say.Number(float64(l.MlPerDose.V), decimals(float64(l.MlPerDose.V)), u)
			}
			planned = append(planned, d)
		}
	}
	return what, planned
}

func flowHints(b care.Before, u say.Units, l view.Local) (clean, eye string) {
	if c := b.Setup.Filter.Clean; c.OK {
		clean = "This filter clean: " + say.Amount(float64(c.V), q.LH, 0, u) + ". Clean it below 60 % of that."
	}
	for i := len(b.History) - 1; i >= 0; i-- {
		if e := b.History[i].EyeMark; e != "" {
			return clean, "last time " + eyeWords[e] + ", " + l.Day(b.History[i].Day)
		}
	}
	return clean, ""
}
