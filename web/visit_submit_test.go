package web_test

import (
	"context"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"
	"time"

	q "scaperound/domain/quantity"
	"scaperound/domain/share"
	"scaperound/domain/tank"
	"scaperound/store"
	"scaperound/store/storetest"
	"scaperound/web"
	"scaperound/web/webtest"
)

// pond is a shop with one tank at one site.
type pond struct {
	*webtest.Site
	site, tank, other string
}

// theNow is when the tests of visits happen.
var theNow = time.Date(2026, 11, 24, 15, 0, 0, 0, time.UTC)

func newPond(t *testing.T) pond {
	t.Helper()
	clock := func() time.Time { return theNow }
	db := storetest.New(t, store.WithClock(clock))
	people := webtest.Prepare(t, db)
	p := pond{Site: webtest.Serve(t, db, func(c *web.Config) { c.Now, c.LinkKey = clock, share.Key{7} }), site: store.NewID()}
	p.Owner, p.Technician = people.Owner, people.Technician
	customer := store.NewID()
	err := p.DB.Tx(t.Context(), func(ctx context.Context, tx store.Tx) error {
		at := theNow.AddDate(0, -6, 0)
		if _, err := tx.Exec(ctx, `INSERT INTO customer (id, name, search, sort_key, created_at, updated_at) VALUES ($1, 'Millrace Coffee', 'millrace coffee', 'millrace', $2, $2)`, customer, at); err != nil {
			return err
		}
		if _, err := tx.Exec(ctx, `INSERT INTO site (id, customer, name, search, sort_key, created_at, updated_at) VALUES ($1, $2, 'By the weir', 'by the weir', 'weir', $3, $3)`, p.site, customer, at); err != nil {
			return err
		}
		for _, made := range []struct {
			id   *string
			name string
		}{{&p.tank, "Window tank"}, {&p.other, "Bar tank"}} {
			var err error
			if *made.id, err = store.CreateTank(ctx, tx, p.Owner.ID, tank.New{Name: made.name, Site: p.site, State: tank.Running, SetUpOn: q.Some(q.NewDate(2025, 3, 1)), Pinned: []string{"The valve weeps"}}, at); err != nil {
				return err
			}
		}
		return store.AddSetup(ctx, tx, p.Owner.ID, p.tank, at, tank.Setup{
			Shape:     tank.Shape{Length: q.Some[q.Centimetre](90), Width: q.Some[q.Centimetre](45), Height: q.Some[q.Centimetre](45), Level: q.Some[q.Centimetre](42)},
			CanLitres: q.Some[q.Litre](12), DrainLine: "to the third screw", DrainLitres: q.Some[q.Litre](48),
		})
	})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func id(n int) string { return fmt.Sprintf("0193a5b2-7c4e-7def-8123-%012d", n) }

// visitForm is a whole routine visit as a browser sends it.
func (p pond) visitForm(change ...string) []string {
	v := url.Values{
		"visit": {id(1)}, "revision": {id(2)}, "wire": {"1"}, "staff": {p.Technician.ID}, "kind": {"routine"},
		"performed": {"2026-11-24T14:30"}, "since": {"nothing_new"}, "leave.asked": {"1"}, "leave.all": {"checked"},
		"look.animals": {"fine"}, "drawn": {"14:32"}, "reading.kh.before": {"4"}, "unit.kh.before": {"dKH"}, "reading.ph.before": {"6,8"}, "unit.ph.before": {"pH"},
		"work.water_change": {"on"}, "work.water_change.cans": {"4"}, "note.customer": {"Leave the lid open."}, "note.inside": {"They overfeed."},
	}
	for i := 0; i < len(change); i += 2 {
		v.Del(change[i])
		if change[i+1] != "" {
			v.Set(change[i], change[i+1])
		}
	}
	var pairs []string
	for name, all := range v {
		for _, one := range all {
			pairs = append(pairs, name, one)
		}
	}
	return pairs
}

func TestAVisitWithoutScript(t *testing.T) {
	p := newPond(t)
	v := p.SignIn(t, p.Technician)
	form := v.Get("/tanks/" + p.tank + "/visits/new").Wants(http.StatusOK)
	for name, want := range map[string]string{"wire": "1", "kind": "routine", "base": "", "staff": p.Technician.ID} {
		if got := form.Attr(`#visit input[name="`+name+`"]`, "value"); got != want {
			t.Errorf("%s = %q, want %q", name, got, want)
		}
	}
	if a, b := form.Attr(`#visit input[name=visit]`, "value"), v.Get("/tanks/"+p.tank+"/visits/new").Attr(`#visit input[name=visit]`, "value"); a == b || len(a) != 36 {
		t.Errorf("two forms carry the visits %q and %q", a, b)
	}
	for _, n := range form.Find(`#visit [name^="reading."]`) {
		if got := webtest.AttrOf(n, "value"); got != "" && webtest.AttrOf(n, "type") != "radio" {
			t.Errorf("%s is filled in beforehand: %q", webtest.AttrOf(n, "name"), got)
		}
	}
	if text := form.Text(".pinned"); !strings.Contains(text, "The valve weeps") {
		t.Errorf("pinned lines: %q", text)
	}
	kept := v.Post("/tanks/"+p.tank+"/visits", p.visitForm()...).Wants(http.StatusSeeOther)
	if got := kept.Header.Get("Location"); got != "/visits/"+id(1) {
		t.Fatalf("sent on to %q", got)
	}
	page := v.Follow(kept).Wants(http.StatusOK)
	for _, want := range []string{"Water change, 48 L", "Animals: well", "Plants: not looked at", "They overfeed.", "6,8"} {
		if !strings.Contains(page.Text("main"), want) {
			t.Errorf("the visit's page lacks %q", want)
		}
	}
}

func TestEveryFaultAtOnceAndNothingLost(t *testing.T) {
	p := newPond(t)
	v := p.SignIn(t, p.Technician)
	page := v.Post("/tanks/"+p.tank+"/visits", p.visitForm("reading.ph.before", "45", "reading.kh.before", "soft", "leave.all", "", "work.water_change.cans", "-2")...).Wants(http.StatusUnprocessableEntity)
	for _, at := range []string{"reading.ph.before", "reading.kh.before", "leave.all", "work.water_change.cans"} {
		if len(page.Find(`[id="f-`+at+`-fault"]`)) != 1 {
			t.Errorf("no fault stands beside %s", at)
		}
	}
	if got := page.Attr(`[name="reading.ph.before"]:not([disabled])`, "value"); got != "45" {
		t.Errorf("pH typed as 45 came back as %q", got)
	}
	if got := page.Text(`[name="note.inside"]`); got != "They overfeed." {
		t.Errorf("the note came back as %q", got)
	}
	if got := page.Attr(`#visit input[name=visit]`, "value"); got != id(1) {
		t.Errorf("the visit changed its number to %q", got)
	}
	if len(page.Find(`details.rows-of[open], details.not-due[open]`)) == 0 && len(page.Find(`.reading.due [name="reading.ph.before"]`)) == 0 {
		t.Error("a fault is hidden in something folded")
	}
}

func TestAnUnlikelyValueIsAskedAboutOnce(t *testing.T) {
	p := newPond(t)
	v := p.SignIn(t, p.Technician)
	asked := v.Post("/tanks/"+p.tank+"/visits", p.visitForm("reading.kh.before", "38")...).Wants(http.StatusUnprocessableEntity)
	confirm := asked.Attr(`input[name=confirm]`, "value")
	if confirm != "reading.kh.before=38" {
		t.Fatalf("the question is answered by %q", confirm)
	}
	v.Post("/tanks/"+p.tank+"/visits", p.visitForm("reading.kh.before", "38", "confirm", confirm)...).Wants(http.StatusSeeOther)
}

func TestPostingTwiceKeepsOne(t *testing.T) {
	p := newPond(t)
	v := p.SignIn(t, p.Technician)
	var first, again struct{ Visit, Revision string }
	v.Script("POST", "/tanks/"+p.tank+"/visits", p.visitForm()...).Wants(http.StatusCreated).JSON(&first)
	v.Script("POST", "/tanks/"+p.tank+"/visits", p.visitForm("sent", "2026-11-24T15:00:20Z", "offline", "1")...).Wants(http.StatusOK).JSON(&again)
	if first.Visit != id(1) || first != again {
		t.Errorf("answers %+v and %+v", first, again)
	}
	var other struct {
		Error  string
		Faults []struct{ Field string }
	}
	v.Script("POST", "/tanks/"+p.tank+"/visits", p.visitForm("note.inside", "Changed.")...).Wants(http.StatusConflict).JSON(&other)
	if other.Error != "other-content" {
		t.Errorf("other content under the same number: %+v", other)
	}
	v.Script("POST", "/tanks/"+p.tank+"/visits", p.visitForm("revision", id(3), "base", "")...).Wants(http.StatusConflict).JSON(&other)
	if other.Error != "edited-meanwhile" {
		t.Errorf("a second first revision: %+v", other)
	}
	v.Script("POST", "/tanks/"+p.tank+"/visits", p.visitForm("visit", id(8), "revision", id(9), "staff", p.Owner.ID)...).Wants(http.StatusConflict).JSON(&other)
	if other.Error != "other-person" {
		t.Errorf("somebody else's draft: %+v", other)
	}
	var count int
	if err := p.DB.Pool().QueryRow(t.Context(), `SELECT count(*) FROM visit_revision`).Scan(&count); err != nil || count != 1 {
		t.Errorf("%d revisions are kept (%v)", count, err)
	}
}

func TestMoreRowsKeepsWhatWasTypedAndSavesNothing(t *testing.T) {
	p := newPond(t)
	v := p.SignIn(t, p.Technician)
	page := v.Post("/tanks/"+p.tank+"/visits", p.visitForm("more", "ppfd", "ui.rows.ppfd", "5", "ppfd.2.umol", "84", "note.inside", "half written")...).Wants(http.StatusOK)
	if got := len(page.Find(`[name^="ppfd."][name$=".umol"]`)); got != 8 {
		t.Errorf("%d rows, want 8", got)
	}
	if got := page.Attr(`[name="ppfd.2.umol"]`, "value"); got != "84" {
		t.Errorf("the second point came back as %q", got)
	}
	if got := page.Text(`[name="note.inside"]`); got != "half written" {
		t.Errorf("the note came back as %q", got)
	}
	var count int
	if err := p.DB.Pool().QueryRow(t.Context(), `SELECT count(*) FROM visit`).Scan(&count); err != nil || count != 0 {
		t.Errorf("%d visits are kept (%v)", count, err)
	}
}

func TestAVisitIsChangedByARevision(t *testing.T) {
	p := newPond(t)
	v := p.SignIn(t, p.Technician)
	v.Post("/tanks/"+p.tank+"/visits", p.visitForm()...).Wants(http.StatusSeeOther)
	edit := v.Get("/visits/" + id(1) + "/edit").Wants(http.StatusOK)
	if got := edit.Attr(`#visit input[name=base]`, "value"); got != id(2) {
		t.Fatalf("the change stands on %q", got)
	}
	if got := edit.Attr(`[name="reading.ph.before"]:not([disabled])`, "value"); got != "6,8" {
		t.Errorf("pH stands as %q, not as typed", got)
	}
	revision := edit.Attr(`#visit input[name=revision]`, "value")
	v.Post("/tanks/"+p.tank+"/visits", p.visitForm("revision", revision, "base", id(2), "reason", "misread", "reading.ph.before", "7.1")...).Wants(http.StatusSeeOther)
	page := v.Get("/visits/" + id(1)).Wants(http.StatusOK)
	if text := page.Text("main"); !strings.Contains(text, "7.1") || strings.Contains(text, "6,8") || !strings.Contains(text, "misread") {
		t.Errorf("the visit's page after the change:\n%s", text)
	}
	late := v.Post("/tanks/"+p.tank+"/visits", p.visitForm("revision", id(20), "base", id(2), "reading.ph.before", "7.4")...).Wants(http.StatusConflict)
	if got := late.Attr(`[name="reading.ph.before"]:not([disabled])`, "value"); got != "7.4" {
		t.Errorf("after a conflict pH came back as %q", got)
	}
}

func TestActedOnIsComparedWithWhatIsKept(t *testing.T) {
	p := newPond(t)
	v := p.SignIn(t, p.Technician)
	var said struct{ Hash, Rules string }
	change := []string{"look.algae", "trouble", "sign.blue_green_film", "seen", "reading.no3.before", "60", "unit.no3.before", "mg/L"}
	v.Script("POST", "/tanks/"+p.tank+"/preview", p.visitForm(change...)...).Wants(http.StatusOK).JSON(&said)
	v.Script("POST", "/tanks/"+p.tank+"/visits", p.visitForm(append(change, "acted.hash", said.Hash, "acted.rules", said.Rules)...)...).Wants(http.StatusCreated)
	const differs = "a somewhat different judgement"
	if text := v.Get("/visits/" + id(1)).Text("main"); strings.Contains(text, differs) {
		t.Error("the same judgement counts as another once it is kept")
	}
	v.Script("POST", "/tanks/"+p.tank+"/visits", p.visitForm("revision", id(3), "base", id(2), "acted.hash", "0011223344556677")...).Wants(http.StatusCreated)
	if text := v.Get("/visits/" + id(1)).Text("main"); !strings.Contains(text, differs) {
		t.Error("another judgement than the technician's is not mentioned")
	}
}

func TestAWithdrawnVisitComesBack(t *testing.T) {
	p := newPond(t)
	v := p.SignIn(t, p.Technician)
	v.Post("/tanks/"+p.tank+"/visits", p.visitForm()...).Wants(http.StatusSeeOther)
	gone := v.Follow(v.Post("/visits/" + id(1) + "/withdraw").Wants(http.StatusSeeOther)).Wants(http.StatusOK)
	if n := len(gone.Find(`a[href="/visits/` + id(1) + `"]`)); n != 0 {
		t.Error("a withdrawn visit is listed at its tank")
	}
	v.Post(gone.Attr(`.notice form`, "action"), "back", gone.Attr(`.notice input[name=back]`, "value")).Wants(http.StatusSeeOther)
	if n := len(v.Get("/tanks/" + p.tank).Find(`a[href="/visits/` + id(1) + `"]`)); n != 1 {
		t.Error("the visit did not come back")
	}
}

func TestMoveAVisitToTheRightTank(t *testing.T) {
	p := newPond(t)
	v := p.SignIn(t, p.Technician)
	v.Post("/tanks/"+p.tank+"/visits", p.visitForm()...).Wants(http.StatusSeeOther)
	v.Post("/visits/"+id(1)+"/move", "tank", p.other).Wants(http.StatusSeeOther)
	if got := v.Get("/visits/" + id(1)).Text("h1"); got != "Bar tank" {
		t.Errorf("the visit is at %q", got)
	}
	// The tablet sends the same post to the address it knows: that is no news.
	v.Script("POST", "/tanks/"+p.tank+"/visits", p.visitForm()...).Wants(http.StatusOK)
	v.Post("/visits/"+id(1)+"/move", "tank", "nowhere").Wants(http.StatusUnprocessableEntity)
	v.Post("/visits/"+id(8)+"/move", "tank", "").Wants(http.StatusNotFound)
	v.Post("/visits/"+id(1)+"/move", "tank", p.tank).Wants(http.StatusSeeOther)
	undo := v.Get("/visits/" + id(1))
	v.Post(undo.Attr(".notice form", "action"), "tank", undo.Attr(".notice input[name=tank]", "value")).Wants(http.StatusSeeOther)
	if got := v.Get("/visits/" + id(1)).Text("h1"); got != "Bar tank" {
		t.Errorf("undone, the visit is at %q", got)
	}
	v.Post("/visits/"+id(1)+"/move", "tank", id(77)).Wants(http.StatusNotFound)
}

// The number of a form is that of one visit at one tank.
func TestAVisitOfAnotherTankIsNotAnswered(t *testing.T) {
	p := newPond(t)
	v := p.SignIn(t, p.Technician)
	litres := []string{"work.water_change.cans", "", "work.water_change.litres", "48"}
	v.Post("/tanks/"+p.tank+"/visits", p.visitForm(litres...)...).Wants(http.StatusSeeOther)
	for name, form := range map[string][]string{"the same post": p.visitForm(litres...), "another": p.visitForm(append(litres, "revision", id(3), "note.inside", "x")...)} {
		page := v.Post("/tanks/"+p.other+"/visits", form...).Wants(http.StatusConflict)
		if got := page.Text(".faults"); !strings.Contains(got, "belongs to another tank") {
			t.Errorf("%s: %q", name, got)
		}
		var said struct{ Error string }
		v.Script("POST", "/tanks/"+p.other+"/visits", form...).Wants(http.StatusConflict).JSON(&said)
		if said.Error != "other-tank" {
			t.Errorf("%s: a script gets %q", name, said.Error)
		}
	}
}

func TestPreviewJudgesAndKeepsNothing(t *testing.T) {
	p := newPond(t)
	v := p.SignIn(t, p.Technician)
	var said struct {
		Hash, Rules string
		Now, Pour   []struct{ Text string }
		Findings    []struct{ Text string }
		Customer    []string
		Faults      []struct{ Field, Kind string }
	}
	v.Script("POST", "/tanks/"+p.tank+"/preview", p.visitForm("leave.all", "", "reading.ph.before", "45", "look.algae", "trouble", "sign.blue_green_film", "seen")...).Wants(http.StatusOK).JSON(&said)
	if said.Hash == "" || said.Rules == "" || len(said.Customer) == 0 {
		t.Errorf("the preview says %+v", said)
	}
	if len(said.Faults) != 1 || said.Faults[0].Field != "reading.ph.before" {
		t.Errorf("while one types, the faults are %+v", said.Faults)
	}
	if len(said.Findings) == 0 {
		t.Error("a blue-green film is not worth a word")
	}
	for _, l := range append(said.Now, said.Findings...) {
		if l.Text == "" {
			t.Error("a line of the foot strip is empty")
		}
	}
	var count int
	if err := p.DB.Pool().QueryRow(t.Context(), `SELECT count(*) FROM visit`).Scan(&count); err != nil || count != 0 {
		t.Errorf("%d visits are kept (%v)", count, err)
	}
}

func TestShortForms(t *testing.T) {
	p := newPond(t)
	v := p.SignIn(t, p.Technician)
	phone := v.Get("/tanks/" + p.tank + "/visits/new?kind=by_phone").Wants(http.StatusOK)
	if n := len(phone.Find(`#s-leave, #s-work, #s-read`)); n != 0 {
		t.Errorf("advice by phone has %d parts of work at the tank", n)
	}
	v.Post("/tanks/"+p.tank+"/visits", "visit", id(1), "revision", id(2), "wire", "1", "staff", p.Technician.ID, "kind", "by_phone", "performed", "2026-11-24T14:30", "note.inside", "Told to aerate.").Wants(http.StatusSeeOther)
	gear := v.Get("/tanks/" + p.tank + "/visits/new?kind=gear_only").Wants(http.StatusOK)
	if n := len(gear.Find(`.look`)); n != 1 {
		t.Errorf("gear only asks for %d looks", n)
	}
	gear.One(`#s-leave`)
	if n := len(gear.Find(`.reading.due`)); n != 0 {
		t.Errorf("gear only says that %d readings are due", n)
	}
	// What has nothing to do with gear is one tap away, and nothing of it is gone.
	routine := v.Get("/tanks/" + p.tank + "/visits/new").Wants(http.StatusOK)
	for _, sel := range []string{`.work`, `.reading`, `#s-work [data-rows]`} {
		if got, want := len(gear.Find(sel)), len(routine.Find(sel)); got != want {
			t.Errorf("gear only has %d of %s, the whole form %d", got, sel, want)
		}
	}
	for _, kind := range []string{"filter_clean", "heater_set", "part_fitted"} {
		if n := len(gear.Find(`.rest [id="f-work.` + kind + `"]`)); n != 0 {
			t.Errorf("%s is folded away", kind)
		}
	}
	for _, sel := range []string{`.rest [id="f-work.trim"]`, `.rest [id="f-work.water_change"]`, `.rest [data-reading="no3.before"]`, `.rest [data-rows="dose"]`} {
		gear.One(sel)
	}
	if n := len(gear.Find(`.rest [data-reading="flow.before"], .rest [data-reading="cylinder_gross.before"], .rest [data-reading="temp.before"]`)); n != 0 {
		t.Errorf("%d readings of the gear are folded away", n)
	}
	if n := len(routine.Find(`.rest`)); n != 0 {
		t.Errorf("the whole form folds %d parts away", n)
	}
}

// Where the list says how much water to change, the form offers that and not
// what was changed the last time.
func TestTheFormOffersTheLitresThatAreAsked(t *testing.T) {
	p := newPond(t)
	err := p.DB.Tx(t.Context(), func(ctx context.Context, tx store.Tx) error {
		_, err := store.AddMovement(ctx, tx, p.Owner.ID, p.tank, tank.Movement{Day: q.NewDate(2026, 10, 1), Living: "animal", Group: "tetras", N: 20, Reason: "we_added"})
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	v := p.SignIn(t, p.Technician)
	offers := func() []string {
		var all []string
		for _, b := range v.Get("/tanks/" + p.tank + "/visits/new").Wants(http.StatusOK).Find(`[data-fills="work.water_change.litres"] [data-fill]`) {
			all = append(all, strings.TrimSpace(webtest.TextOf(b)))
		}
		return all
	}
	if got := offers(); !slices.Equal(got, []string{"To the third screw: 48 L"}) {
		t.Errorf("with nothing asked: %q", got)
	}
	v.Post("/tanks/"+p.tank+"/visits", p.visitForm("sign.changes_stopped", "on")...).Wants(http.StatusSeeOther)
	got := offers()
	if len(got) != 1 || !strings.HasPrefix(got[0], "As asked: ") {
		t.Errorf("with a small change asked: %q", got)
	}
}
