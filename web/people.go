package web

import (
	"context"
	"net/http"
	"net/url"
	"strings"
	"unicode/utf8"

	"github.com/a-h/templ"

	"scaperound/domain/fault"
	"scaperound/domain/staff"
	"scaperound/web/view"
)

// peopleStore is what the owner's pages about people ask for. by is the id of
// whoever does it.
type peopleStore interface {
	People(ctx context.Context) ([]staff.Listed, error)
	Person(ctx context.Context, id string) (staff.Person, error)
	Invites(ctx context.Context) ([]staff.Invite, error)
	// InvitePerson and RenewPassword return a token that is kept nowhere.
	InvitePerson(ctx context.Context, by, name string, role staff.Role) (token string, made staff.Invite, err error)
	RenewPassword(ctx context.Context, by, person string) (token string, made staff.Invite, err error)
	WithdrawInvite(ctx context.Context, by, id string) error
	// ChangePerson writes over the version given; Conflict where somebody was
	// faster. A new role ends the person's sign-ins.
	ChangePerson(ctx context.Context, by, id string, version int, d staff.Draft) (staff.Person, error)
	// SetActive lets a person sign in or no longer, and ends their sign-ins.
	SetActive(ctx context.Context, by, id string, active bool) (staff.Person, error)
}

type peoplePages struct {
	*shell
	store peopleStore
}

func (p peoplePages) list(w http.ResponseWriter, r *http.Request) error {
	return p.drawList(w, r, http.StatusOK, view.Form{})
}

func (p peoplePages) drawList(w http.ResponseWriter, r *http.Request, status int, f view.Form) error {
	people, err := p.store.People(r.Context())
	if err != nil {
		return err
	}
	invites, err := p.store.Invites(r.Context())
	if err != nil {
		return err
	}
	when := local(r)
	body := view.People{Form: f, Roles: roleChoices()}
	for _, one := range people {
		line := view.PersonLine{Name: one.Name, Email: one.Email, Role: one.Role.Title(), Href: personPath(one.ID), Left: one.Deactivated}
		if !one.LastSeen.IsZero() {
			line.Seen = when.DayClock(one.LastSeen)
		}
		body.People = append(body.People, line)
	}
	for _, i := range invites {
		body.Invites = append(body.Invites, view.InviteLine{
			Name: i.Name, Role: i.Role.Title(), Until: when.DayClock(i.Expires),
			Withdraw: view.Post{Label: "Withdraw", Action: "/people/invite/" + i.ID + "/withdraw", Quiet: true},
		})
	}
	return p.page(w, r, status, view.Frame{Title: "People", Up: &view.Link{Label: "Shop", Href: "/shop"}}, view.PeopleBody(body))
}

func personPath(id string) string { return "/people/" + id }

func roleChoices() []view.Option {
	hints := map[staff.Role]string{
		staff.Technician: "Sees every tank, records visits",
		staff.Owner:      "Also people, profiles, links, prices",
	}
	var out []view.Option
	for _, role := range staff.Roles() {
		out = append(out, view.Option{Value: string(role), Label: role.Title(), Hint: hints[role]})
	}
	return out
}

func (p peoplePages) invite(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	name, role := strings.Join(strings.Fields(values.Get("name")), " "), staff.Role(values.Get("role"))
	var fs fault.Fields
	switch {
	case name == "":
		fs.Add("name", fault.Missing, "Type whom it is for, so that the list says whose it is.")
	case utf8.RuneCountInString(name) > staff.MaxName:
		fs.Add("name", fault.TooLong, "A name has at most %d characters.", staff.MaxName)
	}
	if !role.Known() {
		fs.Add("role", fault.NotChoice, "Choose technician or owner.")
	}
	if err := fs.Err(); err != nil {
		if wantsJSON(r) {
			return err
		}
		return p.drawList(w, r, statuses[fault.Invalid], view.Form{Values: values, Faults: fs})
	}
	token, made, err := p.store.InvitePerson(r.Context(), who(r).Person.ID, name, role)
	if err != nil {
		return err
	}
	return p.handOver(w, r, token, made, "/people")
}

// handOver shows a one-time address, the only time that it is seen.
func (p peoplePages) handOver(w http.ResponseWriter, r *http.Request, token string, made staff.Invite, back string) error {
	keptNowhere(w)
	address := p.address(invitePath(token))
	if wantsJSON(r) {
		return p.json(w, r, http.StatusCreated, map[string]string{"address": address})
	}
	body := view.HandOver{
		Name: made.Name, Address: address, Until: local(r).DayClock(made.Expires),
		Renewal: made.For != "", Back: view.Link{Label: "Done", Href: back},
	}
	return p.page(w, r, http.StatusCreated, view.Frame{Title: "A one-time address for " + made.Name, Up: &view.Link{Label: "People", Href: "/people"}}, view.HandOverBody(body))
}

func (p peoplePages) withdraw(w http.ResponseWriter, r *http.Request) error {
	if err := p.store.WithdrawInvite(r.Context(), who(r).Person.ID, r.PathValue("invite")); err != nil {
		return err
	}
	return p.done(w, r, "/people", view.Notice{Text: "The address is dead now."})
}

func (p peoplePages) show(w http.ResponseWriter, r *http.Request) error {
	person, err := p.store.Person(r.Context(), r.PathValue("person"))
	if err != nil {
		return err
	}
	frame, body := p.draw(r, person)(view.Form{Values: url.Values{"name": {person.Name}, "email": {person.Email}, "role": {string(person.Role)}}})
	return p.page(w, r, http.StatusOK, frame, body)
}

func (p peoplePages) draw(r *http.Request, person staff.Person) func(view.Form) (view.Frame, templ.Component) {
	return func(f view.Form) (view.Frame, templ.Component) {
		path := personPath(person.ID)
		body := view.PersonPage{
			Form: f, Action: path, Version: person.Version, Name: person.Name, Roles: roleChoices(), Left: person.Deactivated,
			Self:       person.ID == who(r).Person.ID,
			Renew:      view.Post{Label: "Make a one-time address", Action: path + "/password"},
			Deactivate: view.Post{Label: "Deactivate", Action: path + "/deactivate"},
			Reactivate: view.Post{Label: "Let in again", Action: path + "/reactivate"},
			Hours:      view.Link{Label: "Hours, skills, leave", Href: hoursPath(person.ID)},
		}
		return view.Frame{Title: person.Name, Up: &view.Link{Label: "People", Href: "/people"}}, view.PersonBody(body)
	}
}

func (p peoplePages) save(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	id := r.PathValue("person")
	d, fs := staff.Draft{Name: values.Get("name"), Email: values.Get("email"), Role: staff.Role(values.Get("role"))}.Check()
	var changed staff.Person
	if err = fs.Err(); err == nil {
		changed, err = p.store.ChangePerson(r.Context(), who(r).Person.ID, id, rowVersion(values), d)
	}
	if err != nil {
		// What is now stored is the version that a second try goes over.
		now, readErr := p.store.Person(r.Context(), id)
		if readErr != nil {
			return readErr
		}
		return p.again(w, r, err, values, p.draw(r, now))
	}
	return p.done(w, r, personPath(id), view.Notice{Text: changed.Name + " is kept as shown."})
}

func (p peoplePages) renewPassword(w http.ResponseWriter, r *http.Request) error {
	id := r.PathValue("person")
	token, made, err := p.store.RenewPassword(r.Context(), who(r).Person.ID, id)
	if err != nil {
		return err
	}
	return p.handOver(w, r, token, made, personPath(id))
}

func (p peoplePages) deactivate(w http.ResponseWriter, r *http.Request) error {
	person, err := p.store.SetActive(r.Context(), who(r).Person.ID, r.PathValue("person"), false)
	if err != nil {
		return err
	}
	return p.done(w, r, "/people", view.Notice{
		Text: person.Name + " can no longer sign in and is signed out everywhere. What they recorded stays.",
		Undo: &view.Post{Label: "Undo", Action: personPath(person.ID) + "/reactivate"},
	})
}

func (p peoplePages) reactivate(w http.ResponseWriter, r *http.Request) error {
	person, err := p.store.SetActive(r.Context(), who(r).Person.ID, r.PathValue("person"), true)
	if err != nil {
		return err
	}
	return p.done(w, r, "/people", view.Notice{
		Text: person.Name + " can sign in again.",
		Undo: &view.Post{Label: "Undo", Action: personPath(person.ID) + "/deactivate"},
	})
}
