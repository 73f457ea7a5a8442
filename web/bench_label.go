package web

import (
	"bytes"
	"maps"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"scaperound/domain/fault"
	"scaperound/domain/say"
	"scaperound/domain/shop"
	"scaperound/domain/typed"
	"scaperound/static"
	"scaperound/web/view"
)

// labelsOnSheet is how many labels one sheet of either paper holds.
const labelsOnSheet = 8

// longestName is the longest text of a person's own on a label, in characters.
const longestName = 40

// labels are what can be printed of an answer.
func (a *benchAsk) labels() []view.Link {
	if !a.def.Labelled() {
		return nil
	}
	path := labelPath(a)
	return []view.Link{{Label: "Label to print", Href: path}}
}

// labelPath is the label with the numbers of the page.
func labelPath(a *benchAsk) string {
	query := url.Values{}
	for name, values := range a.query {
		if len(values) > 0 && values[0] != "" {
			query[name] = values
		}
	}
	return benchPath(a.def.Name, nil) + "/label?" + query.Encode()
}

// label is a page for paper: one label, or a sheet of them.
func (p benchPages) label(w http.ResponseWriter, r *http.Request) error {
	a, err := p.ask(r)
	if err != nil {
		return err
	}
	if !a.def.Labelled() {
		return fault.New(fault.NotFound, "There is no label for this calculation.")
	}
	in := who(r)
	v := view.LabelSheet{
		Title: "Label", Shop: in.Shop.Name, Lang: in.Shop.Locale, Back: benchPath(a.def.Name, backQuery(a.query)), Action: r.URL.Path, Letter: in.Shop.Paper == shop.Letter,
		Style: static.Path("house.css"), Sheet: static.Path("label.css"), Script: static.Path("label.js"), Icon: assets.Icon,
	}
	status := http.StatusOK
	if len(a.open) > 0 || len(a.faults) > 0 || a.err != nil {
		v.Empty = "Fill in the whole sentence first; then its label can be printed."
		if len(a.faults) > 0 || a.err != nil {
			status = http.StatusUnprocessableEntity
		}
		return p.labelPage(w, r, status, v)
	}
	l, err := a.def.Label(a.raw)
	if err != nil {
		return err
	}
	f := &typed.Form{Units: a.units, Get: func(name string) string { return a.query.Get(name) }}
	made := f.Past("made", "The day on which it was made", p.today(r)).Or(p.today(r))
	v.For, v.Form = f.Line("for", longestName), view.Form{Values: a.query, Faults: f.Faults}
	if v.For == "" && a.tank != nil && !a.sent["for"] {
		v.For = a.tank.name
	}
	v.Form.Values = withValues(a.query, "made", made.String(), "for", v.For)
	if len(f.Faults) > 0 {
		status = http.StatusUnprocessableEntity
	}
	v.Copies = 1
	if a.query.Get("copies") == "sheet" {
		v.Copies = labelsOnSheet
	}
	v.Label = labelView(l.Title, l.Lines, l.Statements, l.Cautions, a.units)
	v.Label.Made, v.Label.By = local(r).Day(made), in.Person.Name
	v.Label.For, v.Label.Shop, v.Label.Phone = v.For, in.Shop.Name, in.Shop.Phone
	for _, name := range slices.Sorted(maps.Keys(a.query)) {
		if name != "made" && name != "for" && name != "copies" {
			for _, value := range a.query[name] {
				v.Kept = append(v.Kept, view.Pair{Name: name, Value: value})
			}
		}
	}
	return p.labelPage(w, r, status, v)
}

func labelView(title say.Sentence, lines []say.Sentence, statements []string, cautions []say.Sentence, units say.Units) view.Label {
	out := view.Label{Title: say.Render(title, units), Statements: statements}
	for _, s := range lines {
		out.Lines = append(out.Lines, say.Render(s, units))
	}
	for _, s := range cautions {
		out.Cautions = append(out.Cautions, upper(say.Render(s, units)))
	}
	return out
}

// backQuery is what the calculation's own page takes.
func backQuery(query url.Values) url.Values {
	out := url.Values{}
	for name, values := range query {
		if name != "made" && name != "for" && name != "copies" {
			out[name] = values
		}
	}
	return out
}

// withValues is a copy of a query with some fields set.
func withValues(query url.Values, pairs ...string) url.Values {
	out := backQuery(query)
	out["copies"] = query["copies"]
	for i := 0; i+1 < len(pairs); i += 2 {
		out.Set(pairs[i], strings.TrimSpace(pairs[i+1]))
	}
	return out
}

func (p benchPages) labelPage(w http.ResponseWriter, r *http.Request, status int, v view.LabelSheet) error {
	var b bytes.Buffer
	if err := view.LabelDocument(v).Render(r.Context(), &b); err != nil {
		return &fault.Error{Kind: fault.Internal, Err: err}
	}
	p.write(w, r, status, "text/html; charset=utf-8", b.Bytes())
	return nil
}
