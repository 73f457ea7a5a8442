package web

import (
	"context"
	"net/http"
	"slices"

	"scaperound/domain/customer"
	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
	"scaperound/domain/triage"
	"scaperound/web/view"
)

// troubleStore keeps calls for help, deaths and filters that stood still.
type troubleStore interface {
	// OwnerPhone is whom to ring: the owner's number, or the shop's.
	OwnerPhone(ctx context.Context) (string, error)
	TroubleCalls(ctx context.Context, tankID string, limit int) ([]triage.Call, error)
	// WaitingCalls are those on which somebody was to go and nobody has.
	WaitingCalls(ctx context.Context, tankID string) ([]triage.Call, error)
	TroubleCall(ctx context.Context, id string) (triage.Call, error)
	// KeepCall keeps the call, a note of it at its customer, and a problem
	// where it asks for one.
	KeepCall(ctx context.Context, by string, c triage.Call) (id string, err error)
	SettleCall(ctx context.Context, by, id string, settled bool) error
	Deaths(ctx context.Context, tankID string, limit int) ([]triage.Death, error)
	// RecordDeath takes the animals out of the stock, too, as far as they are in it.
	RecordDeath(ctx context.Context, by string, d triage.Death, day q.Date) (id string, err error)
	FilterStops(ctx context.Context, tankID string, limit int) ([]triage.StopLine, error)
	// KeepStop puts on the tank's list what follows from it.
	KeepStop(ctx context.Context, by string, s triage.Stop, today q.Date) (id string, err error)
}

// troublePages are for a bad moment: short, by telephone or at the tank.
type troublePages struct {
	*shell
	store     troubleStore
	tanks     tankStore
	customers customerStore
}

// callsShown is how many calls of before a page lists.
const callsShown = 10

func troublePath(tankID string) string { return tankPath(tankID) + "/trouble" }

func callPath(id string) string { return "/trouble/" + id }

// owner is whom to ring; nil where nobody has a number.
func (p troublePages) owner(ctx context.Context) (*view.Phone, error) {
	number, err := p.store.OwnerPhone(ctx)
	if err != nil || number == "" {
		return nil, err
	}
	return &view.Phone{Text: number, Number: dial(number)}, nil
}

func (p troublePages) list(w http.ResponseWriter, r *http.Request) error {
	c, err := p.tanks.TankCard(r.Context(), r.PathValue("tank"))
	if err != nil {
		return err
	}
	waiting, err := p.store.WaitingCalls(r.Context(), c.ID)
	if err != nil {
		return err
	}
	calls, err := p.store.TroubleCalls(r.Context(), c.ID, callsShown)
	if err != nil {
		return err
	}
	owner, err := p.owner(r.Context())
	if err != nil {
		return err
	}
	path := tankPath(c.ID)
	body := view.Trouble{Owner: owner, Waiting: callRows(local(r), waiting)}
	for _, g := range triage.Guides() {
		body.Phone = append(body.Phone, view.Link{Label: g.Title, Href: troublePath(c.ID) + "/" + g.ID})
	}
	damage := view.TroubleWay{Label: "Damage or danger", What: "People and power first"}
	for _, k := range triage.Incidents() {
		damage.Kinds = append(damage.Kinds, view.Link{Label: k.Title, Href: sitePath(c.Site) + "/incidents?kind=" + k.ID + "&tank=" + c.ID})
	}
	body.AtTank = []view.TroubleWay{
		damage,
		{Label: "A death", Href: path + "/deaths", What: "The living first; half a litre of the old water before any change"},
		{Label: "Power cut, or the filter stood still", Href: path + "/stopped", What: "How long? Beyond two hours it is not just switched on"},
		{Label: "Disease: keep apart", Href: path + "/apart", What: "Own net, last stop of the day"},
		{Label: "A trouble that goes on", Href: path + "/problems", What: "What we believe, tried, result, next"},
	}
	if c.Site == "" {
		body.AtTank = body.AtTank[1:]
	}
	for _, x := range calls {
		if !slices.ContainsFunc(waiting, func(y triage.Call) bool { return y.ID == x.ID }) {
			body.Before = append(body.Before, callRows(local(r), []triage.Call{x})...)
		}
	}
	return p.page(w, r, http.StatusOK, view.Frame{Title: "Trouble", Lead: dotted(c.Name, c.CustomerName, c.SiteName), Up: &view.Link{Label: c.Name, Href: path}}, view.TroubleBody(body))
}

func callRows(when view.Local, calls []triage.Call) []view.CallRow {
	var out []view.CallRow
	for _, c := range calls {
		row := view.CallRow{Title: guideTitle(c.Guide), Href: callPath(c.ID), When: when.DayClock(c.At), By: c.By, Going: goingText(c), Waits: c.Going.Waits() && !c.Settled.OK}
		out = append(out, row)
	}
	return out
}

func guideTitle(id string) string {
	g, _ := triage.GuideOf(id)
	return g.Title
}

// goingText is who goes and when, in words.
func goingText(c triage.Call) string {
	text := c.Going.Title()
	if c.GoesName != "" && c.Going.Waits() {
		text += ": " + c.GoesName
	}
	if c.Settled.OK {
		text += ", settled"
	}
	return text
}

// whichTank leads from a customer to the tank that is in trouble; one tank needs
// no question.
func (p troublePages) whichTank(w http.ResponseWriter, r *http.Request) error {
	call, err := p.customers.CustomerCall(r.Context(), r.PathValue("customer"), p.today(r))
	if err != nil {
		return err
	}
	alive := troubleTanks(call.Tanks)
	if len(alive) == 1 {
		http.Redirect(w, r, troublePath(alive[0].ID), http.StatusSeeOther)
		return nil
	}
	c := call.Customer
	body := view.WhichTank{Back: view.Link{Label: "Back", Href: customerPath(c.ID)}}
	for _, t := range alive {
		body.Tanks = append(body.Tanks, view.FoundRow{Name: t.Name, Href: troublePath(t.ID), Quiet: t.SiteName})
	}
	return p.page(w, r, http.StatusOK, view.Frame{Title: "Trouble at which tank?", Lead: c.Name, Up: &view.Link{Label: c.Name, Href: customerPath(c.ID)}}, view.WhichTankBody(body))
}

// troubleTanks are the tanks that can be in trouble.
func troubleTanks(all []customer.TankLine) []customer.TankLine {
	return slices.DeleteFunc(slices.Clone(all), func(t customer.TankLine) bool { return t.State == string(tank.Ended) })
}
