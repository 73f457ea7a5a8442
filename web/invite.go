package web

import (
	"context"
	"net/http"
	"net/url"

	"github.com/a-h/templ"

	"scaperound/domain/fault"
	"scaperound/domain/shop"
	"scaperound/domain/staff"
	"scaperound/web/view"
)

// inviteStore is what one-time addresses ask for. Each use of a token fails with
// NotFound for one that was used, has expired or never was.
type inviteStore interface {
	// InviteByToken returns what a token opens; first says that it is the way
	// to the first owner's account.
	InviteByToken(ctx context.Context, token string) (i staff.Invite, first bool, err error)
	// FirstStart makes the shop and its owner.
	FirstStart(ctx context.Context, token string, s shop.Settings, d staff.Draft, hash string) (staff.Person, error)
	// AcceptInvite makes somebody's account in the role that the owner chose.
	AcceptInvite(ctx context.Context, token string, d staff.Draft, hash string) (staff.Person, error)
	// AcceptRenewal writes the new password of the token's person.
	AcceptRenewal(ctx context.Context, token, hash string) (staff.Person, error)
}

// invitePages are reached by one-time addresses alone.
type invitePages struct {
	*shell
	store inviteStore
}

// FirstStartPath is where the token of a first start leads; the command that
// starts the server prints it below the public address.
func FirstStartPath(token string) string { return "/first-start/" + token }

func invitePath(token string) string { return "/invite/" + token }

func (p invitePages) firstStart(w http.ResponseWriter, r *http.Request) error {
	keptNowhere(w)
	if err := p.mustBeFirst(r); err != nil {
		return err
	}
	frame, body := p.drawFirst(r)(view.Form{Values: url.Values{"locale": {"en-IE"}, "units": {"metric"}, "paper": {"A4"}}})
	return p.page(w, r, http.StatusOK, frame, body)
}

func (p invitePages) mustBeFirst(r *http.Request) error {
	_, first, err := p.store.InviteByToken(r.Context(), r.PathValue("token"))
	if err == nil && !first {
		err = fault.New(fault.NotFound, "This address has been used, has expired or never existed. Ask for a new one.")
	}
	return err
}

func (p invitePages) drawFirst(r *http.Request) func(view.Form) (view.Frame, templ.Component) {
	return func(f view.Form) (view.Frame, templ.Component) {
		frame := view.Frame{
			Title: "Open the shop",
			Lead:  "Two things, once: who owns it, and how it writes. All of it can be changed later.",
		}
		return frame, view.FirstStartBody(view.FirstStart{Action: FirstStartPath(r.PathValue("token")), Form: f, Shop: shopChoices()})
	}
}

func (p invitePages) firstStartDone(w http.ResponseWriter, r *http.Request) error {
	keptNowhere(w)
	if err := p.mustBeFirst(r); err != nil {
		return err
	}
	values, err := p.form(r)
	if err != nil {
		return err
	}
	settings, fs := readShop(values, "shop_name")
	settings.ShowFigures = true
	d, own := staff.Draft{Name: values.Get("name"), Email: values.Get("email"), Role: staff.Owner}.Check()
	fs = append(own, fs...)
	staff.CheckPassword(&fs, "password", values.Get("password"), d.Name, d.Email)
	err = fs.Err()
	var person staff.Person
	if err == nil {
		var hash string
		if hash, err = p.hashes.hash(r.Context(), values.Get("password")); err == nil {
			person, err = p.store.FirstStart(r.Context(), r.PathValue("token"), settings, d, hash)
		}
	}
	if err != nil {
		return p.again(w, r, err, values, p.drawFirst(r))
	}
	return p.enter(w, r, person, "The shop is open. Next, invite the people who work here.", "/people")
}

// enter signs a new person in and leads them on.
func (p invitePages) enter(w http.ResponseWriter, r *http.Request, person staff.Person, text, to string) error {
	if err := p.letIn(w, r, person); err != nil {
		return err
	}
	return p.done(w, r, to, view.Notice{Text: text})
}

func (p invitePages) invited(w http.ResponseWriter, r *http.Request) error {
	keptNowhere(w)
	i, err := p.open(r)
	if err != nil {
		return err
	}
	draw, err := p.drawInvited(r, i)
	if err != nil {
		return err
	}
	frame, body := draw(view.Form{Values: url.Values{"name": {i.Name}}})
	return p.page(w, r, http.StatusOK, frame, body)
}

func (p invitePages) open(r *http.Request) (staff.Invite, error) {
	i, first, err := p.store.InviteByToken(r.Context(), r.PathValue("token"))
	if err == nil && first {
		err = fault.New(fault.NotFound, "This address has been used, has expired or never existed. Ask for a new one.")
	}
	return i, err
}

func (p invitePages) drawInvited(r *http.Request, i staff.Invite) (func(view.Form) (view.Frame, templ.Component), error) {
	settings, err := p.cfg.Store.Shop(r.Context())
	if err != nil {
		return nil, err
	}
	return func(f view.Form) (view.Frame, templ.Component) {
		frame := view.Frame{Title: "Welcome to " + settings.Name, Shop: settings.Name, Lang: settings.Locale, Lead: "Make your account. You sign in with the address and the password that you type here."}
		body := view.Invited{Action: invitePath(r.PathValue("token")), Form: f, Role: i.Role.Title(), Until: localOf(settings).DayClock(i.Expires)}
		if i.For != "" {
			frame.Title, frame.Lead = "A new password", "For "+i.Name+". You are then signed out everywhere else."
			body.OnlyPassword = true
		}
		return frame, view.InvitedBody(body)
	}, nil
}

func (p invitePages) invitedDone(w http.ResponseWriter, r *http.Request) error {
	keptNowhere(w)
	i, err := p.open(r)
	if err != nil {
		return err
	}
	values, err := p.form(r)
	if err != nil {
		return err
	}
	person, err := p.accept(r, i, values)
	if err != nil {
		draw, drawErr := p.drawInvited(r, i)
		if drawErr != nil {
			return drawErr
		}
		return p.again(w, r, err, values, draw)
	}
	if i.For != "" {
		return p.enter(w, r, person, "Your new password is kept.", "/")
	}
	return p.enter(w, r, person, "Your account is made.", "/")
}

func (p invitePages) accept(r *http.Request, i staff.Invite, values url.Values) (staff.Person, error) {
	token, password := r.PathValue("token"), values.Get("password")
	var fs fault.Fields
	var d staff.Draft
	if i.For == "" {
		d, fs = staff.Draft{Name: values.Get("name"), Email: values.Get("email"), Role: i.Role}.Check()
	} else {
		d.Name = i.Name
	}
	staff.CheckPassword(&fs, "password", password, d.Name, d.Email)
	if err := fs.Err(); err != nil {
		return staff.Person{}, err
	}
	hash, err := p.hashes.hash(r.Context(), password)
	if err != nil {
		return staff.Person{}, err
	}
	if i.For != "" {
		return p.store.AcceptRenewal(r.Context(), token, hash)
	}
	return p.store.AcceptInvite(r.Context(), token, d, hash)
}
