package web

import (
	"context"
	"net/http"
	"net/url"
	"strings"

	"scaperound/domain/fault"
	"scaperound/domain/shop"
	"scaperound/domain/staff"
	"scaperound/web/view"
)

// signInStore is what signing in and out asks for.
type signInStore interface {
	// Shop returns the shop; NotFound before the first start.
	Shop(ctx context.Context) (shop.Settings, error)
	// PersonByEmail returns who signs in with the address, and their hash.
	PersonByEmail(ctx context.Context, email string) (p staff.Person, hash string, err error)
	// BeginSignIn notes the sign-in and returns its id.
	BeginSignIn(ctx context.Context, person, agent string) (string, error)
	// EndSignIn ends it.
	EndSignIn(ctx context.Context, id string) error
}

type signIn struct {
	*shell
	store signInStore
}

// wrongSignIn is the one answer to every failure: it must not tell which half
// was wrong, nor who works here.
func wrongSignIn() *fault.Error {
	const text = "Address and password do not go together. Check both; capital letters count in the password."
	return &fault.Error{Kind: fault.Unauthenticated, Code: "wrong-sign-in", Msg: text}
}

func (p signIn) page(w http.ResponseWriter, r *http.Request) error {
	keptNowhere(w)
	if err := p.recognise(w, r); err != nil {
		return err
	}
	next := safeNext(r.URL.Query().Get("next"))
	one := who(r).Person
	if wantsJSON(r) {
		// A script asks who is signed in here.
		if one.ID == "" {
			return fault.New(fault.Unauthenticated, "Nobody is signed in.")
		}
		return p.json(w, r, http.StatusOK, signedInAs(one))
	}
	if one.ID != "" {
		http.Redirect(w, r, next, http.StatusSeeOther)
		return nil
	}
	_, out := r.URL.Query()["signed-out"]
	return p.draw(w, r, http.StatusOK, view.Form{Values: url.Values{"next": {next}}}, out)
}

func (p signIn) draw(w http.ResponseWriter, r *http.Request, status int, f view.Form, signedOut bool) error {
	frame := view.Frame{Title: "Sign in"}
	body := view.SignIn{Form: f, Next: safeNext(f.Values.Get("next")), SignedOut: signedOut}
	switch s, err := p.store.Shop(r.Context()); {
	case err == nil:
		frame.Shop, frame.Lang = s.Name, s.Locale
	case fault.Is(err, fault.NotFound):
		body.NoShop = true
	default:
		return err
	}
	return p.shell.page(w, r, status, frame, view.SignInBody(body))
}

func (p signIn) try(w http.ResponseWriter, r *http.Request) error {
	keptNowhere(w)
	values, err := p.form(r)
	if err != nil {
		return err
	}
	person, err := p.check(r, values.Get("email"), values.Get("password"))
	if err != nil {
		return p.tryAgain(w, r, err, values)
	}
	if err := p.letIn(w, r, person); err != nil {
		return err
	}
	if wantsJSON(r) {
		return p.json(w, r, http.StatusOK, signedInAs(person))
	}
	http.Redirect(w, r, safeNext(values.Get("next")), http.StatusSeeOther)
	return nil
}

func signedInAs(p staff.Person) map[string]string {
	return map[string]string{"staff": p.ID, "name": p.Name, "role": string(p.Role)}
}

// check finds the person behind an address and a password. It takes as long for
// somebody who does not exist.
func (p signIn) check(r *http.Request, email, password string) (staff.Person, error) {
	var fs fault.Fields
	if strings.TrimSpace(email) == "" {
		fs.Add("email", fault.Missing, "Type the e-mail address that you sign in with.")
	}
	if password == "" {
		fs.Add("password", fault.Missing, "Type your password.")
	}
	if len(fs) > 0 {
		return staff.Person{}, fs.Err()
	}
	if len(email) > staff.MaxEmail || len(password) > staff.MaxPasswordBytes {
		return staff.Person{}, wrongSignIn()
	}
	place, account := clientKey(r), staff.FoldEmail(email)
	if err := p.throttle.wait(r.Context(), place, account); err != nil {
		return staff.Person{}, err
	}
	person, hash, err := p.store.PersonByEmail(r.Context(), email)
	if err != nil && !fault.Is(err, fault.NotFound) {
		p.throttle.forgive(place, account)
		return staff.Person{}, err
	}
	ok, err := p.hashes.matches(r.Context(), password, hash)
	if err != nil {
		p.throttle.forgive(place, account)
		return staff.Person{}, err
	}
	if !ok || person.Deactivated {
		return staff.Person{}, wrongSignIn()
	}
	p.throttle.succeeded(place, account)
	return person, nil
}

// tryAgain draws the page anew with the address that was typed.
func (p signIn) tryAgain(w http.ResponseWriter, r *http.Request, err error, values url.Values) error {
	f := fault.Of(err)
	if wantsJSON(r) || f.Kind != fault.Invalid && f.Kind != fault.Unauthenticated {
		return err
	}
	note(r).err = err
	fields := f.Fields
	if len(fields) == 0 {
		fields = fault.Fields{{Kind: fault.Impossible, Text: f.Msg}}
	}
	return p.draw(w, r, statuses[f.Kind], view.Form{Values: values, Faults: fields}, false)
}

// letIn begins a sign-in and a session for somebody who has proved who they are.
func (s *shell) letIn(w http.ResponseWriter, r *http.Request, person staff.Person) error {
	id, err := s.cfg.Store.BeginSignIn(r.Context(), person.ID, r.UserAgent())
	if err != nil {
		return err
	}
	return s.beginSession(w, r, id, person.Epoch)
}

// out ends the sign-in. It works for somebody who is not signed in, too: the
// wish is fulfilled.
func (p signIn) out(w http.ResponseWriter, r *http.Request) error {
	keptNowhere(w)
	if err := p.recognise(w, r); err != nil {
		return err
	}
	if id := who(r).ID; id != "" {
		if err := p.store.EndSignIn(r.Context(), id); err != nil {
			return err
		}
	}
	p.endSession(w, r)
	// The browser's own copies of pages go; what was typed and not yet sent is
	// kept by the tablet apart from them and stays.
	w.Header().Set("Clear-Site-Data", `"cache"`)
	if wantsJSON(r) {
		return p.json(w, r, http.StatusOK, map[string]string{"text": "Signed out."})
	}
	http.Redirect(w, r, "/sign-in?signed-out", http.StatusSeeOther)
	return nil
}

// safeNext is where to go after a sign-in: a page of this house and no other.
func safeNext(next string) string {
	u, err := url.Parse(next)
	if err != nil || u.IsAbs() || u.Host != "" || u.User != nil || !strings.HasPrefix(u.Path, "/") ||
		strings.HasPrefix(next, "//") || strings.ContainsAny(next, "\\\r\n\t") || strings.HasPrefix(u.Path, "//") ||
		within(u.Path, "/sign-in") {
		return "/"
	}
	return u.RequestURI()
}
