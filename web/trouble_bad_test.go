package web_test

import (
	"net/http"
	"strings"
	"testing"
)

// Each form of a bad moment with what cannot be: the sentence stands beside its
// field, nothing is lost, nothing is kept, and nothing that was typed runs.
func TestBadRecordsOfTroubleAreSaidBesideTheirField(t *testing.T) {
	w := withTank(t)
	incidents := "/sites/" + w.place + "/incidents"
	const nobody = "0190f7a0-0000-7000-8000-000000000000"
	long := strings.Repeat("x", 10000)
	death := []string{"day", today(t), "at", "00:00", "group", "snails", "n", "1", "words", scripted}
	incident := []string{"kind", "leak", "what", scripted, "day", today(t), "at", "00:00"}
	stop := []string{"stood", "over_4h", "words", scripted}
	call := []string{"q.all", "yes", "words", scripted}
	for _, c := range []struct {
		path         string
		good         []string
		field, value string
		keeps        string // the field whose text must come back
	}{
		{w.path + "/deaths", death, "n", "", "words"}, {w.path + "/deaths", death, "n", "0", "words"}, {w.path + "/deaths", death, "n", "-2", "words"}, {w.path + "/deaths", death, "n", "1,5", "words"},
		{w.path + "/deaths", death, "n", "99999", "words"}, {w.path + "/deaths", death, "n", "1e99", "words"}, {w.path + "/deaths", death, "n", "many", "words"},
		{w.path + "/deaths", death, "day", "", "words"}, {w.path + "/deaths", death, "day", dayFrom(t, 1), "words"}, {w.path + "/deaths", death, "day", "31.11.2026", "words"}, {w.path + "/deaths", death, "at", "25:61", "words"},
		{w.path + "/deaths", death, "group", "dragons", "words"}, {w.path + "/deaths", death, "body", "eaten by me", "words"}, {w.path + "/deaths", death, "before", "curse", "words"},
		{w.path + "/deaths", death, "species", long, "words"}, {w.path + "/deaths", death, "gills", long, "words"}, {w.path + "/deaths", death, "cause", long, "words"},
		{incidents, incident, "kind", "flood", "what"}, {incidents, incident, "day", dayFrom(t, 1), "what"}, {incidents, incident, "day", "yesterday", "what"}, {incidents, incident, "at", "noon", "what"},
		{incidents, incident, "tank", nobody, "what"}, {incidents, incident, "tank", "x", "what"}, {incidents, incident, "told", long, "what"},
		{w.path + "/stopped", stop, "stood", "forever", "words"}, {w.path + "/stopped", stop, "stood", "", "words"},
		{w.path + "/trouble/gasping", call, "q.all", "perhaps", "words"}, {w.path + "/trouble/gasping", call, "goes", nobody, "words"}, {w.path + "/trouble/gasping", call, "going", "never", "words"},
	} {
		pairs, set := append([]string(nil), c.good...), false
		for i := 0; i < len(pairs); i += 2 {
			if pairs[i] == c.field {
				pairs[i+1], set = c.value, true
			}
		}
		if !set {
			pairs = append(pairs, c.field, c.value)
		}
		page := w.tech.Post(c.path, pairs...).Wants(http.StatusUnprocessableEntity)
		if page.Text(`[id="f-`+c.field+`-fault"]`) == "" {
			t.Errorf("%s: nothing stands beside %s %.20q: %q", c.path, c.field, c.value, page.Text(".faults"))
		}
		if got := page.Text("#f-" + c.keeps); got != scripted {
			t.Errorf("%s: %s is lost: %q", c.path, c.keeps, got)
		}
		if strings.Contains(string(page.Body), "<script>alert") {
			t.Errorf("%s: what was typed runs", c.path)
		}
	}
	for path, rows := range map[string]string{w.path + "/deaths": ".said > li", incidents: ".said > li", w.path + "/stopped": ".said > li", w.path + "/trouble": `.rows a[href^="/trouble/"]`} {
		if n := len(w.tech.Get(path).Find(rows)); n != 0 {
			t.Errorf("%s: %d records of what was refused", path, n)
		}
	}
	stranger := w.site.Visitor(t)
	for path, good := range map[string][]string{w.path + "/deaths": death, incidents: incident, w.path + "/stopped": stop, w.path + "/trouble/gasping": call, w.path + "/problems": {"title", "x"}} {
		stranger.Post(path, good...).Wants(http.StatusUnauthorized)
		stranger.Get(path).Wants(http.StatusSeeOther)
	}
	w.tech.Get("/changes").Wants(http.StatusForbidden)
	w.tech.Get("/trouble/" + nobody).Wants(http.StatusNotFound)
	w.tech.Post("/trouble/" + nobody + "/settle").Wants(http.StatusNotFound)
	w.tech.Post("/problems/"+nobody, "title", "x").Wants(http.StatusNotFound)
	w.tech.Post("/problems/"+nobody+"/tries", "tried", "x").Wants(http.StatusNotFound)
	w.tech.Post("/problems/" + nobody + "/close").Wants(http.StatusNotFound)
	w.owner.Get("/changes?person=x&noun=" + long[:500] + "&id=%00&day=never&before=-9").Wants(http.StatusOK)
	w.tech.Get("/rules?days=-1&by=" + long[:500]).Wants(http.StatusOK)
}
