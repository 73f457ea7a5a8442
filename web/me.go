package web

import (
	"context"
	"net/http"
	"net/url"
	"strings"
	"unicode/utf8"

	"github.com/a-h/templ"

	"scaperound/domain/fault"
	"scaperound/domain/say"
	"scaperound/domain/share"
	"scaperound/domain/shop"
	"scaperound/domain/staff"
	"scaperound/web/view"
)

// meStore is what a person's page about themselves asks for.
type meStore interface {
	// ChangeOwnDetails writes over the version given; Conflict where it is old.
	ChangeOwnDetails(ctx context.Context, id string, version int, name, phone string, units say.System) (staff.Person, error)
	PasswordHash(ctx context.Context, id string) (string, error)
	// SetPassword ends every sign-in of the person but those of the epoch that
	// comes back.
	SetPassword(ctx context.Context, by, id, hash string) (staff.Person, error)
	// CalendarLink is the person's living calendar address; its ID is empty for none.
	CalendarLink(ctx context.Context, person string) (share.CalendarLink, error)
}

type mePages struct {
	*shell
	store meStore
}

func (p mePages) show(w http.ResponseWriter, r *http.Request) error {
	frame, body := p.draw(r, view.Form{})(view.Form{Values: meValues(who(r).Person)})
	return p.page(w, r, http.StatusOK, frame, body)
}

func meValues(one staff.Person) url.Values {
	return url.Values{"name": {one.Name}, "phone": {one.Phone}, "units": {string(one.Units)}}
}

func (p mePages) draw(r *http.Request, password view.Form) func(view.Form) (view.Frame, templ.Component) {
	one := who(r).Person
	return func(f view.Form) (view.Frame, templ.Component) {
		body := view.Me{Form: f, Password: password, Version: one.Version, Email: one.Email, Role: one.Role.Title(),
			Units: append([]view.Option{{Value: "", Label: "As the shop"}}, shopChoices().Units...)}
		body.Calendar = view.MyCalendar{Make: view.Post{Label: "Make an address", Action: "/me/calendar"}}
		// A calendar address that cannot be read just now is no reason to keep
		// the rest of the page back.
		if link, err := p.store.CalendarLink(r.Context(), one.ID); err == nil && link.ID != "" {
			body.Calendar = view.MyCalendar{Address: p.address("/calendar/" + p.cfg.LinkKey.Token(link.ID, link.Generation) + ".ics"),
				Make: view.Post{Label: "Make a new address", Action: "/me/calendar"}, Revoke: view.Post{Label: "End it", Action: "/me/calendar/revoke"}}
		}
		return view.Frame{Title: "You"}, view.MeBody(body)
	}
}

func (p mePages) save(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	var fs fault.Fields
	name := strings.Join(strings.Fields(values.Get("name")), " ")
	phone := strings.Join(strings.Fields(values.Get("phone")), " ")
	units := say.System(values.Get("units"))
	switch {
	case name == "":
		fs.Add("name", fault.Missing, "Type the name that the others know.")
	case utf8.RuneCountInString(name) > staff.MaxName:
		fs.Add("name", fault.TooLong, "A name has at most %d characters.", staff.MaxName)
	}
	shop.CheckPhone(&fs, "phone", phone)
	if units != "" && units != say.Metric && units != say.US {
		fs.Add("units", fault.NotChoice, "Choose metric, US, or as the shop.")
	}
	if err = fs.Err(); err == nil {
		_, err = p.store.ChangeOwnDetails(r.Context(), who(r).Person.ID, rowVersion(values), name, phone, units)
	}
	if err != nil {
		return p.again(w, r, err, values, p.draw(r, view.Form{}))
	}
	return p.done(w, r, "/me", view.Notice{Text: "Your details are kept."})
}

// password changes one's own password. Every other sign-in ends; this one goes
// on under a new session.
func (p mePages) password(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	one, err := p.changePassword(r, values.Get("old"), values.Get("password"))
	if err != nil {
		// What was typed is a secret; it is typed again.
		again := func(f view.Form) (view.Frame, templ.Component) {
			return p.draw(r, f)(view.Form{Values: meValues(who(r).Person)})
		}
		return p.again(w, r, err, url.Values{}, again)
	}
	if err := p.beginSession(w, r, who(r).ID, one.Epoch); err != nil {
		return err
	}
	return p.done(w, r, "/me", view.Notice{Text: "Your new password is kept. You are signed out everywhere else."})
}

func (p mePages) changePassword(r *http.Request, old, password string) (staff.Person, error) {
	one := who(r).Person
	var fs fault.Fields
	if old == "" {
		fs.Add("old", fault.Missing, "Type the password that you have now.")
	}
	staff.CheckPassword(&fs, "password", password, one.Name, one.Email)
	if err := fs.Err(); err != nil {
		return one, err
	}
	place := clientKey(r)
	if err := p.throttle.wait(r.Context(), place, one.ID); err != nil {
		return one, err
	}
	hash, err := p.store.PasswordHash(r.Context(), one.ID)
	if err != nil {
		return one, err
	}
	ok, err := p.hashes.matches(r.Context(), old, hash)
	if err != nil {
		return one, err
	}
	if !ok {
		fs.Add("old", fault.Impossible, "That is not your password now.")
		return one, fs.Err()
	}
	p.throttle.succeeded(place, one.ID)
	if hash, err = p.hashes.hash(r.Context(), password); err != nil {
		return one, err
	}
	return p.store.SetPassword(r.Context(), one.ID, one.ID, hash)
}
