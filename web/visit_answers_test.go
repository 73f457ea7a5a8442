package web_test

import (
	"net/http"
	"strings"
	"testing"
)

// A task that the customer declines at a visit says who said no and in which
// words: on the visit's page and in the task's own story.
func TestDeclinedAtAVisitAsksWhoAndHow(t *testing.T) {
	p := newPond(t)
	v := p.SignIn(t, p.Technician)
	v.Post("/tanks/"+p.tank+"/stopped", "stood", "over_4h", "timers", "on").Wants(http.StatusSeeOther)
	tasks, err := p.DB.OpenTasks(t.Context(), p.tank)
	if err != nil || len(tasks) != 2 {
		t.Fatalf("%+v, %v", tasks, err)
	}
	declined, off := "task."+tasks[0].ID, "task."+tasks[1].ID
	form := v.Get("/tanks/" + p.tank + "/visits/new").Wants(http.StatusOK)
	for _, name := range []string{declined + ".who", declined + ".words"} {
		form.One(`[name="` + name + `"]`)
	}
	later := []string{"performed", "2026-11-24T15:04", declined, "declined", off, "skipped", off + ".reason", "no_part"}
	with := func(more ...string) []string { return p.visitForm(append(append([]string{}, later...), more...)...) }
	bad := v.Post("/tanks/"+p.tank+"/visits", with(declined+".who", "the manager")...).Wants(http.StatusUnprocessableEntity)
	if bad.Text(`[id="f-`+declined+`.words-fault"]`) == "" || bad.Attr(`[name="`+declined+`.who"]`, "value") != "the manager" {
		t.Error("the fault is not said, or what was typed is lost")
	}
	if len(bad.Find(`[name="`+declined+`"][value="declined"][checked]`)) != 1 {
		t.Error("the answer itself is lost")
	}
	bad = v.Post("/tanks/"+p.tank+"/visits", with(declined+".who", strings.Repeat("x", 201), declined+".words", "no")...).Wants(http.StatusUnprocessableEntity)
	if bad.Text(`[id="f-`+declined+`.who-fault"]`) == "" {
		t.Error("a name too long is taken")
	}
	whole := with(declined+".who", "the manager", declined+".words", "no tests on Sundays")
	page := v.Follow(v.Post("/tanks/"+p.tank+"/visits", whole...).Wants(http.StatusSeeOther)).Wants(http.StatusOK)
	v.Post("/tanks/"+p.tank+"/visits", whole...).Wants(http.StatusSeeOther) // the same post again
	row := page.Text(`a.row[href="/tasks/` + tasks[0].ID + `"]`)
	if !strings.Contains(row, "the customer declined: the manager, “no tests on Sundays”") {
		t.Errorf("the visit says %q", row)
	}
	if row = page.Text(`a.row[href="/tasks/` + tasks[1].ID + `"]`); !strings.Contains(row, "put off, no part") {
		t.Errorf("the visit says %q", row)
	}
	story := v.Get("/tasks/" + tasks[0].ID).Wants(http.StatusOK).Text("main")
	if !strings.Contains(story, "The customer declined") || !strings.Contains(story, "the manager: no tests on Sundays") || !strings.Contains(story, "Ilo Vance") {
		t.Errorf("the task's story says %q", story)
	}
	// An edit shows again what was typed.
	edit := v.Get("/visits/" + id(1) + "/edit").Wants(http.StatusOK)
	if len(edit.Find(`[name="`+declined+`"][value="declined"][checked]`)) != 1 || edit.Attr(`[name="`+declined+`.who"]`, "value") != "the manager" || edit.Text(`[name="`+declined+`.words"]`) != "no tests on Sundays" {
		t.Error("the edit has lost what became of the task")
	}
	again := append(append([]string{}, whole...), "base", id(2))
	for i := 0; i < len(again); i += 2 {
		if again[i] == "revision" {
			again[i+1] = id(3)
		}
		if again[i] == declined+".words" {
			again[i+1] = ""
		}
	}
	if bad = v.Post("/tanks/"+p.tank+"/visits", again...).Wants(http.StatusUnprocessableEntity); bad.Attr(`[name="`+declined+`.who"]`, "value") != "the manager" {
		t.Error("the edit that was refused has lost what became of the task")
	}
}

// Without a signal nobody can be asked any more: what was kept is taken.
func TestDeclinedWithoutASignalIsNotRefused(t *testing.T) {
	p := newPond(t)
	v := p.SignIn(t, p.Technician)
	v.Post("/tanks/"+p.tank+"/stopped", "stood", "over_4h", "timers", "on").Wants(http.StatusSeeOther)
	tasks, err := p.DB.OpenTasks(t.Context(), p.tank)
	if err != nil || len(tasks) == 0 {
		t.Fatalf("%+v, %v", tasks, err)
	}
	page := v.Follow(v.Post("/tanks/"+p.tank+"/visits", p.visitForm("performed", "2026-11-24T15:04", "offline", "1", "task."+tasks[0].ID, "declined")...).Wants(http.StatusSeeOther))
	if got := page.Text(`a.row[href="/tasks/` + tasks[0].ID + `"]`); !strings.Contains(got, "was not written down") {
		t.Errorf("the visit says %q", got)
	}
}
