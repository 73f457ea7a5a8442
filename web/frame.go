package web

import (
	"net/http"
	"strings"
	"time"

	"scaperound/domain/shop"
	"scaperound/domain/staff"
	"scaperound/static"
	"scaperound/web/view"
)

// assets are what every page loads, under their hashed names.
var assets = view.Assets{Style: static.Path("house.css"), Script: static.Path("app.js"), Icon: static.Path("icon.svg"), Touch: static.Path("icon-192.png")}

// fill completes a frame with who is signed in, the menu and a waiting notice.
func (s *shell) fill(_ http.ResponseWriter, r *http.Request, f *view.Frame) {
	in := who(r)
	f.Assets = assets
	if f.Shop == "" {
		f.Shop = in.Shop.Name
	}
	if f.Lang == "" {
		f.Lang = in.Shop.Locale
	}
	if in.Person.ID == "" {
		return
	}
	f.Person = &view.Person{ID: in.Person.ID, Name: in.Person.Name, Role: in.Person.Role.Title()}
	f.Nav = s.menuOf(in.Person.Role, r.URL.Path)
	if f.Notice == nil {
		f.Notice = s.takeNotice(r)
	}
}

func (s *shell) menuOf(role staff.Role, path string) []view.Link {
	is := technician
	if role == staff.Owner {
		is = owner
	}
	var links []view.Link
	for _, m := range menu {
		if m.access&is != 0 && s.hasPage(m.pattern) {
			links = append(links, view.Link{Label: m.label, Href: m.pattern, Here: within(path, m.pattern)})
		}
	}
	return links
}

// within reports whether path is the part of the house or lies in it.
func within(path, part string) bool {
	if path == part {
		return true
	}
	// People are part of the shop, and sites belong to customers.
	if part == "/shop" && within(path, "/people") ||
		part == "/round-book" && within(path, "/vans") ||
		part == "/tanks" && within(path, "/sources") ||
		part == "/customers" && (within(path, "/sites") || within(path, "/keys") || within(path, "/away")) {
		return true
	}
	return part != "/" && strings.HasPrefix(path, part+"/")
}

// local is how the person who asks reads dates and times.
func local(r *http.Request) view.Local { return localOf(who(r).Shop) }

func localOf(s shop.Settings) view.Local {
	zone, err := time.LoadLocation(s.Zone)
	if err != nil || s.Zone == "" {
		zone = time.UTC
	}
	return view.Local{Zone: zone, Order: shop.LocaleOf(s.Locale).Date}
}
