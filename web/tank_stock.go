package web

import (
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"github.com/a-h/templ"

	"scaperound/domain/fault"
	"scaperound/domain/tank"
	"scaperound/web/view"
)

func isConflict(err error) bool { return fault.Is(err, fault.Conflict) }

// How many lines of a growing list a page shows.
const linesOfHistory = 200

// stock shows what lives in the tank, what came and went, and the form of one
// movement.
func (p tankPages) stock(w http.ResponseWriter, r *http.Request) error {
	values := url.Values{"day": {p.today(r).String()}}
	return p.drawStock(w, r, nil, values)
}

// move keeps one movement.
func (p tankPages) move(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	id := r.PathValue("tank")
	f := typedForm(r, values)
	today := p.today(r)
	m := tank.ParseMovement(f, today)
	setup, _, _, err := p.store.TankAt(r.Context(), id, p.cfg.Now())
	if err != nil {
		return err
	}
	if n, possible := setup.Left(m); !possible && len(f.Faults) == 0 {
		f.Faults.Add("n", fault.Impossible, "Only %d are recorded here, so %d cannot have gone. If there were more, record a count first.", n-m.N, -m.N)
	}
	if err = f.Faults.Err(); err == nil {
		err = p.firstOnly(p.store.RecordMovement(p.once(r, values), who(r).Person.ID, id, m))
	}
	if err != nil {
		return p.drawStock(w, r, err, values)
	}
	return p.done(w, r, tankPath(id)+"/stock", view.Notice{Text: movementText(m) + ": written down."})
}

// movementText is what came or went, in words: −2 tetras.
func movementText(m tank.Movement) string {
	n := strconv.Itoa(m.N)
	if m.N > 0 {
		n = "+" + n
	} else {
		n = "−" + strconv.Itoa(-m.N)
	}
	name := tank.GroupTitle(m.Group)
	if m.Species != "" {
		name += ", " + m.Species
	}
	return n + " " + name
}

func (p tankPages) drawStock(w http.ResponseWriter, r *http.Request, fault error, values url.Values) error {
	n, err := p.now(r)
	if err != nil {
		return err
	}
	moves, err := p.store.Movements(r.Context(), n.ID, linesOfHistory)
	if err != nil {
		return err
	}
	others, err := p.store.TankNames(r.Context(), n.ID)
	if err != nil {
		return err
	}
	when := local(r)
	body := view.TankStock{
		Action:  tankPath(n.ID) + "/stock",
		Animals: livingLines(n.Setup.Animals, when), Plants: livingLines(n.Setup.Plants, when),
		Groups: []view.OptionGroup{{Label: "Animals", Options: choices(tank.AnimalGroups)}, {Label: "Plants", Options: choices(tank.PlantGroups)}},
		Pays:   choicesWithNone("Not said", tank.Payers), Tanks: []view.Option{{Label: "No other tank"}},
	}
	for _, x := range tank.Reasons {
		body.Reasons = append(body.Reasons, view.Option{Value: string(x.Reason), Label: x.Title})
	}
	for _, x := range others {
		body.Tanks = append(body.Tanks, view.Option{Value: x.ID, Label: dotted(x.Name, x.CustomerName, x.SiteName)})
	}
	for _, m := range moves {
		info, _ := m.Reason.InfoOf()
		line := view.MovementLine{Day: when.Day(m.Day), What: movementText(m), Why: info.Title, Author: m.Author, Note: m.Note}
		if m.Batch != "" {
			line.Why += ", batch " + m.Batch
		}
		if pays := tank.PayerTitle(m.Pays); pays != "" {
			line.Why += ", " + strings.ToLower(pays)
		}
		if m.OtherTank != "" {
			line.Other = &view.Link{Label: m.OtherName, Href: tankPath(m.OtherTank)}
		}
		body.Movements = append(body.Movements, line)
	}
	frame := view.Frame{Title: "Planting and stock", Up: &view.Link{Label: n.Name, Href: tankPath(n.ID)}}
	draw := func(f view.Form) (view.Frame, templ.Component) { body.Form = f; return frame, view.TankStockBody(body) }
	if fault != nil {
		return p.again(w, r, fault, values, draw)
	}
	frame, page := draw(view.Form{Values: values})
	return p.page(w, r, http.StatusOK, frame, page)
}

func livingLines(all []tank.Living, when view.Local) []view.LivingLine {
	var out []view.LivingLine
	for _, l := range all {
		line := view.LivingLine{Count: strconv.Itoa(l.Count), Group: tank.GroupTitle(l.Group), Species: l.Species}
		if l.Since.OK {
			line.Since = when.Day(l.Since.V)
		}
		out = append(out, line)
	}
	return out
}
