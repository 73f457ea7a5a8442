package web_test

import (
	"net/http"
	"strings"
	"testing"

	"scaperound/domain/tank"
	"scaperound/web/webtest"
)

// A second tap on the button finds what the first one made.
func TestAFormThatMakesSomethingIsAnsweredOnce(t *testing.T) {
	w := withTank(t)
	once := w.tech.Get("/customers/new").Attr("main input[name=once]", "value")
	if len(once) != 36 || once == w.tech.Get("/customers/new").Attr("main input[name=once]", "value") {
		t.Fatalf("the form's number is %q", once)
	}
	fields := []string{"once", once, "name", "Nora Quill", "kind", "home"}
	first := w.tech.Post("/customers", fields...).Wants(http.StatusSeeOther).Header.Get("Location")
	if second := w.tech.Post("/customers", fields...).Wants(http.StatusSeeOther).Header.Get("Location"); second != first {
		t.Errorf("the second tap leads to %q, the first to %q", second, first)
	}
	if other := w.tech.Post("/customers", "once", once, "name", "Pim Sallow", "kind", "home").Wants(http.StatusSeeOther).Header.Get("Location"); other == first {
		t.Error("another customer from the same page is lost")
	}
	// At the same moment, too.
	done := make(chan string, 2)
	v := []func() string{}
	for range 2 {
		visitor := w.site.SignIn(t, w.site.Owner)
		v = append(v, func() string {
			return visitor.Post("/tanks", "once", "0190f7a0-0000-7000-8000-00000000000a", "name", "Bar tank", "site", w.place, "state", "running").Header.Get("Location")
		})
	}
	for _, post := range v {
		go func() { done <- post() }()
	}
	if a, b := <-done, <-done; a != b || a == "" {
		t.Errorf("two at once lead to %q and %q", a, b)
	}
	for range 2 {
		w.tech.Post(w.path+"/stock", "once", once, "day", today(t), "group", "tetras", "n", "12", "reason", "we_added").Wants(http.StatusSeeOther)
	}
	if s, _, _ := w.now(t); s.Animals[0].Count != 12 {
		t.Errorf("counted twice: %+v", s.Animals)
	}
}

func TestBandsAreLookedAtBeforeTheyAreKept(t *testing.T) {
	p := newPond(t)
	owner := p.SignIn(t, p.Owner)
	tech := p.SignIn(t, p.Technician)
	made := owner.Post("/profiles", "name", "Window", "since", "2026-01-01", "kh.lo", "3", "kh.hi", "6").Wants(http.StatusSeeOther).Header.Get("Location")
	owner.Post("/tanks/"+p.tank+"/profile", "version", "0", "since", "2026-06-01", "profile", strings.TrimPrefix(made, "/profiles/")).Wants(http.StatusSeeOther)
	tech.Post("/tanks/"+p.tank+"/visits", p.visitForm()...).Wants(http.StatusSeeOther)

	fields := []string{"version", "1", "since", "2026-11-24", "kh.lo", "6", "kh.hi", "9"}
	look := owner.Post(made+"/edit", fields...).Wants(http.StatusOK)
	text := look.Text("main")
	if !strings.Contains(text, "1 of 1 tank would be judged otherwise") || !strings.Contains(text, "Window tank") || !strings.Contains(text, "KH: low (was in band)") {
		t.Errorf("what would change: %s", text)
	}
	if got := owner.Get(made).Text("main"); strings.Contains(got, "6 to 9") {
		t.Error("looked at, and kept already")
	}
	again := owner.Post(made+"/edit", append(fields, "do", "back")...).Wants(http.StatusOK)
	if got := again.Attr(`input[name="kh.lo"]`, "value"); got != "6" {
		t.Errorf("back at the form, what was typed is %q", got)
	}
	// What was looked at is kept, and nothing else under its name.
	seen := look.Attr("button[name=seen]", "value")
	owner.Post(made+"/edit", "version", "1", "since", "2026-11-24", "kh.lo", "7", "kh.hi", "9", "seen", seen).Wants(http.StatusOK)
	var hidden []string
	for _, n := range look.Find(`main input[type=hidden]`) {
		hidden = append(hidden, webtest.AttrOf(n, "name"), webtest.AttrOf(n, "value"))
	}
	owner.Post(made+"/edit", append(hidden, "seen", seen)...).Wants(http.StatusSeeOther)
	if got := owner.Get(made).Text("main"); !strings.Contains(got, "6 to 9") {
		t.Errorf("not kept: %s", got)
	}
	var evaluations int
	if err := p.DB.Pool().QueryRow(t.Context(), `SELECT count(*) FROM evaluation`).Scan(&evaluations); err != nil || evaluations != 1 {
		t.Errorf("%d judgements, %v: looking keeps nothing", evaluations, err)
	}
}

func TestAProfileIsRenamed(t *testing.T) {
	w := withTank(t)
	path := "/profiles/" + w.seeded.Profiles[tank.Standards()[0].Name]
	w.tech.Get(path + "/name").Wants(http.StatusForbidden)
	taken := w.owner.Post(path+"/name", "name", tank.Standards()[1].Name, "about", "mine").Wants(http.StatusUnprocessableEntity)
	if taken.Text("#f-name-fault") == "" || taken.Text("#f-about") != "mine" {
		t.Error("the fault is not said, or what was typed is lost")
	}
	w.owner.Post(path+"/name", "name", " ").Wants(http.StatusUnprocessableEntity)
	w.owner.Post(path+"/name", "name", "Dense planting", "about", "the cafés").Wants(http.StatusSeeOther)
	if page := w.tech.Get(path); page.Text("h1") != "Dense planting" || !strings.Contains(page.Text("main"), "the cafés") {
		t.Errorf("called %q", page.Text("h1"))
	}
}

func TestRulesSayHowOftenTheyFired(t *testing.T) {
	p := newPond(t)
	v := p.SignIn(t, p.Technician)
	before := v.Get("/rules").Wants(http.StatusOK)
	if got := before.Text("main"); !strings.Contains(got, "no visits judged") {
		t.Errorf("before any visit: %.200s", got)
	}
	v.Post("/tanks/"+p.tank+"/visits", p.visitForm("look.algae", "trouble", "sign.blue_green_film", "seen")...).Wants(http.StatusSeeOther)
	first := v.Get("/rules?by=fired&days=30").Wants(http.StatusOK)
	if got := first.Text("main"); !strings.Contains(got, "1 visit judged") || !strings.Contains(first.Text("details:first-child summary"), "once") {
		t.Errorf("after one visit: %.400s", got)
	}
	if a, b := len(before.Find("details")), len(first.Find("details")); a != b || a < 20 {
		t.Errorf("%d and %d rules are listed", a, b)
	}
	v.Post("/visits/" + id(1) + "/withdraw").Wants(http.StatusSeeOther)
	if got := v.Get("/rules?days=0").Text("main"); !strings.Contains(got, "no visits judged") {
		t.Error("a withdrawn visit counts")
	}
}

func TestWhatChangedAndByWhom(t *testing.T) {
	_, owner, tech, path := placed(t)
	tech.Get("/changes").Wants(http.StatusForbidden)
	tech.Post(path, "version", "1", "name", "Nora Quill-Reed", "kind", "home").Wants(http.StatusSeeOther)
	page := owner.Get("/changes").Wants(http.StatusOK)
	got := page.Text(".said")
	if !strings.Contains(got, "Nora Quill-Reed") || !strings.Contains(got, "was Nora Quill") || !strings.Contains(got, "Ilo Vance") {
		t.Errorf("the changes say %q", got)
	}
	if href := webtest.AttrOf(page.Find(".said a")[0], "href"); href != path {
		t.Errorf("the newest change leads to %q", href)
	}
	who := page.Find("#f-person option")
	for _, o := range who {
		if id := webtest.AttrOf(o, "value"); id != "" {
			n := len(owner.Get("/changes?noun=customer&person=" + id).Wants(http.StatusOK).Find(".said > li"))
			if n != 1 {
				t.Errorf("%d changes of a customer by one of them", n)
			}
		}
	}
	if n := len(owner.Get("/changes?day=2001-01-01").Wants(http.StatusOK).Find(".said > li")); n != 0 {
		t.Errorf("%d changes on a day before the shop", n)
	}
	if n := len(owner.Get("/changes?day=" + today(t) + "&noun=customer").Find(".said > li")); n != 2 {
		t.Errorf("%d changes of customers today", n)
	}
	for range 55 {
		owner.Post("/customers", "name", "Nora", "kind", "home").Wants(http.StatusSeeOther)
	}
	older := owner.Get("/changes?noun=customer").Attr(".after-list a", "href")
	if n := len(owner.Get(older).Wants(http.StatusOK).Find(".said > li")); n != 7 {
		t.Errorf("%d changes on the second page of 57", n)
	}
	owner.Get("/changes?person=x&before=-4&day=never&noun=%27").Wants(http.StatusOK)
}

func TestAKitStaysAtATank(t *testing.T) {
	w := withTank(t)
	w.owner.Post("/kits", "name", "Own KH drops", "measures", "kh", "type", "drops", "step", "1").Wants(http.StatusSeeOther)
	form := w.tech.Get(w.path + "/kits").Wants(http.StatusOK)
	kit := ""
	for _, o := range form.Find(`[id="f-kit.kh"] option`) {
		if v := webtest.AttrOf(o, "value"); v != "" {
			kit = v
		}
	}
	w.tech.Post(w.path+"/kits", "since", today(t), "kit.kh", "0190f7a0-0000-7000-8000-000000000000").Wants(http.StatusUnprocessableEntity)
	w.tech.Post(w.path+"/kits", "since", today(t), "kit.kh", kit).Wants(http.StatusSeeOther)
	if s, _, _ := w.now(t); len(s.Usual) != 1 || s.Usual[0].Kit != kit {
		t.Errorf("what stays is %+v", s.Usual)
	}
	w.tech.Post(w.path+"/kits", "since", today(t), "kit.kh", "").Wants(http.StatusSeeOther)
	if s, _, _ := w.now(t); len(s.Usual) != 0 {
		t.Errorf("taken away, and %+v stays", s.Usual)
	}
}

func TestATaskIsEndedInTheCustomersWords(t *testing.T) {
	w := withTank(t)
	w.tech.Post(w.path+"/stopped", "stood", "over_4h", "timers", "on").Wants(http.StatusSeeOther)
	task := webtest.AttrOf(w.tech.Get(w.path).Find(`a.row-name[href^="/tasks/"]`)[0], "href")
	w.tech.Get(task).Wants(http.StatusOK)
	bad := w.tech.Post(task+"/close", "state", "declined", "who", "the manager").Wants(http.StatusUnprocessableEntity)
	if bad.Text("#f-words-fault") == "" || bad.Attr("#f-who", "value") != "the manager" {
		t.Error("the fault is not said, or what was typed is lost")
	}
	page := w.tech.Follow(w.tech.Post(task+"/close", "state", "declined", "who", "the manager", "words", "no tests on Sundays").Wants(http.StatusSeeOther)).Wants(http.StatusOK)
	if got := page.Text("main"); !strings.Contains(got, "The customer declined") || !strings.Contains(got, "the manager: no tests on Sundays") || !strings.Contains(got, "Ilo Vance") {
		t.Errorf("ended as %q", got)
	}
	w.tech.Post(task+"/close", "state", "done").Wants(http.StatusConflict)
	tasks, err := w.site.DB.OpenTasks(t.Context(), w.id)
	if err != nil || len(tasks) != 1 {
		t.Errorf("%d tasks are open, %v", len(tasks), err)
	}
	w.tech.Post(page.Attr(".notice form", "action")).Wants(http.StatusSeeOther)
	if tasks, _ = w.site.DB.OpenTasks(t.Context(), w.id); len(tasks) != 2 {
		t.Errorf("undone, %d tasks are open", len(tasks))
	}
	w.tech.Get("/tasks/x").Wants(http.StatusNotFound)
}

func TestTheOwnerDecidesAboutAnExtraVisit(t *testing.T) {
	p := newPond(t)
	owner, tech := p.SignIn(t, p.Owner), p.SignIn(t, p.Technician)
	tech.Post("/tanks/"+p.tank+"/visits", p.visitForm()...).Wants(http.StatusSeeOther)
	if _, err := p.DB.Pool().Exec(t.Context(), `UPDATE evaluation SET extra_on = '2026-11-27'`); err != nil {
		t.Fatal(err)
	}
	path := "/visits/" + id(1) + "/extra"
	tech.Get(path).Wants(http.StatusForbidden)
	owner.Get("/counter").One(`a[href="` + path + `"]`)
	bad := owner.Post(path, "decided", "agreed", "on", "2026-11-20").Wants(http.StatusUnprocessableEntity)
	for _, f := range []string{"on", "with", "pays"} {
		if bad.Text("#f-"+f+"-fault") == "" {
			t.Errorf("nothing stands beside %s", f)
		}
	}
	page := owner.Follow(owner.Post(path, "decided", "agreed", "on", "2026-11-27", "with", "the manager", "pays", "to_bill").Wants(http.StatusSeeOther))
	if got := page.Text("main"); !strings.Contains(got, "Extra visits agreed") || !strings.Contains(got, "Agreed with the manager; to bill.") || strings.Contains(got, "Extra visits wanted") {
		t.Errorf("the counter says %q", got)
	}
	owner.Post(page.Attr(".notice form", "action"), "back", "1").Wants(http.StatusSeeOther)
	if got := owner.Get("/counter").Text("main"); !strings.Contains(got, "Extra visits wanted") {
		t.Errorf("undone, the counter says %q", got)
	}
	owner.Post(path, "decided", "declined", "with", "the manager").Wants(http.StatusUnprocessableEntity)
	owner.Post(path, "decided", "declined", "with", "the manager", "words", "too dear").Wants(http.StatusSeeOther)
	if got := owner.Get("/counter").Text("main"); strings.Contains(got, "Extra visits") {
		t.Errorf("declined, the counter says %q", got)
	}
}
