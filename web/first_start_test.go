package web_test

import (
	"net/http"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"scaperound/store"
	"scaperound/web"
	"scaperound/web/webtest"
)

var firstOwner = []string{
	"name", "Maren Tolland", "email", "maren@fernweir.example", "password", webtest.Password,
	"shop_name", "Fernweir Aquascapes", "zone", "Europe/Dublin", "locale", "en-IE", "units", "metric", "paper", "A4", "phone", "+353 1 555 0100",
}

func TestFirstStartMakesShopAndOwnerOnce(t *testing.T) {
	site := webtest.StartEmpty(t)
	v := site.Visitor(t)
	if text := v.Get("/sign-in").Wants(http.StatusOK).Text(".empty"); !strings.Contains(text, "one-time address") {
		t.Errorf("an empty shop says %q", text)
	}
	token, err := site.DB.OfferFirstStart(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	path := web.FirstStartPath(token)
	v.Get(path).Wants(http.StatusOK).One("input[name=shop_name]")
	in := v.Post(path, firstOwner...).Wants(http.StatusSeeOther)
	v.Follow(in).Wants(http.StatusOK)
	v.Get("/shop").Wants(http.StatusOK)
	for _, list := range []string{"/profiles", "/kits"} {
		if len(v.Get(list).Wants(http.StatusOK).Find("a.row")) < 6 {
			t.Errorf("a new shop has nothing to start from in %s", list)
		}
	}
	if got := v.Get("/shop").Attr("html", "lang"); got != "en-IE" {
		t.Errorf("lang = %q", got)
	}
	site.Visitor(t).Get(path).Wants(http.StatusNotFound)
	site.Visitor(t).Post(path, firstOwner...).Wants(http.StatusNotFound)
	if _, err := site.DB.OfferFirstStart(t.Context()); err == nil {
		t.Error("a second first start is offered")
	}
}

func TestFirstStartNamesEveryFaultAndKeepsWhatWasTyped(t *testing.T) {
	site := webtest.StartEmpty(t)
	token, err := site.DB.OfferFirstStart(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	page := site.Visitor(t).Post(web.FirstStartPath(token), "name", "", "email", "x", "password", "short",
		"shop_name", "", "zone", "Middle/Earth", "locale", "tlh", "units", "", "paper", "", "phone", "soon").Wants(http.StatusUnprocessableEntity)
	for _, f := range []string{"name", "email", "password", "shop_name", "zone", "locale", "units", "paper", "phone"} {
		if page.Text("#f-"+f+"-fault") == "" {
			t.Errorf("nothing beside %s", f)
		}
		page.One(`.faults a[href="#f-` + f + `"]`)
	}
	if got := page.Attr("input[name=zone]", "value"); got != "Middle/Earth" {
		t.Errorf("what was typed is lost: %q", got)
	}
}

func TestFirstStartLivesAnHourAndOnlyTheNewestCounts(t *testing.T) {
	var ahead atomic.Int64
	site := webtest.StartEmpty(t, store.WithClock(func() time.Time { return time.Now().Add(time.Duration(ahead.Load())) }))
	old, err := site.DB.OfferFirstStart(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	ahead.Store(int64(time.Second))
	token, err := site.DB.OfferFirstStart(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	v := site.Visitor(t)
	v.Get(web.FirstStartPath(old)).Wants(http.StatusNotFound)
	v.Get("/invite/" + token).Wants(http.StatusNotFound) // opens its own door only
	v.Get(web.FirstStartPath(token)).Wants(http.StatusOK)
	ahead.Store(int64(time.Hour + 2*time.Second))
	v.Get(web.FirstStartPath(token)).Wants(http.StatusNotFound)
	v.Post(web.FirstStartPath(token), firstOwner...).Wants(http.StatusNotFound)
}

func TestShopSettings(t *testing.T) {
	site := webtest.Start(t)
	v := site.SignIn(t, site.Owner)
	version := v.Get("/shop").Attr("input[name=version]", "value")
	saved := v.Follow(v.Post("/shop", "version", version, "name", "Fernweir", "zone", "America/New_York", "locale", "en-US", "units", "us", "paper", "Letter", "phone", "").Wants(http.StatusSeeOther)).Wants(http.StatusOK)
	saved.One(".notice")
	for sel, want := range map[string]string{"input[name=zone]": "America/New_York", "input[name=units][checked]": "us", "input[name=paper][checked]": "Letter", "select[name=locale] option[selected]": "en-US"} {
		if got := saved.Attr(sel, "value"); got != want {
			t.Errorf("%s = %q, want %q", sel, got, want)
		}
	}
	if n := saved.Find("input[name=show_figures][checked]"); len(n) != 0 {
		t.Error("the figures are still on")
	}
	v.Post("/shop", "version", version, "name", "Late", "zone", "Europe/Dublin", "locale", "en-IE", "units", "us", "paper", "A4").Wants(http.StatusConflict)
}
