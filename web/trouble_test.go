package web_test

import (
	"net/http"
	"strings"
	"testing"
)

// One tap from the tank, the customer and the search leads to the questions.
func TestTroubleIsOneTapAway(t *testing.T) {
	w := withTank(t)
	tank := w.tech.Get(w.path).Wants(http.StatusOK)
	if got := tank.Attr(`.tank-go a.alarm`, "href"); got != w.path+"/trouble" {
		t.Errorf("from the tank to %q", got)
	}
	customer := tank.Attr(`.ways a[href^="/customers/"]`, "href")
	if got := w.tech.Get(customer).Attr(`.reach a.alarm`, "href"); got != w.path+"/trouble" {
		t.Errorf("from the customer to %q", got)
	}
	found := w.tech.Get("/search?q=window").Wants(http.StatusOK)
	if got := found.Attr(`a.alarm`, "href"); got != w.path+"/trouble" {
		t.Errorf("from the search to %q", got)
	}
	found = w.tech.Get("/search?q=millrace").Wants(http.StatusOK)
	if got := w.tech.Get(found.Attr(`a.alarm[href^="/customers/"]`, "href")).Wants(http.StatusSeeOther).Header.Get("Location"); got != w.path+"/trouble" {
		t.Errorf("one tank needs no question, but it leads to %q", got)
	}
	page := w.tech.Get(w.path + "/trouble").Wants(http.StatusOK)
	if n := len(page.Find(`a.row[href^="` + w.path + `/trouble/"]`)); n != 7 {
		t.Errorf("%d guides are offered", n)
	}
	for _, to := range []string{"/deaths", "/stopped", "/apart", "/problems"} {
		w.tech.Get(w.path + to).Wants(http.StatusOK)
		page.One(`a.row[href="` + w.path + to + `"]`)
	}
	incident := w.tech.Get(page.Attr(`a.button[href*="kind=leak"]`, "href")).Wants(http.StatusOK)
	if got := incident.Attr(`#f-tank option[selected]`, "value"); got != w.id {
		t.Errorf("the incident asks again which tank: %q", got)
	}
	if got := incident.Attr(`input[name=kind][checked]`, "value"); got != "leak" || incident.Text("h1") != "Leak" || !strings.Contains(incident.Text(".steps"), "Lower the water below the leak") {
		t.Errorf("the incident asks again what it is: %q, %q", got, incident.Text("h1"))
	}
	incident.One(`.ring a[href^="tel:"]`)
	w.tech.Get(w.path + "/trouble/earthquake").Wants(http.StatusNotFound)
}

func TestACallForHelpIsKeptAndWaits(t *testing.T) {
	w := withTank(t)
	guide := w.path + "/trouble/gasping"
	form := w.tech.Get(guide).Wants(http.StatusOK)
	if n := len(form.Find(`fieldset.choice`)); n != 5 {
		t.Errorf("%d questions are asked", n)
	}
	if n := len(form.Find(`.aloud li`)); n != 3 {
		t.Errorf("%d actions are read aloud", n)
	}
	bad := w.tech.Post(guide, "q.all", "perhaps", "words", "since dawn").Wants(http.StatusUnprocessableEntity)
	if bad.Text("#f-words") != "since dawn" {
		t.Error("what was typed is lost")
	}
	fields := []string{"once", form.Attr("input[name=once]", "value"), "q.all", "yes", "q.co2", "yes", "q.moving", "not_known", "read.0", "on", "read.1", "on", "words", "since dawn", "goes", w.site.Technician.ID, "problem", "on"}
	first := w.tech.Post(guide, fields...).Wants(http.StatusSeeOther)
	if again := w.tech.Post(guide, fields...).Wants(http.StatusSeeOther); again.Header.Get("Location") != first.Header.Get("Location") {
		t.Errorf("a second tap leads to %q, not %q", again.Header.Get("Location"), first.Header.Get("Location"))
	}
	call := w.tech.Follow(first).Wants(http.StatusOK)
	if got := call.Text("main"); !strings.Contains(got, "Somebody goes now: Ilo Vance") || !strings.Contains(got, "Are most of the fish at the surface? Yes.") || !strings.Contains(got, "since dawn") {
		t.Errorf("kept as %q", got)
	}
	tank := w.tech.Get(w.path)
	if n := len(tank.Find(`a[href^="/trouble/"]`)); n != 1 {
		t.Errorf("the tank shows %d calls", n)
	}
	if got := tank.Text(".lead-text"); !strings.Contains(got, "Fish gasp at the surface") {
		t.Errorf("no problem is open: %q", got)
	}
	said := w.tech.Get(tank.Attr(`.ways a[href^="/customers/"]`, "href")).Text(".said")
	if strings.Count(said, "since dawn") != 1 || !strings.Contains(said, "Pull the plug of its timer") && !strings.Contains(said, "pull the plug of its timer") {
		t.Errorf("the customer's notes say %q", said)
	}
	if got := w.owner.Get("/counter").Text("main"); !strings.Contains(got, "Somebody goes now: Ilo Vance") {
		t.Errorf("the counter says %q", got)
	}
	settled := w.tech.Follow(w.tech.Post(first.Header.Get("Location") + "/settle").Wants(http.StatusSeeOther))
	undo := settled.Attr(".notice form", "action")
	if n := len(w.tech.Get(w.path).Find(`a[href^="/trouble/"]`)); n != 0 {
		t.Error("settled, and still waiting at the tank")
	}
	w.tech.Post(undo).Wants(http.StatusSeeOther)
	if n := len(w.tech.Get(w.path).Find(`a[href^="/trouble/"]`)); n != 1 {
		t.Error("undone, and not waiting")
	}
	w.tech.Get("/trouble/x").Wants(http.StatusNotFound)
}

func TestADeathIsWrittenDownAndLeavesTheStock(t *testing.T) {
	w := withTank(t)
	w.tech.Post(w.path+"/stock", "day", today(t), "group", "tetras", "species", "ember tetra", "n", "12", "reason", "we_added").Wants(http.StatusSeeOther)
	page := w.tech.Post(w.path+"/deaths", "day", today(t), "group", "tetras", "n", "many", "gills", "pale").Wants(http.StatusUnprocessableEntity)
	if page.Text("#f-n-fault") == "" || page.Attr("#f-gills", "value") != "pale" {
		t.Error("the fault is not said, or what was typed is lost")
	}
	w.tech.Post(w.path+"/deaths", "day", today(t), "at", "00:00", "group", "tetras", "species", "ember tetra", "n", "2", "gills", "pale", "before", "dosed", "before", "sprayed", "body", "chilled", "water_kept", "on").Wants(http.StatusSeeOther)
	said := w.tech.Get(w.path + "/deaths").Wants(http.StatusOK).Text(".said")
	for _, want := range []string{"2 Tetras ember tetra: cause not known", "pale", "something was dosed", "half a litre kept", "Chilled"} {
		if !strings.Contains(said, want) {
			t.Errorf("%q is not said of it: %q", want, said)
		}
	}
	s, _, _ := w.now(t)
	if len(s.Animals) != 1 || s.Animals[0].Count != 10 {
		t.Errorf("the stock is %+v", s.Animals)
	}
	// Animals that were never written in cannot be taken out; the death is kept.
	w.tech.Post(w.path+"/deaths", "day", today(t), "at", "00:00", "group", "snails", "n", "1").Wants(http.StatusSeeOther)
	if s, _, _ = w.now(t); len(s.Animals) != 1 {
		t.Errorf("the stock is %+v", s.Animals)
	}
}

func TestAStoppedFilterAsksForTests(t *testing.T) {
	w := withTank(t)
	w.tech.Post(w.path + "/stopped").Wants(http.StatusUnprocessableEntity)
	w.tech.Post(w.path+"/stopped", "stood", "over_4h", "power_cut", "on", "timers", "on").Wants(http.StatusSeeOther)
	tasks, err := w.site.DB.OpenTasks(t.Context(), w.id)
	if err != nil || len(tasks) != 2 {
		t.Fatalf("%+v, %v", tasks, err)
	}
	if got := w.tech.Get(w.path).Text("main"); strings.Count(got, "Test ammonia and nitrite") != 2 {
		t.Errorf("the tank's list says %q", got)
	}
	if got := w.owner.Get("/counter").Text("main"); !strings.Contains(got, "Test ammonia and nitrite") {
		t.Errorf("the counter says %q", got)
	}
	if got := w.tech.Get(w.path + "/stopped").Text(".said"); !strings.Contains(got, "more than four hours, in a power cut; timers right.") {
		t.Errorf("written down as %q", got)
	}
}

func TestKeepingApart(t *testing.T) {
	w := withTank(t)
	form := w.tech.Get(w.path + "/apart").Wants(http.StatusOK)
	version := form.Attr("input[name=version]", "value")
	w.tech.Post(w.path+"/apart", "version", version, "keep_apart_since", "").Wants(http.StatusUnprocessableEntity)
	w.tech.Post(w.path+"/apart", "version", "99", "keep_apart_since", today(t)).Wants(http.StatusConflict)
	page := w.tech.Follow(w.tech.Post(w.path+"/apart", "version", version, "keep_apart_since", today(t)).Wants(http.StatusSeeOther))
	if !strings.Contains(page.Text(".apart"), "Kept apart since") || !strings.Contains(page.Text(".pins"), "the valve weeps") {
		t.Errorf("the tank says %q", page.Text("main"))
	}
	w.tech.Post(page.Attr(".notice form", "action")).Wants(http.StatusSeeOther)
	if n := len(w.tech.Get(w.path).Find(".apart")); n != 0 {
		t.Error("undone, and still kept apart")
	}
}

func TestAnIncidentNamesItsKindAndItsTime(t *testing.T) {
	w := withTank(t)
	path := "/sites/" + w.place + "/incidents"
	w.tech.Post(path, "kind", "flood", "what", "water").Wants(http.StatusUnprocessableEntity)
	w.tech.Post(path, "kind", "bowed_seam", "tank", w.id, "day", "2026-03-01", "at", "07:15", "what", "front pane bows", "done", "half drained").Wants(http.StatusSeeOther)
	got := w.tech.Get(path).Wants(http.StatusOK).Text(".said")
	if !strings.Contains(got, "Bowed seam or glass") || !strings.Contains(got, "07:15") || !strings.Contains(got, "1 Mar 2026") {
		t.Errorf("written down as %q", got)
	}
}
