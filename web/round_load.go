package web

import (
	"net/http"
	"strconv"
	"strings"

	"scaperound/domain/due"
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/web/view"
)

// load is the list for the van: what goes out and what comes back.
func (h *handed) load(l due.LoadList, keys []string, me string, r *http.Request) view.MyLoad {
	var out view.MyLoad
	units := reads(r)
	if l.Water > 0 {
		dim := due.WaterMeasure().Dim
		unit := dim.Units(units.System)[0]
		out.Out = append(out.Out, view.MyThing{What: "osmosis water", Much: dim.Show(q.Some(float64(l.Water)), units) + " " + unit.Sign(), Note: "by the recipe of the last visits"})
		out.Back = append(out.Back, view.MyThing{What: "empty cans"})
	}
	for _, w := range l.Weigh {
		word, ok := say.WordFor(w.What)
		if !ok {
			word = w.What
		}
		out.Out = append(out.Out, view.MyThing{What: word, Much: say.Number(w.Value, 1, units) + " " + w.Unit.Sign(), Note: "for the change water of the day"})
	}
	if l.Cylinders > 0 {
		out.Out = append(out.Out, view.MyThing{What: "full cylinders, upright and tied", Much: strconv.Itoa(l.Cylinders)})
		out.Back = append(out.Back, view.MyThing{What: "empty cylinders", Much: strconv.Itoa(l.Cylinders)})
	}
	for _, b := range l.Bring {
		word, ok := say.WordFor("bring." + b.What)
		if !ok {
			continue
		}
		line := view.MyThing{What: word}
		if b.Each() {
			line.Much = counted(b.Tanks, "tank", "tanks")
		}
		out.Out = append(out.Out, line)
	}
	for _, number := range keys {
		for _, k := range h.keys {
			if k.Number == number {
				out.Out = append(out.Out, view.MyThing{What: "key " + number, Note: strings.TrimPrefix(whereKey(k, me), ", ")})
				out.Back = append(out.Back, view.MyThing{What: "key " + number})
			}
		}
	}
	out.Back = append(out.Back, view.MyThing{What: "trimmings, bagged"})
	for _, e := range h.ending {
		word := e.Kit
		if e.Lot != "" {
			word += ", lot " + e.Lot
		}
		if e.On < h.today {
			out.Warn = append(out.Warn, word+" is out of date since "+local(r).Day(e.On)+". Take a fresh one.")
		} else {
			out.Warn = append(out.Warn, word+" is good until "+local(r).Day(e.On)+" only. Take a fresh one along.")
		}
	}
	return out
}
