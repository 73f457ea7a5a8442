package web

import (
	"net/http"
	"strings"

	"scaperound/domain/care"
	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
	"scaperound/domain/visit"
	"scaperound/domain/wire"
)

// previewJSON is what the foot strip shows while one types.
type previewJSON struct {
	Hash     string        `json:"hash"`
	Rules    string        `json:"rules"`
	Status   string        `json:"status"`
	Urgency  string        `json:"urgency"`
	Now      []previewLine `json:"now"`
	Pour     []previewLine `json:"pour"`
	Findings []previewLine `json:"findings"`
	Visit    []previewLine `json:"visit"`
	Next     []previewLine `json:"next"`
	Customer []string      `json:"customer"`
	Faults   []jsonField   `json:"faults"`
}

type previewLine struct {
	ID   string `json:"id"`
	Text string `json:"text"`
	Why  string `json:"why,omitempty"`
}

// preview says what the readings mean so far. It keeps nothing, and whatever
// cannot be read yet is left out and named.
func (p visitPages) preview(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	b, err := p.store.VisitBefore(r.Context(), r.PathValue("tank"), p.cfg.Now())
	if err != nil {
		return err
	}
	c := visitContext(r, b.Setup)
	// The leave list and the like are asked for at the end, not while one types.
	sub, faults := visit.Parse(onlyOwn(pairsOf(values), "leave.asked"), c)
	rec, err := visit.New(sub, b.Setup, p.cfg.Now(), c)
	if err != nil {
		faults = append(faults, fault.Of(err).Fields...)
	}
	cs, err := p.store.CaseFor(r.Context(), rec)
	if err != nil {
		return err
	}
	in := who(r)
	return p.json(w, r, http.StatusOK, previewOf(care.Assess(cs), faults, in.Shop.Reads(in.Person.Units)))
}

func previewOf(a care.Assessment, faults fault.Fields, u say.Units) previewJSON {
	out := previewJSON{
		Hash: wire.Hash(a), Rules: a.Rules, Status: string(a.Status), Urgency: string(a.Urgency),
		Now: []previewLine{}, Pour: []previewLine{}, Findings: []previewLine{}, Visit: []previewLine{}, Next: []previewLine{},
		Customer: []string{}, Faults: []jsonField{},
	}
	for _, t := range a.Tasks {
		if care.ActionOf(t.Action).Told {
			continue
		}
		line := taskLine(t, u)
		switch {
		case t.Urgency == care.Now || t.When == care.WhenNow:
			out.Now = append(out.Now, line)
		case t.When == care.WhenThisVisit || t.When == care.WhenToday:
			out.Visit = append(out.Visit, line)
		case t.Who != care.Customer:
			out.Next = append(out.Next, line)
		}
	}
	for _, line := range recipeLines(a.Recipe, u) {
		out.Pour = append(out.Pour, previewLine{Text: line})
	}
	for _, f := range a.Findings {
		if f.State.Trouble() {
			out.Findings = append(out.Findings, previewLine{ID: f.Rule, Text: say.Render(f.Say, u)})
		}
	}
	if a.Top.ID != "" {
		out.Customer = append(out.Customer, say.Render(a.Top, u))
	}
	for _, l := range a.Customer {
		out.Customer = append(out.Customer, say.Render(l.Say, u))
	}
	for _, f := range faults {
		out.Faults = append(out.Faults, jsonField{f.Name, f.Kind, f.Text, f.Confirm})
	}
	return out
}

func taskLine(t care.Task, u say.Units) previewLine {
	line := previewLine{ID: t.Key(), Text: taskText(t, u)}
	if amount := amountsText(t.Amount, u); amount != "" {
		line.Text += ": " + amount
	}
	if len(t.Why) > 0 {
		line.Why = say.Render(t.Why[0].Say, u)
	}
	return line
}

// taskText is what is to be done: the action in its own words, and how where
// the rule said more.
func taskText(t care.Task, u say.Units) string {
	text, _ := say.WordFor("action." + t.Action)
	how := render(t.Say, u)
	switch {
	case how == "":
		return text
	case strings.HasPrefix(how, text):
		return how
	}
	return text + ". " + how
}

// recipeLines are what to weigh and pour for this visit's change, in the order
// of the work; the amount comes first.
func recipeLines(c care.Recipe, u say.Units) []string {
	var out []string
	if c.Litres.OK {
		line := "Change " + say.Amount(float64(c.Litres.V), q.L, 0, u)
		if c.Cans.OK {
			line += ": " + say.Number(c.Cans.V, 1, u) + " of the customer’s cans"
		}
		out = append(out, line+".")
	}
	for _, s := range c.Steps {
		out = append(out, say.Render(s, u))
	}
	return out
}
