package web_test

import (
	"net/http"
	"strings"
	"testing"

	"scaperound/web/webtest"
)

// U+202E turns what follows around, U+200B has no width: neither may hide in a
// name, and what was typed is kept without them.
func TestUnseenSignsAreTakenOutWithASentence(t *testing.T) {
	s := webtest.Start(t)
	v := s.SignIn(t, s.Owner)
	page := v.Follow(v.Post("/customers", "name", "No\u200bra \u202eQuill", "kind", "home", "phones", "\u202a+353 1 555 0142\u202c").Wants(http.StatusSeeOther)).Wants(http.StatusOK)
	if got := page.Text("h1"); got != "Nora Quill" {
		t.Errorf("kept as %q", got)
	}
	if got := page.Text(".notice"); !strings.Contains(got, "cannot be seen") {
		t.Errorf("the notice says %q", got)
	}
	page = v.Post("/customers", "name", "\u2066\u200b", "kind", "home").Wants(http.StatusUnprocessableEntity)
	if got := page.Text(".faults"); !strings.Contains(got, "cannot be seen") || page.Attr("#f-name", "value") != "" {
		t.Errorf("the faults say %q", got)
	}
	page = v.Follow(v.Post("/customers", "name", "Pim 👩‍🌾 Sallow", "kind", "home").Wants(http.StatusSeeOther))
	if got := page.Text("h1"); got != "Pim 👩‍🌾 Sallow" || strings.Contains(page.Text(".notice"), "cannot be seen") {
		t.Errorf("a joined picture is kept as %q", got)
	}
	if got := s.Visitor(t).Post("/sign-in", "email", s.Owner.Email, "password", webtest.Password+"\u200b"); got.Status != http.StatusUnauthorized {
		t.Errorf("another password is let in: %d", got.Status)
	}
}
