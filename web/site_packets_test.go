package web_test

import (
	"net/http"
	"strings"
	"testing"
	"time"
)

func TestSheetForWhoeverStandsIn(t *testing.T) {
	w := withTank(t)
	w.tech.Post("/sites/"+w.place+"/away", "from", dayFrom(t, 3), "to", dayFrom(t, 16), "stand_in", "Nils next door").Wants(http.StatusSeeOther)
	away := w.tech.Get("/sites/"+w.place).Attr(`a[href^="/away/"]`, "href")
	sheet := w.tech.Get(away).Attr(`a[href$="/sheet"]`, "href")
	form := w.tech.Follow(w.tech.Get(sheet).Wants(http.StatusSeeOther)).Wants(http.StatusOK) // nothing is settled yet
	field := "tank." + w.id + "."
	form.One(`[name="` + field + `every"]`)
	bad := w.tech.Post(away+"/packets", field+"every", "2", field+"grams", "a pinch", field+"note", "lid sticks").Wants(http.StatusUnprocessableEntity)
	if bad.Attr(`[name="`+field+`note"]`, "value") != "lid sticks" {
		t.Error("what was typed is lost")
	}
	page := w.tech.Follow(w.tech.Post(away+"/packets", field+"every", "2", field+"grams", "0.5", field+"note", "lid sticks").Wants(http.StatusSeeOther)).Wants(http.StatusOK)
	if n := len(page.Find(".packets li")); n != 7 {
		t.Errorf("%d packets in a fortnight of every second day", n)
	}
	first, err := time.Parse("2006-01-02", dayFrom(t, 4))
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"Nils next door", "+353 1 555 0100", first.Format("Mon 2 Jan 2006"), "0.5 g in it", "lid sticks", "Nothing else"} {
		if !strings.Contains(page.Text(".away-sheet"), want) {
			t.Errorf("the sheet lacks %q: %s", want, page.Text(".away-sheet"))
		}
	}
	page = w.tech.Follow(w.tech.Post(away+"/packets", "version", w.tech.Get(away+"/packets").Attr("input[name=version]", "value"), field+"every", "1", field+"feeder", "on", field+"tried", dayFrom(t, -1)).Wants(http.StatusSeeOther))
	if got := page.Text(".apart"); !strings.Contains(got, "less than a week") || len(page.Find(".packets")) != 0 {
		t.Errorf("a feeder that was tried too late is warned of with %q", got)
	}
	w.tech.Get("/away/x/sheet").Wants(http.StatusNotFound)
	w.tech.Get("/away/x/packets").Wants(http.StatusNotFound)
}
