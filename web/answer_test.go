package web_test

import (
	"net/http"
	"strings"
	"testing"

	"scaperound/web/webtest"
)

func TestEveryAnswerIsGuarded(t *testing.T) {
	site := webtest.Start(t)
	v := site.SignIn(t, site.Owner)
	for _, path := range []string{"/", "/sign-in", "/nowhere", "/static/app.css", "/healthz"} {
		h := v.Get(path).Header
		for name, want := range map[string]string{
			"Content-Security-Policy": "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self' data: blob:; connect-src 'self'; manifest-src 'self'; worker-src 'self'; form-action 'self'; frame-ancestors 'none'; base-uri 'none'",
			"X-Content-Type-Options":  "nosniff",
		} {
			if got := h.Get(name); got != want {
				t.Errorf("%s: %s = %q", path, name, got)
			}
		}
		if !strings.Contains(h.Get("Permissions-Policy"), "camera=(self)") {
			t.Errorf("%s: Permissions-Policy = %q", path, h.Get("Permissions-Policy"))
		}
		if h.Get("Referrer-Policy") == "" || h.Get("Cache-Control") == "" {
			t.Errorf("%s: referrer %q, cache %q", path, h.Get("Referrer-Policy"), h.Get("Cache-Control"))
		}
	}
	if got := v.Get("/").Header.Get("Cache-Control"); !strings.HasPrefix(got, "private") {
		t.Errorf("a page of somebody's own may be shared: %q", got)
	}
}

func TestWritesFromAnotherSiteAreRefused(t *testing.T) {
	site := webtest.Start(t)
	v := site.SignIn(t, site.Owner)
	r := v.Request("POST", "/shop", "name", "Taken over")
	r.Header.Set("Sec-Fetch-Site", "cross-site")
	v.Do(r).Wants(http.StatusForbidden)
	r = v.Request("POST", "/shop", "name", "Taken over")
	r.Header.Set("Origin", "https://elsewhere.example")
	v.Do(r).Wants(http.StatusForbidden)
	if s, err := site.DB.Shop(t.Context()); err != nil || s.Name != "Fernweir Aquascapes" {
		t.Errorf("shop %+v, %v", s, err)
	}
}

func TestBodiesAreBounded(t *testing.T) {
	site := webtest.Start(t)
	v := site.SignIn(t, site.Owner)
	v.Post("/shop", "name", strings.Repeat("a", 1<<20)).Wants(http.StatusRequestEntityTooLarge)
	r := v.Request("POST", "/shop", "name", "x")
	r.Header.Set("Content-Type", "text/plain")
	v.Do(r).Wants(http.StatusBadRequest)
	v.Post("/shop", "name", "a\x00b").Wants(http.StatusBadRequest)
	v.Post("/shop", "name", "\xff\xfe").Wants(http.StatusBadRequest)
}

func TestDatabaseGone(t *testing.T) {
	site := webtest.Start(t)
	gone := webtest.StartFailing(t)
	v := site.SignIn(t, site.Owner).CarryTo(gone)
	v.Get("/healthz").Wants(http.StatusOK)
	v.Get("/static/app.css").Wants(http.StatusOK)
	v.Get("/readyz").Wants(http.StatusServiceUnavailable)
	for _, path := range []string{"/", "/people", "/shop", "/me", "/sign-in"} {
		page := v.Get(path).Wants(http.StatusServiceUnavailable)
		if page.Header.Get("Retry-After") == "" {
			t.Errorf("%s: does not say when to come back", path)
		}
		if page.Text("h1") == "" || page.Text("code") == "" {
			t.Errorf("%s: no heading or no request id: %s", path, page.Text("body"))
		}
	}
	page := v.Post("/sign-in", "email", "maren@fernweir.example", "password", webtest.Password)
	page.Wants(http.StatusServiceUnavailable)
	var f struct{ Error, Request string }
	v.Script("POST", "/sign-in", "email", "a@b.example", "password", "x").Wants(http.StatusServiceUnavailable).JSON(&f)
	if f.Error != "unavailable" || f.Request == "" {
		t.Errorf("fault = %+v", f)
	}
}

// secrets that a person sends must not be in the log, whatever becomes of them.
func TestLogHoldsPatternsAndNoSecrets(t *testing.T) {
	site := webtest.StartEmpty(t)
	token, err := site.DB.OfferFirstStart(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	v := site.Visitor(t)
	v.Get("/first-start/" + token).Wants(http.StatusOK)
	v.Post("/first-start/"+token, "name", "Maren Tolland", "email", "not-an-address", "password", "a secret password").Wants(http.StatusUnprocessableEntity)
	v.Post("/sign-in", "email", "secret@fernweir.example", "password", "another secret one")
	v.Get("/search?q=secret-customer")
	log := site.Log.String()
	if !strings.Contains(log, "/first-start/{token}") {
		t.Errorf("the pattern is not logged:\n%s", log)
	}
	for _, secret := range []string{token, "a secret password", "another secret", "secret@", "secret-customer"} {
		if strings.Contains(log, secret) {
			t.Errorf("the log holds %q:\n%s", secret, log)
		}
	}
}
