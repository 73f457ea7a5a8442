package web_test

import (
	"context"
	"net/http"
	"strings"
	"testing"
	"time"

	"scaperound/domain/tank"
	"scaperound/store"
)

func TestProblemIsOpenedWorkedAtAndClosed(t *testing.T) {
	s, owner, tech, path := placedSite(t)
	var id string
	err := s.DB.Tx(t.Context(), func(ctx context.Context, tx store.Tx) (err error) {
		id, err = store.CreateTank(ctx, tx, s.Owner.ID, tank.New{Name: "River bend", Site: strings.TrimPrefix(path, "/sites/")}, tx.Now.Add(-time.Hour))
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	list := "/tanks/" + id + "/problems"
	if page := tech.Post(list, "title", " ", "belief", "flow").Wants(http.StatusUnprocessableEntity); page.Text("#f-title-fault") == "" || page.Text("#f-belief") != "flow" {
		t.Error("the fault is not said, or what was typed is lost")
	}
	one := tech.Post(list, "title", "Black tufts", "belief", "flow").Wants(http.StatusSeeOther).Header.Get("Location")
	if page := tech.Post(one+"/tries", "tried", "", "result", "none").Wants(http.StatusUnprocessableEntity); page.Text("#f-tried-fault") == "" || page.Text("#f-result") != "none" || page.Attr("#f-title", "value") != "Black tufts" {
		t.Error("the fault is not said, or what was typed is lost")
	}
	tech.Post(one+"/tries", "tried", "turned the outlet", "result", "no change").Wants(http.StatusSeeOther)
	owner.Post(one, "version", "1", "title", "Black tufts", "belief", "CO2 swings", "next", "set the valve").Wants(http.StatusSeeOther)
	page := tech.Post(one, "version", "1", "title", "Black tufts", "belief", "light", "next", "", "was.title", "Black tufts", "was.belief", "flow", "was.next", "").Wants(http.StatusConflict)
	if typed, beside, next := page.Text("#f-belief"), page.Text("#f-belief-beside"), page.Text("#f-next"); typed != "light" || !strings.Contains(beside, "CO2 swings") || next != "set the valve" {
		t.Errorf("belief %q, beside it %q, next %q", typed, beside, next)
	}
	customer := tech.Get(path).Attr(".up a", "href")
	if got := tech.Get(customer).Text("dl"); !strings.Contains(got, "Black tufts") || !strings.Contains(got, "CO2 swings") {
		t.Errorf("the phone call says %q", got)
	}
	undo := tech.Follow(tech.Post(one+"/close").Wants(http.StatusSeeOther)).Attr(".notice form", "action")
	tech.Post(one+"/tries", "tried", "x").Wants(http.StatusConflict)
	if got := tech.Get(customer).Text("dl"); strings.Contains(got, "Black tufts") {
		t.Error("closed and still told on the phone")
	}
	tech.Post(undo).Wants(http.StatusSeeOther)
	if got := tech.Get(list).Wants(http.StatusOK).Text(".row"); !strings.Contains(got, "Black tufts") || !strings.Contains(got, "open") {
		t.Errorf("the list says %q", got)
	}
	for _, no := range []string{"/problems/x", "/tanks/x/problems"} {
		tech.Get(no).Wants(http.StatusNotFound)
	}
}
