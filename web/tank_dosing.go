package web

import (
	"context"
	"net/http"
	"strconv"
	"strings"
	"time"

	"github.com/a-h/templ"

	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/tank"
	"scaperound/domain/typed"
	"scaperound/web/view"
)

// weekdayTicks are the days as boxes; Monday posts 1.
var weekdayTicks = func() []view.Option {
	var out []view.Option
	for i, label := range weekdays {
		out = append(out, view.Option{Value: strconv.Itoa(i + 1), Label: label})
	}
	return out
}()

// dosing is the form of the whole plan.
func (p tankPages) dosing() record {
	var ticks []string
	for i := range tank.MaxLines {
		ticks = append(ticks, tank.DosingField(i, "days"))
	}
	return record{
		title: "Dosing plan", segment: "dosing", kept: "The dosing plan is kept.",
		lead:    "What goes in between visits, as mg of the ion that counts. A line that is emptied is no longer in the plan.",
		show:    func(n tankNow, f tank.Shown) tank.Shown { return n.Plan.Show(f) },
		ticks:   ticks,
		written: func(v tank.Versions) tank.Written { return v.Dosing },
		read: func(f *typed.Form, n tankNow) func(context.Context, string, time.Time, int) error {
			lines := tank.ParseDosing(f, n.Plan)
			return func(ctx context.Context, by string, since time.Time, version int) error {
				return p.store.KeepDosing(ctx, by, n.ID, since, lines, version)
			}
		},
		body: func(r *http.Request, n tankNow, f view.RecordForm) (templ.Component, error) {
			units := reads(r)
			form := &typed.Form{Units: units, Get: func(name string) string { return strings.Join(f.Form.Values[name], "\n") }}
			typedPlan := tank.ParseDosing(form, n.Plan)
			body := view.TankDosing{
				RecordForm: f, Days: weekdayTicks, Hows: choices(tank.DosingHows), By: choices(tank.DosingBy),
				Solutes: append([]view.Option{{Label: "nothing"}}, kindChoices(tank.Solutes)...),
				Weekly:  weeklyLines(tank.Plan{Lines: typedPlan}, netOf(n.Setup), units),
			}
			for i := range linesShown(f.Form.Values, len(n.Plan.Lines)) {
				line := view.DosingLine{No: i, Prefix: tank.DosingField(i, ""), Says: "Add a line"}
				if i < len(n.Plan.Lines) {
					line.Says = doseText(n.Plan.Lines[i], units)
				}
				// What the plan says is folded away; what is new or wrong is not.
				line.Open = f.Form.Values.Get(line.Prefix+"mg") != "" && i >= len(n.Plan.Lines) || r.Method != http.MethodGet && i < len(n.Plan.Lines)
				for _, x := range f.Form.Faults {
					line.Open = line.Open || strings.HasPrefix(x.Name, line.Prefix)
				}
				body.Lines = append(body.Lines, line)
			}
			return view.TankDosingBody(body), nil
		},
	}
}

// linesShown is how many lines the form has: those of the plan or of the post,
// and some blank ones.
func linesShown(values map[string][]string, planned int) int {
	n := planned
	for i := range tank.MaxLines {
		for _, name := range []string{"solute", "mg", "note"} {
			if v := values[tank.DosingField(i, name)]; len(v) > 0 && v[0] != "" {
				n = max(n, i+1)
			}
		}
	}
	return min(n+tank.SpareLines, tank.MaxLines)
}

// weeklyLines says what the plan gives in a week, in mg and in mg/L of net
// volume.
func weeklyLines(plan tank.Plan, net q.Opt[q.Litre], units say.Units) []view.WeeklyDose {
	var out []view.WeeklyDose
	for _, k := range tank.Solutes {
		mg := plan.WeeklyMg(k)
		if mg <= 0 {
			continue
		}
		d := view.WeeklyDose{Solute: kindTitle(k), Mg: say.Number(float64(mg), 0, units) + " mg"}
		if mg < 20 {
			d.Mg = say.Number(float64(mg), 1, units) + " mg"
		}
		if net.OK && net.V > 0 {
			m, _ := q.MeasureOf(k)
			d.PerLitre = say.Amount(float64(mg)/float64(net.V), q.MgL, max(m.Decimals, 2), units)
		}
		out = append(out, d)
	}
	return out
}

// doseText is one line of a plan in words.
func doseText(l tank.DosingLine, units say.Units) string {
	text := kindTitle(l.Solute) + " " + say.Number(float64(l.PerDose), decimalsFor(float64(l.PerDose)), units) + " mg"
	if s := l.Strokes(); s.OK {
		text += " (" + say.Number(s.V, 0, units) + " strokes)"
	} else if l.MlPerDose.OK {
		text += " (" + say.Amount(float64(l.MlPerDose.V), q.ML, decimalsFor(float64(l.MlPerDose.V)), units) + ")"
	}
	if l.Weekdays == 127 {
		text += ", every day"
	} else {
		var days []string
		for d := 1; d <= 7; d++ {
			if l.On(d) {
				days = append(days, weekdays[d-1])
			}
		}
		text += ", " + say.JoinAnd(days)
	}
	if l.Minute.OK {
		text += " at " + l.Minute.V.String()
	}
	return text + ", " + strings.ToLower(tank.TitleIn(tank.DosingHows, string(l.How))) + ", by the " + strings.ToLower(tank.TitleIn(tank.DosingBy, l.ByWhom))
}

// decimalsFor keeps two figures of small amounts and none of large ones.
func decimalsFor(v float64) int {
	switch {
	case v < 1:
		return 2
	case v < 20:
		return 1
	}
	return 0
}
