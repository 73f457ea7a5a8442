package web_test

import (
	"net/http"
	"strings"
	"testing"
)

func TestAStopHoldsAVisitPerTank(t *testing.T) {
	p := newPond(t)
	v := p.SignIn(t, p.Technician)
	arrived := v.Post("/sites/" + p.site + "/stops").Wants(http.StatusSeeOther)
	stop := arrived.Header.Get("Location")
	page := v.Follow(arrived).Wants(http.StatusOK)
	if got := page.Text(".rows"); !strings.Contains(got, "Window tank") || !strings.Contains(got, "Bar tank") {
		t.Fatalf("the stop lists %q", got)
	}
	begin := page.Attr(`.rows a[href*="`+p.tank+`"]`, "href")
	form := v.Get(begin).Wants(http.StatusOK)
	if got := "/stops/" + form.Attr(`#visit input[name=stop]`, "value"); got != stop {
		t.Errorf("the visit belongs to %q", got)
	}
	v.Post("/tanks/"+p.tank+"/visits", p.visitForm("stop", strings.TrimPrefix(stop, "/stops/"))...).Wants(http.StatusSeeOther)
	if got := v.Get(stop).Text(".rows"); !strings.Contains(got, "written down at 14:30") {
		t.Errorf("after the visit the stop says %q", got)
	}
	// Somebody was inside: that cannot be taken back by a tap.
	v.Post(stop+"/end", "outcome", "could_not_get_in", "why", "closed").Wants(http.StatusConflict)
	v.Post(stop+"/end", "outcome", "partly").Wants(http.StatusUnprocessableEntity)
	done := v.Post(stop+"/end", "outcome", "done").Wants(http.StatusSeeOther)
	round := v.Follow(done).Wants(http.StatusOK)
	if text := round.Text("main"); !strings.Contains(text, "By the weir") || !strings.Contains(text, "done") {
		t.Errorf("my round says %q", text)
	}
	v.Post(round.Attr(`.notice form`, "action")).Wants(http.StatusSeeOther)
	if got := v.Get(stop).Text("main"); !strings.Contains(got, "Left, all done") {
		t.Errorf("taken back, the stop says %q", got)
	}
}

func TestCouldNotGetInIsSaidInTwoTaps(t *testing.T) {
	p := newPond(t)
	v := p.SignIn(t, p.Technician)
	stop := v.Post("/sites/" + p.site + "/stops").Wants(http.StatusSeeOther).Header.Get("Location")
	lost := v.Post(stop+"/end", "outcome", "could_not_get_in", "why", " ").Wants(http.StatusUnprocessableEntity)
	if got := lost.Text("#f-why-fault"); got == "" {
		t.Error("nothing stands beside the missing why")
	}
	if n := len(lost.Find(`input[value=could_not_get_in][checked]`)); n != 1 {
		t.Error("what was chosen is lost")
	}
	v.Post(stop+"/end", "outcome", "could_not_get_in", "why", "Nobody there").Wants(http.StatusSeeOther)
	if got := v.Get("/").Text("main"); !strings.Contains(got, "could not get in: Nobody there") {
		t.Errorf("my round says %q", got)
	}
	v.Get("/stops/nonsense").Wants(http.StatusNotFound)
}

func TestArriveAtATankOpensItsVisit(t *testing.T) {
	p := newPond(t)
	v := p.SignIn(t, p.Technician)
	arrived := v.Post("/tanks/" + p.tank + "/arrive").Wants(http.StatusSeeOther)
	form := v.Follow(arrived).Wants(http.StatusOK)
	if got := form.Attr(`#visit input[name=stop]`, "value"); len(got) != 36 {
		t.Errorf("the visit has no stop: %q", got)
	}
}
