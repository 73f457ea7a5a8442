package view_test

import (
	"strings"
	"testing"

	"scaperound/web/webtest"
)

func storyPage(t *testing.T, name string) *webtest.Answer {
	t.Helper()
	for _, s := range storybook() {
		if s.name == name {
			return webtest.Parse(t, render(t, s))
		}
	}
	t.Fatalf("no story is called %s", name)
	return nil
}

func TestCallSaysWhatIsNotKnown(t *testing.T) {
	page := storyPage(t, "call-empty")
	if got := page.Text("dl dd"); got != "none yet\nnothing noted\nnot set\nnone\nnothing noted" {
		t.Errorf("an empty call says %q", got)
	}
	if n := len(page.Find(`form[action$="/archive"], a[href$="/erase"], a[href^="tel:"]`)); n != 0 {
		t.Errorf("%d things are offered that were not given", n)
	}
}

func TestTextsAreShownAsTheyWereTyped(t *testing.T) {
	for _, name := range []string{"call-long", "site-long", "incidents-long", "problem", "search-nothing"} {
		if n := len(storyPage(t, name).Find("main b, main script")); n != 0 {
			t.Errorf("%s: typed text became %d elements", name, n)
		}
	}
}

func TestErasedPersonIsOfferedNothing(t *testing.T) {
	page := storyPage(t, "call-erased")
	if n := len(page.Find("main form, main .button")); n != 0 || !strings.Contains(page.Text("main"), "was erased") {
		t.Errorf("%d things to press on %q", n, page.Text("main"))
	}
}

func TestTheWayInIsNotPrinted(t *testing.T) {
	page := storyPage(t, "access")
	if len(page.Find(".never-on-paper [name=alarm_code]")) != 1 || len(page.Find(".never-on-paper [name=note]")) != 1 || len(page.Find(".only-on-paper")) != 1 {
		t.Error("how to get in would be printed")
	}
}

// What was wrong stands beside every field of every form here.
func TestPlaceFormsShowFaultsAndOtherPeoplesChanges(t *testing.T) {
	for name, fields := range map[string][]string{
		"customer-form-faults": {"name", "kind", "phones", "email", "language", "notes"},
		"site-form-faults":     {"name", "position", "altitude", "parking_minutes", "window.1", "rcd_tested", "hose", "room", "co2_alarm", "spending_limit"},
		"access":               {"note", "alarm_code"},
		"away":                 {"from", "to", "why", "stand_in"},
		"problem":              {"title", "belief", "next"},
	} {
		page := storyPage(t, name)
		for _, f := range fields {
			if page.Text(`[id="f-`+f+`-fault"]`) == "" || page.Text(`[id="f-`+f+`-beside"]`) == "" {
				t.Errorf("%s: nothing stands beside %s", name, f)
			}
			if len(page.Find(`input[type=hidden][name="was.`+f+`"]`)) != 1 {
				t.Errorf("%s: what %s said at first is not sent along", name, f)
			}
		}
	}
}
