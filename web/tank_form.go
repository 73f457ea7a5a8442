package web

import (
	"net/http"
	"net/url"
	"strings"
	"time"

	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/tank"
	"scaperound/domain/typed"
	"scaperound/web/view"
)

// typedForm reads a post as this person writes.
func typedForm(r *http.Request, values url.Values) *typed.Form {
	return &typed.Form{Units: reads(r), Get: func(name string) string { return strings.Join(values[name], "\n") }}
}

// startOf is the moment at which a day begins in the shop: what is true "since"
// a day holds for every visit of that day.
func startOf(r *http.Request, d q.Date) time.Time {
	return wall(local(r).Zone, d, 0).UTC()
}

// readSince reads from when on a record is true; it cannot lie in the future.
func readSince(r *http.Request, f *typed.Form, today q.Date) time.Time {
	d := f.Past("since", "What is true since then", today)
	if !d.OK && len(f.Faults.On("since")) == 0 {
		f.Faults.Add("since", fault.Missing, "Choose since when this is true.")
	}
	return startOf(r, d.Or(today))
}

// shownValues turns a form as the domain draws it into values. Fields whose
// text is several lines of ticks are several values.
func shownValues(shown tank.Shown, ticks ...string) url.Values {
	v := url.Values{}
	for name, text := range shown.Text {
		v.Set(name, text)
	}
	for _, name := range ticks {
		if text := v.Get(name); text != "" {
			v[name] = strings.Split(text, "\n")
		}
	}
	return v
}

// unitChoices are the units that each measure may be typed in, the reader's own
// first.
func unitChoices(units say.Units, measures ...[]typed.Measure) map[string][]view.Option {
	out := map[string][]view.Option{}
	for _, ms := range measures {
		for _, m := range ms {
			for _, u := range m.Dim.Units(units.System) {
				out[m.Name] = append(out[m.Name], view.Option{Value: string(u), Label: typed.Sign(u)})
			}
		}
	}
	return out
}

// choices are groups as tiles or as a list.
func choices(groups []tank.Group) []view.Option {
	out := make([]view.Option, len(groups))
	for i, g := range groups {
		out[i] = view.Option{Value: g.ID, Label: g.Name}
	}
	return out
}

// choicesWithNone begins with an empty choice in words.
func choicesWithNone(none string, groups []tank.Group) []view.Option {
	return append([]view.Option{{Label: none}}, choices(groups)...)
}

// kindChoices are kinds by their titles.
func kindChoices(kinds []q.Kind) []view.Option {
	out := make([]view.Option, len(kinds))
	for i, k := range kinds {
		out[i] = view.Option{Value: string(k), Label: kindTitle(k)}
	}
	return out
}

func kindTitle(k q.Kind) string {
	m, _ := q.MeasureOf(k)
	return m.Title
}

func stateChoices() []view.Option {
	hints := map[tank.State]string{
		tank.Starting: "Up to twelve weeks old; falls due",
		tank.Running:  "Falls due",
		tank.Resting:  "No visits for now",
		tank.Ended:    "Taken down",
	}
	var out []view.Option
	for _, s := range tank.States {
		out = append(out, view.Option{Value: string(s), Label: s.Title(), Hint: hints[s]})
	}
	return out
}

// amount writes a known quantity for the reader; empty where it is not known.
func amount[T ~float64](o q.Opt[T], u q.Unit, decimals int, units say.Units) string {
	if !o.OK {
		return ""
	}
	return say.Amount(float64(o.V), u, decimals, units)
}
