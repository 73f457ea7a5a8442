package web_test

import (
	"context"
	"net/http"
	"strings"
	"testing"

	"scaperound/domain/care"
	q "scaperound/domain/quantity"
	"scaperound/domain/share"
	"scaperound/domain/tank"
	"scaperound/domain/wire"
	"scaperound/store"
	"scaperound/web/webtest"
)

// given posts the visit and gives its sheet; it returns the path of the link.
func (p pond) given(t *testing.T, v *webtest.Visitor, visit string) string {
	t.Helper()
	ahead := v.Get("/visits/" + visit + "/sheet").Wants(http.StatusOK)
	v.Post("/visits/"+visit+"/sheet", "evaluation", ahead.Attr(`input[name=evaluation]`, "value")).Wants(http.StatusSeeOther)
	link := v.Get("/visits/"+visit+"/sheet").Attr(`.notice a[href*="/s/"]`, "href")
	path, ours := strings.CutPrefix(link, p.URL)
	if !ours {
		t.Fatalf("the link leads to %q", link)
	}
	return path
}

func TestASheetIsReadByItsLinkAlone(t *testing.T) {
	p := newPond(t)
	v := p.SignIn(t, p.Technician)
	v.Post("/tanks/"+p.tank+"/visits", p.visitForm()...).Wants(http.StatusSeeOther)
	path := p.given(t, v, id(1))

	reader := p.Visitor(t)
	sheet := reader.Get(path).Wants(http.StatusOK)
	for _, want := range []string{"Fernweir Aquascapes", "Window tank", "Leave the lid open.", "+353 1 555 0100", p.URL + path, "48 L of water changed"} {
		if !strings.Contains(sheet.Text("body"), want) {
			t.Errorf("the sheet lacks %q:\n%s", want, sheet.Text("body"))
		}
	}
	for _, secret := range []string{"They overfeed.", "The valve weeps", "Millrace Coffee", "maren@"} {
		if strings.Contains(string(sheet.Body), secret) {
			t.Errorf("the sheet tells %q", secret)
		}
	}
	for name, want := range map[string]string{"Cache-Control": "no-store", "Referrer-Policy": "no-referrer"} {
		if got := sheet.Header.Get(name); got != want {
			t.Errorf("%s: %q, want %q", name, got, want)
		}
	}
	if got := sheet.Header.Get("X-Robots-Tag"); !strings.Contains(got, "noindex") {
		t.Errorf("X-Robots-Tag: %q", got)
	}
	if n := len(sheet.Find("form, script, a[href]:not([href^='tel:']):not([href^='/s/'])")); n != 0 {
		t.Errorf("%d things on the sheet lead further or do something", n)
	}
	sheet.One("svg.care-qr path")
	token := strings.TrimPrefix(path, "/s/")
	if strings.Contains(p.Log.String(), token) {
		t.Error("the token stands in the log")
	}
	var opened int
	if err := p.DB.Pool().QueryRow(t.Context(), `SELECT count(*) FROM link_open`).Scan(&opened); err != nil || opened != 1 {
		t.Errorf("%d openings are noted (%v)", opened, err)
	}
}

func TestALinkThatIsNotGenuineTellsNothing(t *testing.T) {
	p := newPond(t)
	v := p.SignIn(t, p.Technician)
	v.Post("/tanks/"+p.tank+"/visits", p.visitForm()...).Wants(http.StatusSeeOther)
	path := p.given(t, v, id(1))
	reader := p.Visitor(t)
	flipped := path[:len(path)-2] + "AA"
	if flipped == path {
		flipped = path[:len(path)-2] + "BB"
	}
	want := reader.Get("/s/nonsense").Wants(http.StatusNotFound).Text("main")
	for _, wrong := range []string{flipped, path + "A", "/s/" + strings.Repeat("A", 43), path + "?sheet=" + id(9)} {
		page := reader.Get(wrong).Wants(http.StatusNotFound)
		if got := page.Text("main"); got != want {
			t.Errorf("%s is answered otherwise than nonsense: %q", wrong, got)
		}
	}
	reader.Post(path).Wants(http.StatusMethodNotAllowed)

	v.Post("/tanks/" + p.tank + "/link/renew").Wants(http.StatusForbidden)
	p.SignIn(t, p.Owner).Post("/tanks/" + p.tank + "/link/renew").Wants(http.StatusSeeOther)
	reader.Get(path).Wants(http.StatusNotFound)
}

func TestAGivenSheetStaysAndIsReplacedByAnother(t *testing.T) {
	p := newPond(t)
	v := p.SignIn(t, p.Technician)
	v.Post("/tanks/"+p.tank+"/visits", p.visitForm()...).Wants(http.StatusSeeOther)
	path := p.given(t, v, id(1))
	v.Post("/tanks/"+p.tank+"/visits", p.visitForm("revision", id(3), "base", id(2), "note.customer", "Keep the lid shut.")...).Wants(http.StatusSeeOther)

	reader := p.Visitor(t)
	old := reader.Get(path).Text("body")
	if !strings.Contains(old, "Leave the lid open.") || !strings.Contains(old, "Newer information") {
		t.Errorf("before the new sheet is given, the link shows:\n%s", old)
	}
	if _, err := p.DB.Pool().Exec(t.Context(), `UPDATE sheet SET document = 'x'`); err == nil {
		t.Error("a given sheet can be written over")
	}
	if again := p.given(t, v, id(1)); again != path {
		t.Errorf("the changed sheet is behind another link")
	}
	now := reader.Get(path).Text("body")
	if !strings.Contains(now, "Keep the lid shut.") || strings.Contains(now, "Leave the lid open.") || !strings.Contains(now, "replaces the one of Tue 24 Nov 2026") {
		t.Errorf("after it, the link shows:\n%s", now)
	}
}

func TestASheetThatWasNotSeenIsNotGiven(t *testing.T) {
	p := newPond(t)
	v := p.SignIn(t, p.Technician)
	v.Post("/tanks/"+p.tank+"/visits", p.visitForm()...).Wants(http.StatusSeeOther)
	seen := v.Get("/visits/"+id(1)+"/sheet").Attr(`input[name=evaluation]`, "value")
	v.Post("/tanks/"+p.tank+"/visits", p.visitForm("revision", id(3), "base", id(2), "note.customer", "Changed.")...).Wants(http.StatusSeeOther)
	v.Post("/visits/"+id(1)+"/sheet", "evaluation", seen).Wants(http.StatusConflict)
	var count int
	if err := p.DB.Pool().QueryRow(t.Context(), `SELECT count(*) FROM sheet`).Scan(&count); err != nil || count != 0 {
		t.Errorf("%d sheets were given (%v)", count, err)
	}
}

func TestTheOwnerAnswersHerOwnTask(t *testing.T) {
	p := newPond(t)
	v := p.SignIn(t, p.Technician)
	v.Post("/tanks/"+p.tank+"/visits", p.visitForm()...).Wants(http.StatusSeeOther)
	e, err := p.DB.EvaluationOf(t.Context(), id(1))
	if err != nil {
		t.Fatal(err)
	}
	task := wire.EncodeTask(care.PhoneTask(care.Sheet{Day: q.NewDate(2026, 11, 24)}, care.Sheet{Customer: "Millrace Coffee"}))
	if _, err := p.DB.GiveSheet(t.Context(), share.Release{Visit: id(1), Evaluation: e.ID, Document: "{}", Wire: "1", By: p.Technician.ID, Phone: string(task)}); err != nil {
		t.Fatal(err)
	}
	o := p.SignIn(t, p.Owner)
	counter := o.Get("/counter").Wants(http.StatusOK)
	if text := counter.Text("main"); !strings.Contains(text, "the new one changes an amount") {
		t.Fatalf("the counter says %q", text)
	}
	done := counter.Attr(`form[action^="/tasks/"]`, "action")
	v.Post(done).Wants(http.StatusForbidden)
	after := o.Follow(o.Post(done).Wants(http.StatusSeeOther))
	if text := after.Text(".rows"); strings.Contains(text, "changes an amount") {
		t.Error("a task that is done is still there")
	}
	o.Post(done).Wants(http.StatusNotFound)
	o.Post(after.Attr(`.notice form`, "action"), "back", "1").Wants(http.StatusSeeOther)
	o.Get("/counter").One(`form[action="` + done + `"]`)
}

func TestADeathIsReleasedByTheOwner(t *testing.T) {
	p := newPond(t)
	err := p.DB.Tx(t.Context(), func(ctx context.Context, tx store.Tx) error {
		_, err := store.AddMovement(ctx, tx, p.Owner.ID, p.tank, tank.Movement{Day: q.NewDate(2026, 10, 1), Living: "animal", Group: "tetras", N: 20, Reason: "we_added"})
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	v := p.SignIn(t, p.Technician)
	v.Post("/tanks/"+p.tank+"/visits", p.visitForm("since", "died", "since.died.note", "Two tetras, gills pale.", "moved.1.living", "animal", "moved.1.group", "tetras", "moved.1.n", "-2", "moved.1.reason", "died")...).Wants(http.StatusSeeOther)
	ahead := v.Get("/visits/" + id(1) + "/sheet").Wants(http.StatusOK)
	if n := len(ahead.Find(`form[action$="/sheet"]`)); n != 0 {
		t.Fatal("the technician is offered to give a sheet that tells of a death")
	}
	var evaluation string
	if err := p.DB.Pool().QueryRow(t.Context(), `SELECT evaluation FROM sheet_hold WHERE settled_at IS NULL`).Scan(&evaluation); err != nil {
		t.Fatalf("nothing is held: %v", err)
	}
	v.Post("/visits/"+id(1)+"/sheet", "evaluation", evaluation).Wants(http.StatusForbidden)
	o := p.SignIn(t, p.Owner)
	path := p.given(t, o, id(1))
	p.Visitor(t).Get(path).Wants(http.StatusOK)
	var held int
	if err := p.DB.Pool().QueryRow(t.Context(), `SELECT count(*) FROM sheet_hold WHERE settled_at IS NULL`).Scan(&held); err != nil || held != 0 {
		t.Errorf("%d sheets are still held (%v)", held, err)
	}
}
