package web

import (
	"context"
	"net/http"
	"slices"
	"strings"

	"github.com/a-h/templ"

	"scaperound/domain/fault"
	"scaperound/domain/tank"
	"scaperound/domain/triage"
	"scaperound/web/view"
)

func (p troublePages) guide(w http.ResponseWriter, r *http.Request) error {
	draw, err := p.drawGuide(r)
	if err != nil {
		return err
	}
	frame, body := draw(view.Form{})
	return p.page(w, r, http.StatusOK, frame, body)
}

func (p troublePages) drawGuide(r *http.Request) (func(view.Form) (view.Frame, templ.Component), error) {
	g, ok := triage.GuideOf(r.PathValue("guide"))
	if !ok {
		return nil, fault.New(fault.NotFound, "There is no such page.")
	}
	c, err := p.tanks.TankCard(r.Context(), r.PathValue("tank"))
	if err != nil {
		return nil, err
	}
	owner, err := p.owner(r.Context())
	if err != nil {
		return nil, err
	}
	people, _, err := p.goers(r.Context())
	if err != nil {
		return nil, err
	}
	return func(f view.Form) (view.Frame, templ.Component) {
		return view.Frame{Title: g.Title, Lead: dotted(c.Name, c.CustomerName, c.SiteName), Up: &view.Link{Label: "Trouble", Href: troublePath(c.ID)}}, view.GuideBody(guidePage(g, c, f, owner, people))
	}, nil
}

func guidePage(g triage.Guide, c tank.Card, f view.Form, owner *view.Phone, people []view.Option) view.Guide {
	body := view.Guide{
		Form: f, Action: troublePath(c.ID) + "/" + g.ID, First: g.First, Owner: owner, Not: g.Not, Goes: g.Goes, Bring: g.Bring, There: g.There,
		Else: "If no reply presses: " + lowerFirst(g.Else.Title()) + ".", People: people, Back: view.Link{Label: "Leave it", Href: troublePath(c.ID)},
		Goings: []view.Option{{Label: "As the replies say"}},
	}
	for _, ask := range g.Ask {
		line := view.GuideAsk{Name: "q." + ask.ID, Ask: ask.Ask}
		if ask.Then != "" {
			line.Then = ask.Presses.Title() + ": " + ask.Then.Short()
		}
		body.Ask = append(body.Ask, line)
	}
	for i, d := range g.Do {
		body.Do = append(body.Do, view.Option{Value: triage.ReadField(i), Label: d})
	}
	for _, x := range triage.Goings {
		body.Goings = append(body.Goings, view.Option{Value: string(x), Label: x.Title()})
	}
	return body
}

// goers are those who can go.
func (p troublePages) goers(ctx context.Context) (options []view.Option, ids []string, err error) {
	people, err := p.tanks.People(ctx)
	options = []view.Option{{Label: "Not settled yet"}}
	for _, x := range people {
		if !x.Deactivated {
			options, ids = append(options, view.Option{Value: x.ID, Label: x.Name}), append(ids, x.ID)
		}
	}
	return options, ids, err
}

func (p troublePages) keepCall(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	draw, err := p.drawGuide(r)
	if err != nil {
		return err
	}
	_, ids, err := p.goers(r.Context())
	if err != nil {
		return err
	}
	g, _ := triage.GuideOf(r.PathValue("guide"))
	c, fs := triage.ParseCall(fieldsOf(values), g, ids)
	c.Tank = r.PathValue("tank")
	id := ""
	if err = fs.Err(); err == nil {
		id, err = p.first(p.store.KeepCall(p.once(r, values), who(r).Person.ID, c))
	}
	if err != nil {
		return p.again(w, r, err, values, draw)
	}
	return p.done(w, r, callPath(id), view.Notice{Text: "The call is kept: " + lowerFirst(c.Going.Title()) + "."})
}

// call is one call for help as it was kept, and what comes next.
func (p troublePages) call(w http.ResponseWriter, r *http.Request) error {
	c, err := p.store.TroubleCall(r.Context(), r.PathValue("call"))
	if err != nil {
		return err
	}
	waiting, err := p.store.WaitingCalls(r.Context(), c.Tank)
	if err != nil {
		return err
	}
	owner, err := p.owner(r.Context())
	if err != nil {
		return err
	}
	g, _ := triage.GuideOf(c.Guide)
	when, path := local(r), tankPath(c.Tank)
	unsettled := c
	unsettled.Settled.OK = false // it is told below
	body := view.CallPage{
		Going: goingText(unsettled), Words: c.Words, Not: g.Not, There: g.There, Bring: g.Bring, Owner: owner,
		Waits:  slices.ContainsFunc(waiting, func(x triage.Call) bool { return x.ID == c.ID }),
		Settle: view.Post{Label: "It is settled", Action: callPath(c.ID) + "/settle"}, Again: view.Post{Label: "It is not settled", Action: callPath(c.ID) + "/open-again"},
		Go: []view.Link{{Label: "Write down a call-out", Href: path + "/visits/new?kind=call_out"}},
	}
	if c.Problem != "" {
		body.Go = append(body.Go, view.Link{Label: "The problem", Href: problemPath(c.Problem)})
	} else {
		body.Go = append(body.Go, view.Link{Label: "Open a problem", Href: path + "/problems"})
	}
	switch c.Guide {
	case "fish_dead":
		body.Go = append(body.Go, view.Link{Label: "Write the death down", Href: path + "/deaths"})
	case "filter_stopped":
		body.Go = append(body.Go, view.Link{Label: "How long it stood", Href: path + "/stopped"})
	}
	if c.Settled.OK {
		body.Settled = "Settled on " + when.DayClock(c.Settled.V) + ", " + c.SettledBy
	}
	_, why := g.Advise(c.Replies)
	for _, ask := range why {
		body.Why = append(body.Why, ask.Ask+" "+c.Replies[ask.ID].Title()+".")
	}
	if c.Going != c.Advised {
		body.Why = append(body.Why, "The replies alone say: "+lowerFirst(c.Advised.Title())+".")
	}
	for i, d := range g.Do {
		if slices.Contains(c.Read, i) {
			body.Told = append(body.Told, d)
		} else {
			body.NotTold = append(body.NotTold, d)
		}
	}
	for _, ask := range g.Ask {
		reply := "not asked"
		if x := c.Replies[ask.ID]; x != "" {
			reply = x.Title()
		}
		body.Replies = append(body.Replies, view.Fact{Name: ask.Ask, Text: reply})
	}
	return p.page(w, r, http.StatusOK, view.Frame{Title: g.Title, Lead: "Taken on " + when.DayClock(c.At) + ", " + c.By, Up: &view.Link{Label: c.TankName, Href: path}}, view.CallBody(body))
}

func (p troublePages) settle(settled bool) handler {
	return func(w http.ResponseWriter, r *http.Request) error {
		path := callPath(r.PathValue("call"))
		if err := p.store.SettleCall(r.Context(), who(r).Person.ID, r.PathValue("call"), settled); err != nil {
			return err
		}
		n := view.Notice{Text: "The call is settled.", Undo: &view.Post{Label: "Undo", Action: path + "/open-again"}}
		if !settled {
			n = view.Notice{Text: "The call waits again.", Undo: &view.Post{Label: "Undo", Action: path + "/settle"}}
		}
		return p.done(w, r, path, n)
	}
}

func lowerFirst(s string) string {
	if s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}
