package web

import (
	"net/http"

	"github.com/a-h/templ"

	"scaperound/domain/customer"
	"scaperound/domain/fault"
	"scaperound/web/view"
)

func (p sitePages) keys(w http.ResponseWriter, r *http.Request) error {
	keys, err := p.store.Keys(r.Context())
	if err != nil {
		return err
	}
	return p.page(w, r, http.StatusOK, view.Frame{Title: "Keys", Lead: "Those that are out first, the longest at the top."},
		view.KeyListBody(view.KeyList{Places: places("/keys"), Keys: keyRows(r, keys, true)}))
}

func (p sitePages) addKey(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	site := r.PathValue("site")
	number, fs := customer.ParseKeyNumber(fieldsOf(values))
	if err = fs.Err(); err == nil {
		_, err = p.first(p.store.AddKey(p.once(r, values), who(r).Person.ID, site, number))
	}
	if f := fault.Of(err); f != nil && f.Kind == fault.Invalid && !wantsJSON(r) {
		return p.drawSite(w, r, statuses[f.Kind], view.Form{Values: values, Faults: f.Fields})
	}
	if err != nil {
		return err
	}
	return p.done(w, r, sitePath(site), view.Notice{Text: "Key " + number + " hangs in the shop."})
}

func (p sitePages) key(w http.ResponseWriter, r *http.Request) error {
	k, err := p.store.Key(r.Context(), r.PathValue("key"))
	if err != nil {
		return err
	}
	frame, body, err := p.drawKey(r, k)
	if err != nil {
		return err
	}
	return p.page(w, r, http.StatusOK, frame, body(view.Form{}))
}

func (p sitePages) drawKey(r *http.Request, k customer.Key) (view.Frame, func(view.Form) templ.Component, error) {
	people, err := p.store.People(r.Context())
	if err != nil {
		return view.Frame{}, nil, err
	}
	path := "/keys/" + k.ID
	body := view.Key{
		Row: keyRows(r, []customer.Key{k}, false)[0], Hands: handOptions(people), Take: path + "/take", Gone: k.RetiredAt.OK,
		Return: view.Post{Label: "Hang it back", Action: path + "/return"}, GiveUp: view.Post{Label: "The shop has it no more", Action: path + "/give-up"},
		Found: view.Post{Label: "It is here again", Action: path + "/found"},
	}
	frame := view.Frame{Title: "Key " + k.Number, Lead: k.SiteName + ", " + k.Customer, Up: &view.Link{Label: k.SiteName, Href: sitePath(k.Site)}}
	return frame, func(f view.Form) templ.Component { body.Form = f; return view.KeyBody(body) }, nil
}

func (p sitePages) takeKey(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	id, me := r.PathValue("key"), who(r).Person.ID
	before, err := p.store.Key(r.Context(), id)
	if err != nil {
		return err
	}
	holder := values.Get("holder")
	if err := p.store.TakeKey(r.Context(), me, id, holder); err != nil {
		frame, body, readErr := p.drawKey(r, before)
		if readErr != nil {
			return readErr
		}
		return p.again(w, r, err, values, func(f view.Form) (view.Frame, templ.Component) { return frame, body(f) })
	}
	now, err := p.store.Key(r.Context(), id)
	if err != nil {
		return err
	}
	text := "Key " + now.Number + " is with " + now.HolderName + "."
	if holder == me {
		text = "You have key " + now.Number + "."
	}
	return p.done(w, r, sitePath(now.Site), view.Notice{Text: text, Undo: keyUndo(before)})
}

// keyUndo puts a key back where it was before it was moved.
func keyUndo(before customer.Key) *view.Post {
	path := "/keys/" + before.ID
	if before.Out() {
		return &view.Post{Label: "Undo", Action: path + "/take", Hidden: []view.Pair{{Name: "holder", Value: before.Holder}}}
	}
	return &view.Post{Label: "Undo", Action: path + "/return"}
}

func (p sitePages) returnKey(w http.ResponseWriter, r *http.Request) error {
	before, err := p.store.Key(r.Context(), r.PathValue("key"))
	if err != nil {
		return err
	}
	if err := p.store.ReturnKey(r.Context(), who(r).Person.ID, before.ID); err != nil {
		return err
	}
	n := view.Notice{Text: "Key " + before.Number + " hangs in the shop."}
	if before.Out() {
		n.Undo = keyUndo(before)
	}
	return p.done(w, r, sitePath(before.Site), n)
}

func (p sitePages) giveUpKey(w http.ResponseWriter, r *http.Request) error {
	return p.setRetired(w, r, true)
}

func (p sitePages) foundKey(w http.ResponseWriter, r *http.Request) error {
	return p.setRetired(w, r, false)
}

func (p sitePages) setRetired(w http.ResponseWriter, r *http.Request, retired bool) error {
	k, err := p.store.Key(r.Context(), r.PathValue("key"))
	if err != nil {
		return err
	}
	if err := p.store.RetireKey(r.Context(), who(r).Person.ID, k.ID, retired); err != nil {
		return err
	}
	path := "/keys/" + k.ID
	n := view.Notice{Text: "The shop has key " + k.Number + " no more.", Undo: &view.Post{Label: "Undo", Action: path + "/found"}}
	if !retired {
		n = view.Notice{Text: "Key " + k.Number + " counts again.", Undo: &view.Post{Label: "Undo", Action: path + "/give-up"}}
	}
	return p.done(w, r, sitePath(k.Site), n)
}
