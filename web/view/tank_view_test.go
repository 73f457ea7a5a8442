package view_test

import (
	"strings"
	"testing"
)

func TestTheSecondEditorSeesTheOthersWordsByTheirLabels(t *testing.T) {
	page := storyPage(t, "tank-setup-second")
	for id, want := range map[string]string{"#f-length-beside": "Somebody else wrote: 90", "#f-substrate-beside": "Somebody else chose: Sand or gravel"} {
		if got := page.Text(id); got != want {
			t.Errorf("%s = %q, want %q", id, got, want)
		}
	}
	if got := page.Text(".tick"); !strings.Contains(got, "Somebody else chose: no") {
		t.Errorf("the box says %q", got)
	}
	if len(page.Find("#f-width-beside")) != 0 {
		t.Error("a field in which both agree needs no word")
	}
	if page.Attr("#f-length", "value") != "60" || page.Attr("input[name=version]", "value") != "4" {
		t.Error("what was typed stays, and a second try goes over the newer version")
	}
}

func TestAFoldOpensWhereSomethingInItIsWrong(t *testing.T) {
	page := storyPage(t, "tank-dosing-faults")
	if got := len(page.Find("details[open]")); got != 1 {
		t.Errorf("%d lines are open, want the faulty one", got)
	}
	kit := storyPage(t, "kit-faults")
	if got := len(kit.Find("details[open]")); got != 1 {
		t.Errorf("%d checks are open, want the faulty one", got)
	}
}

func TestATankOfWhichNothingIsKnownSaysWhatToDo(t *testing.T) {
	page := storyPage(t, "tank-empty")
	for _, want := range []string{"Nobody has written down yet", "No reading yet", "No animals or plants", "Nothing is dosed", "None: it never falls due"} {
		if !strings.Contains(page.Text("main"), want) {
			t.Errorf("%q is not said", want)
		}
	}
	if len(page.Find(`a[href="/tanks/t/agreement"], a[href="/tanks/t/profile"]`)) != 0 {
		t.Error("who may not decide is offered it")
	}
	full := storyPage(t, "tank-full")
	if len(full.Find(`a[href="/tanks/t/agreement"], a[href="/tanks/t/profile"]`)) != 2 || !strings.Contains(full.Text(".pins"), "Owner hates snails <really>") {
		t.Error("the owner's links, and the pins as they were typed")
	}
}

func TestALotPastItsDateIsSaidInWords(t *testing.T) {
	page := storyPage(t, "kit-faults")
	if got := page.Text(".urgent-text"); got != "has expired" {
		t.Errorf("said as %q", got)
	}
}
