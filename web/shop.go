package web

import (
	"context"
	"net/http"
	"net/url"
	"strconv"
	"time"

	"github.com/a-h/templ"

	"scaperound/domain/fault"
	"scaperound/domain/say"
	"scaperound/domain/shop"
	"scaperound/web/view"
)

// shopStore keeps how the shop writes and reckons.
type shopStore interface {
	Shop(ctx context.Context) (shop.Settings, error)
	// ChangeShop writes over the version that the settings carry; Conflict
	// where somebody was faster.
	ChangeShop(ctx context.Context, by string, s shop.Settings) (shop.Settings, error)
}

type shopPages struct {
	*shell
	store shopStore
}

func (p shopPages) show(w http.ResponseWriter, r *http.Request) error {
	s, err := p.store.Shop(r.Context())
	if err != nil {
		return err
	}
	frame, body := p.draw(s.Version)(view.Form{Values: shopValues(s)})
	return p.page(w, r, http.StatusOK, frame, body)
}

func (p shopPages) draw(version int) func(view.Form) (view.Frame, templ.Component) {
	return func(f view.Form) (view.Frame, templ.Component) {
		body := view.Shop{Form: f, Version: version, Choices: shopChoices(), Tablet: BrowserBuild()}
		for _, l := range []view.Link{{Label: "People", Href: "/people"}, {Label: "Rules, and how often they fired", Href: "/rules"}, {Label: "What changed and by whom", Href: "/changes"}} {
			if p.hasPage(l.Href) {
				body.More = append(body.More, l)
			}
		}
		return view.Frame{Title: "Shop"}, view.ShopBody(body)
	}
}

func (p shopPages) save(w http.ResponseWriter, r *http.Request) error {
	values, err := p.form(r)
	if err != nil {
		return err
	}
	settings, fs := readShop(values, "name")
	if err = fs.Err(); err == nil {
		_, err = p.store.ChangeShop(r.Context(), who(r).Person.ID, settings)
	}
	if err != nil {
		// What is now stored is the version that a second try goes over.
		now, readErr := p.store.Shop(r.Context())
		if readErr != nil {
			return readErr
		}
		return p.again(w, r, err, values, p.draw(now.Version))
	}
	return p.done(w, r, "/shop", view.Notice{Text: "The shop's settings are kept."})
}

// readShop reads the shop's fields. The name's field differs where a form also
// asks for a person's.
func readShop(values url.Values, nameField string) (shop.Settings, fault.Fields) {
	s, fs := shop.Settings{
		Name:        values.Get(nameField),
		Zone:        values.Get("zone"),
		Locale:      values.Get("locale"),
		Units:       say.System(values.Get("units")),
		Phone:       values.Get("phone"),
		Paper:       shop.Paper(values.Get("paper")),
		ShowFigures: values.Get("show_figures") != "",
		Version:     rowVersion(values),
	}.Check()
	for i := range fs {
		if fs[i].Name == "name" {
			fs[i].Name = nameField
		}
	}
	if s.Zone != "" {
		if _, err := time.LoadLocation(s.Zone); err != nil || s.Zone == "Local" {
			fs.Add("zone", fault.NotChoice, "There is no time zone called %q. Zones look like Europe/Dublin.", s.Zone)
		}
	}
	return s, fs
}

func shopValues(s shop.Settings) url.Values {
	v := url.Values{
		"name": {s.Name}, "zone": {s.Zone}, "locale": {s.Locale}, "units": {string(s.Units)},
		"phone": {s.Phone}, "paper": {string(s.Paper)}, "version": {strconv.Itoa(s.Version)},
	}
	if s.ShowFigures {
		v.Set("show_figures", "1")
	}
	return v
}

func shopChoices() view.ShopChoices {
	c := view.ShopChoices{
		Zones: zones,
		Units: []view.Option{{Value: string(say.Metric), Label: "Metric", Hint: "litres, °C, mg/L"}, {Value: string(say.US), Label: "US", Hint: "gallons, °F, ppm"}},
		Paper: []view.Option{{Value: string(shop.A4), Label: "A4"}, {Value: string(shop.Letter), Label: "Letter"}},
	}
	for _, l := range shop.Locales() {
		c.Locales = append(c.Locales, view.Option{Value: l.Tag, Label: l.Name})
	}
	return c
}
