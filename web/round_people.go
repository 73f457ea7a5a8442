package web

import (
	"context"
	"net/http"
	"net/url"
	"slices"

	"github.com/a-h/templ"

	"scaperound/domain/customer"
	"scaperound/domain/due"
	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/staff"
	"scaperound/static"
	"scaperound/web/view"
)

// roundPeopleStore keeps who works when, with what.
type roundPeopleStore interface {
	Person(ctx context.Context, id string) (staff.Person, error)
	Working(ctx context.Context, person string) (due.Working, error)
	// KeepWorking writes over w.Version; Conflict where somebody was faster.
	KeepWorking(ctx context.Context, by string, w due.Working) error
	Leaves(ctx context.Context, person string, from q.Date) ([]due.Leave, error)
	AddLeave(ctx context.Context, by string, l due.Leave) (id string, err error)
	WithdrawLeave(ctx context.Context, by, id string, off bool) (due.Leave, error)
	// SkillsAsked are the skills that agreements ask for.
	SkillsAsked(ctx context.Context) ([]string, error)

	Vans(ctx context.Context) ([]due.Van, error)
	Van(ctx context.Context, id string) (due.Van, error)
	AddVan(ctx context.Context, by string, v due.Van) (id string, err error)
	EditVan(ctx context.Context, by string, v due.Van) error
	ArchiveVan(ctx context.Context, by, id string, archived bool) error

	Roads(ctx context.Context) (due.Roads, error)
	KeepRoads(ctx context.Context, by string, r due.Roads) error
}

type roundPeoplePages struct {
	*shell
	store roundPeopleStore
}

func hoursPath(person string) string { return personPath(person) + "/hours" }

func (p roundPeoplePages) hours(w http.ResponseWriter, r *http.Request) error {
	now, err := p.store.Working(r.Context(), r.PathValue("person"))
	if err != nil {
		return err
	}
	frame, body, err := p.drawHours(r, now, view.Form{Values: valuesOf(now.Typed())}, view.Form{})
	if err != nil {
		return err
	}
	return p.page(w, r, http.StatusOK, frame, body)
}

func (p roundPeoplePages) drawHours(r *http.Request, now due.Working, f, leave view.Form) (frame view.Frame, body templ.Component, err error) {
	person, err := p.store.Person(r.Context(), now.Person)
	if err != nil {
		return frame, nil, err
	}
	vans, err := p.store.Vans(r.Context())
	if err != nil {
		return frame, nil, err
	}
	leaves, err := p.store.Leaves(r.Context(), now.Person, p.today(r))
	if err != nil {
		return frame, nil, err
	}
	v := view.RoundHours{Form: f, Action: hoursPath(now.Person), Version: now.Version, Back: view.Link{Label: "Leave it", Href: personPath(now.Person)},
		Leave: leave, Add: personPath(now.Person) + "/leave", Vans: []view.Option{{Label: "None of the shop's"}}}
	if v.Skills, err = p.store.SkillsAsked(r.Context()); err != nil {
		return frame, nil, err
	}
	for day := 1; day <= 7; day++ {
		v.Days = append(v.Days, view.Option{Value: due.HoursField(day), Label: customer.Weekday(day)})
	}
	for _, x := range vans {
		if !x.Archived || x.ID == now.Van {
			v.Vans = append(v.Vans, view.Option{Value: x.ID, Label: x.Name})
		}
	}
	for _, l := range leaves {
		v.Leaves = append(v.Leaves, view.RoundLeave{When: span(local(r), l.From, l.To), Why: l.Why,
			CallOff: view.Post{Label: "Call off", Action: "/leave/" + l.ID + "/call-off", Quiet: true}})
	}
	return view.Frame{Title: "Hours and skills", Lead: person.Name, Up: &view.Link{Label: person.Name, Href: personPath(person.ID)}, Styles: []string{static.Path("round.css")}}, view.RoundHoursBody(v), nil
}

// span writes one day, or the first and the last of several.
func span(l view.Local, from, to q.Date) string {
	if from == to {
		return l.Day(from)
	}
	return l.Day(from) + " to " + l.Day(to)
}

func (p roundPeoplePages) saveHours(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	was, err := p.store.Working(r.Context(), r.PathValue("person"))
	if err != nil {
		return err
	}
	now, fs := due.ParseWorking(fieldsOf(values), reads(r), was)
	now.Version = rowVersion(values)
	vans, err := p.store.Vans(r.Context())
	if err != nil {
		return err
	}
	if now.Van != "" && !slices.ContainsFunc(vans, func(v due.Van) bool { return v.ID == now.Van }) {
		fs.Add("van", fault.NotChoice, "That van is not one of the shop's. Choose another.")
	}
	if err = fs.Err(); err == nil {
		err = p.store.KeepWorking(r.Context(), who(r).Person.ID, now)
	}
	if err != nil {
		// What is now stored is the version that a second try goes over.
		frame, body, drawErr := p.drawHours(r, was, faulty(values, err), view.Form{})
		if drawErr != nil {
			return drawErr
		}
		return p.again(w, r, err, values, func(view.Form) (view.Frame, templ.Component) { return frame, body })
	}
	return p.done(w, r, personPath(was.Person), view.Notice{Text: "Hours and skills are kept. The next plan goes by them."})
}

// faulty is a form as it was sent, with what err says is wrong in it.
func faulty(values url.Values, err error) view.Form {
	f := fault.Of(err)
	fields := f.Fields
	if len(fields) == 0 {
		fields.Add("", f.Kind.String(), "%s", f.Msg)
	}
	return view.Form{Values: values, Faults: fields}
}

func (p roundPeoplePages) addLeave(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	was, err := p.store.Working(r.Context(), r.PathValue("person"))
	if err != nil {
		return err
	}
	l, fs := due.ParseLeave(fieldsOf(values), p.today(r))
	l.Person = was.Person
	id := ""
	if err = fs.Err(); err == nil {
		id, err = p.store.AddLeave(r.Context(), who(r).Person.ID, l)
	}
	if err != nil {
		frame, body, drawErr := p.drawHours(r, was, view.Form{Values: valuesOf(was.Typed())}, faulty(values, err))
		if drawErr != nil {
			return drawErr
		}
		return p.again(w, r, err, values, func(view.Form) (view.Frame, templ.Component) { return frame, body })
	}
	return p.done(w, r, hoursPath(was.Person), view.Notice{Text: "The leave is noted: " + span(local(r), l.From, l.To) + ".", Undo: &view.Post{Label: "Undo", Action: "/leave/" + id + "/call-off"}})
}

func (p roundPeoplePages) callOffLeave(w http.ResponseWriter, r *http.Request) error {
	return p.setLeave(w, r, true)
}

func (p roundPeoplePages) bringBackLeave(w http.ResponseWriter, r *http.Request) error {
	return p.setLeave(w, r, false)
}

func (p roundPeoplePages) setLeave(w http.ResponseWriter, r *http.Request, off bool) error {
	l, err := p.store.WithdrawLeave(r.Context(), who(r).Person.ID, r.PathValue("leave"), off)
	if err != nil {
		return err
	}
	n := view.Notice{Text: "The leave is called off.", Undo: &view.Post{Label: "Undo", Action: "/leave/" + l.ID + "/bring-back"}}
	if !off {
		n = view.Notice{Text: "The leave is noted again.", Undo: &view.Post{Label: "Undo", Action: "/leave/" + l.ID + "/call-off"}}
	}
	return p.done(w, r, hoursPath(l.Person), n)
}
