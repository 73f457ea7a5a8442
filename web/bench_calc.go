package web

import (
	"bytes"
	"math"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"scaperound/domain/calc"
	"scaperound/domain/fault"
	"scaperound/domain/say"
	"scaperound/domain/typed"
	"scaperound/static"
	"scaperound/web/view"
)

// benchAsk is a calculation as the address asks for it.
type benchAsk struct {
	def    *calc.Def
	query  url.Values
	tank   *benchTank
	sent   map[string]bool   // keys that the address holds, blank ones too
	notes  map[string]string // by key: where a number that was filled in comes from
	raw    map[string]calc.Value
	open   []*calc.Input
	faults fault.Fields
	answer calc.Answer
	err    error // why there is no answer although nothing is open
	units  say.Units
}

// ask reads the address. It returns only what nobody can mend in the form.
func (p benchPages) ask(r *http.Request) (*benchAsk, error) {
	d, err := calc.Find(r.PathValue("calc"))
	if err != nil {
		return nil, err
	}
	a := &benchAsk{def: d, query: r.URL.Query(), units: reads(r), sent: map[string]bool{}, notes: map[string]string{}}
	for name, values := range a.query {
		for i, v := range values {
			values[i] = strings.ToValidUTF8(strings.ReplaceAll(v, "\x00", ""), "")
		}
		a.query[name], a.sent[name] = values, true
	}
	if a.tank, err = p.tankOf(r); err != nil {
		return nil, err
	}
	if a.tank != nil {
		a.tank.fill(a)
	}
	f := &typed.Form{Units: a.units, Get: func(name string) string { return strings.Join(a.query[name], "\n") }}
	a.raw, a.open = d.Read(f)
	a.faults = f.Faults
	a.run()
	return a, nil
}

// run evaluates where everything is there, and says what is missing where the form
// was sent with a blank.
func (a *benchAsk) run() {
	if len(a.faults) > 0 {
		return
	}
	for _, in := range a.open {
		if a.sent[in.Key] {
			a.faults.Add(in.Key, fault.Missing, "%s", "Please fill this in.")
		}
	}
	if len(a.open) > 0 || len(a.faults) > 0 {
		return
	}
	var err error
	if a.answer, err = a.def.Run(a.raw); err == nil {
		return
	}
	if f := fault.Of(a.def.Blame(a.raw, err)); len(f.Fields) > 0 {
		a.faults = f.Fields
	} else {
		a.err = err
	}
}

// calc is the page of one calculation, and the answer for its script.
func (p benchPages) calc(w http.ResponseWriter, r *http.Request) error {
	a, err := p.ask(r)
	if err != nil {
		return err
	}
	// Asked under another name, it is answered under its own.
	body := a.page()
	if wantsJSON(r) {
		return p.benchScript(w, r, a, body.Answer)
	}
	status := http.StatusOK
	if len(a.faults) > 0 || a.err != nil {
		status = http.StatusUnprocessableEntity
		note(r).err = a.faults.Err()
	}
	up := view.Link{Label: "Bench", Href: "/bench"}
	if a.tank != nil {
		up.Href += "?tank=" + url.QueryEscape(a.tank.id)
	}
	return p.page(w, r, status, view.Frame{
		Title: a.def.Title, Up: &up, Scripts: []string{static.Path("bench.js")}, Styles: []string{static.Path("bench.css")},
	}, view.BenchCalcBody(body))
}

// benchJSON is the answer for a script. Numbers are in canonical units, texts as the
// person who asks reads them; html is the same answer as the page shows it.
type benchJSON struct {
	Calc     string   `json:"calc"`
	Value    *float64 `json:"value"`
	Unit     string   `json:"unit"`
	Lo       *float64 `json:"lo"`
	Hi       *float64 `json:"hi"`
	Text     string   `json:"text"`
	Warnings []string `json:"warnings"`
	Source   string   `json:"source"`
	Open     []string `json:"open"`
	HTML     string   `json:"html"`
}

func (p benchPages) benchScript(w http.ResponseWriter, r *http.Request, a *benchAsk, shown view.BenchAnswer) error {
	if err := a.faults.Err(); err != nil {
		return err
	}
	if a.err != nil {
		return a.err
	}
	out := benchJSON{Calc: a.def.Name, Source: string(a.def.Source), Warnings: append(slices.Clone(shown.Heed), shown.Handling...), Open: []string{}}
	for _, in := range a.open {
		out.Open = append(out.Open, in.Key)
	}
	if len(a.open) == 0 {
		out.Value, out.Lo, out.Hi, out.Unit = finite(a.answer.Value), finite(a.answer.Lo), finite(a.answer.Hi), string(a.answer.Unit)
		out.Text = strings.TrimSpace(shown.Figure + " " + shown.Unit)
	}
	var b bytes.Buffer
	if err := view.BenchAnswerBody(shown).Render(r.Context(), &b); err != nil {
		return &fault.Error{Kind: fault.Internal, Err: err}
	}
	out.HTML = b.String()
	return p.json(w, r, http.StatusOK, out)
}

// finite is a number that JSON can carry; an open end is null.
func finite(v float64) *float64 {
	if math.IsInf(v, 0) || math.IsNaN(v) {
		return nil
	}
	return &v
}
