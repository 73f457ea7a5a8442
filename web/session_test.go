package web_test

import (
	"net/http"
	"net/url"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"scaperound/domain/staff"
	"scaperound/store"
	"scaperound/store/storetest"
	"scaperound/web"
	"scaperound/web/webtest"
)

func TestNewPasswordRoleOrDeactivationEndsEverySession(t *testing.T) {
	site := webtest.Start(t)
	ctx := t.Context()
	for name, change := range map[string]func() error{
		"password": func() error {
			hash, err := web.HashPassword(webtest.Password)
			if err == nil {
				_, err = site.DB.SetPassword(ctx, site.Owner.ID, site.Technician.ID, hash)
			}
			return err
		},
		"role": func() error {
			_, err := site.DB.ChangePerson(ctx, site.Owner.ID, site.Technician.ID, 0, staff.Draft{Name: "Ilo Vance", Email: "ilo@fernweir.example", Role: staff.Owner})
			return err
		},
		"deactivation, though undone": func() error {
			_, err := site.DB.SetActive(ctx, site.Owner.ID, site.Technician.ID, false)
			if err == nil {
				_, err = site.DB.SetActive(ctx, site.Owner.ID, site.Technician.ID, true)
			}
			return err
		},
	} {
		v := site.SignIn(t, site.Technician)
		v.Get("/").Wants(http.StatusOK)
		if err := change(); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		v.Get("/").Wants(http.StatusSeeOther)
		v.Script("GET", "/").Wants(http.StatusUnauthorized)
	}
}

func TestSessionOfThirtyDaysIsNotedAtMostEveryTenMinutes(t *testing.T) {
	var ahead atomic.Int64
	clock := func() time.Time { return time.Now().Add(time.Duration(ahead.Load())) }
	db := storetest.New(t, store.WithClock(clock))
	prepared := webtest.Prepare(t, db)
	site := webtest.Serve(t, db, func(c *web.Config) { c.Now = clock })
	v := site.SignIn(t, prepared.Technician)

	cookie := v.SetCookie()
	if days := time.Until(cookie.Expires).Hours() / 24; days < 29.9 || days > 30.1 {
		t.Errorf("the cookie lives %.1f days", days)
	}
	if !cookie.HttpOnly || cookie.SameSite != http.SameSiteLaxMode || cookie.Secure {
		t.Errorf("cookie %+v", cookie)
	}
	seen := func() time.Time {
		people, err := db.People(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range people {
			if p.ID == prepared.Technician.ID {
				return p.LastSeen
			}
		}
		t.Fatal("nobody there")
		return time.Time{}
	}
	first := seen()
	ahead.Store(int64(9 * time.Minute))
	v.Get("/").Wants(http.StatusOK)
	if got := seen(); !got.Equal(first) {
		t.Errorf("noted again after nine minutes: %v, %v", first, got)
	}
	ahead.Store(int64(11 * time.Minute))
	v.Get("/").Wants(http.StatusOK)
	if got := seen(); got.Sub(first) < 11*time.Minute {
		t.Errorf("not noted after eleven minutes: %v, %v", first, got)
	}
}

func TestOverHTTPSTheCookieIsBoundToTheHost(t *testing.T) {
	db := storetest.New(t)
	prepared := webtest.Prepare(t, db)
	site := webtest.Serve(t, db, func(c *web.Config) { c.Public = &url.URL{Scheme: "https", Host: "tanks.fernweir.example"} })
	v := site.Visitor(t)
	r := v.Request("POST", "/sign-in", "email", prepared.Owner.Email, "password", webtest.Password)
	r.Host = "tanks.fernweir.example"
	in := v.Do(r).Wants(http.StatusSeeOther)
	cookie := in.Header.Get("Set-Cookie")
	if !strings.HasPrefix(cookie, "__Host-scaperound=") || !strings.Contains(cookie, "; Secure") || !strings.Contains(cookie, "Path=/") || strings.Contains(cookie, "Domain") {
		t.Errorf("cookie = %q", cookie)
	}
	if got := in.Header.Get("Strict-Transport-Security"); got == "" {
		t.Error("no HSTS")
	}
}

func TestTheTokenIsNotInTheDatabase(t *testing.T) {
	site := webtest.Start(t)
	v := site.SignIn(t, site.Owner)
	var found int
	token := v.SetCookie().Value
	err := site.DB.Pool().QueryRow(t.Context(), `SELECT count(*) FROM sessions WHERE token = $1`, token).Scan(&found)
	if err != nil || found != 0 {
		t.Errorf("%d rows hold the token itself, %v", found, err)
	}
	if err := site.DB.Pool().QueryRow(t.Context(), `SELECT count(*) FROM sessions`).Scan(&found); err != nil || found != 1 {
		t.Errorf("%d sessions, %v", found, err)
	}
}

func TestAPlantedSessionIsWorthNothing(t *testing.T) {
	site := webtest.Start(t)
	v := site.SignIn(t, site.Technician)
	before := v.SetCookie().Value
	v.Post("/sign-in", "email", site.Owner.Email, "password", webtest.Password).Wants(http.StatusSeeOther)
	if after := v.SetCookie().Value; after == before {
		t.Error("the token is the same after another sign-in")
	}
	thief := site.Visitor(t)
	r := thief.Request("GET", "/people")
	r.AddCookie(&http.Cookie{Name: "scaperound", Value: before})
	thief.Do(r).Wants(http.StatusSeeOther)
}
