package visit_test

import (
	"reflect"
	"strings"
	"testing"
	"time"

	"scaperound/domain/visit"
)

func posted(pairs ...string) []visit.Field {
	var out []visit.Field
	for i := 0; i < len(pairs); i += 2 {
		out = append(out, visit.Field{Name: pairs[i], Value: pairs[i+1]})
	}
	return out
}

func TestTheListOfAFormIsRead(t *testing.T) {
	got := visit.ActedOnIn(posted(
		"acted.by", "tablet", "acted.record", "2026-11-14T15:10:00Z", "acted.late", "1", "note.inside", "x",
		"acted.lines", "list\r\nnow\tair_on\tAir on.\npour\t\tChange 48 L.\ncustomer\t\tFeed <b>less</b>.\n"))
	want := visit.ActedOn{Given: true, Here: true, Late: true, Lines: []visit.ListLine{
		{Part: "now", ID: "air_on", Text: "Air on."}, {Part: "pour", Text: "Change 48 L."}, {Part: "customer", Text: "Feed <b>less</b>."}}}
	if !got.Record.OK || !got.Record.V.Equal(time.Date(2026, 11, 14, 15, 10, 0, 0, time.UTC)) {
		t.Errorf("the record is of %v", got.Record)
	}
	got.Record = want.Record
	if !reflect.DeepEqual(got, want) {
		t.Errorf("read\n%+v, want\n%+v", got, want)
	}
	if none := visit.ActedOnIn(posted("acted.hash", "12")); none.Given {
		t.Error("a form that told of no list has one")
	}
	if empty := visit.ActedOnIn(posted("acted.lines", "list")); !empty.Given || len(empty.Lines) != 0 {
		t.Errorf("an empty list is %+v", empty)
	}
}

func TestAListThatCannotBeReadIsNone(t *testing.T) {
	for name, text := range map[string]string{
		"no head": "now\ta\tb", "two cells": "list\nnow\tb", "four cells": "list\nnow\ta\tb\tc", "no text": "list\nnow\ta\t ",
		"too many lines": "list" + strings.Repeat("\nnow\ta\tb", 121), "too long": "list\nnow\ta\t" + strings.Repeat("b", 24000), "not UTF-8": "list\nnow\ta\t\xff",
	} {
		if got := visit.ActedOnIn(posted("acted.lines", text)); got.Given || len(got.Lines) > 0 {
			t.Errorf("%s: %+v", name, got)
		}
	}
	at := visit.ActedOnIn(posted("acted.lines", "list", "acted.record", "yesterday", "acted.by", "somebody"))
	if !at.Given || at.Record.OK || at.Here {
		t.Errorf("what cannot be read was read: %+v", at)
	}
}

// A visit is not refused, and reads the same, whatever its form says of a list.
func TestAListIsNoPartOfWhatAVisitSays(t *testing.T) {
	base := posted("visit", "00000000-0000-4000-8000-000000000001", "revision", "00000000-0000-4000-8000-000000000002", "performed", "2026-11-24T10:00:00Z")
	want, faults := visit.Parse(base, visit.Context{})
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	got, faults := visit.Parse(append(base, posted("acted.lines", strings.Repeat("junk ", 9000), "acted.by", "x", "acted.record", "never", "acted.late", "?")...), visit.Context{})
	if len(faults) > 0 || !reflect.DeepEqual(got, want) {
		t.Errorf("%v\n%+v\n%+v", faults, got, want)
	}
}

func TestListsAreHeldAgainstEachOther(t *testing.T) {
	line := func(part, id, text string) visit.ListLine { return visit.ListLine{Part: part, ID: id, Text: text} }
	was := []visit.ListLine{
		line("now", "air/", "Air on."),
		line("pour", "", "Change 48 L."), line("pour", "", "Weigh 1.39 g KNO3."),
		line("findings", "kh", "KH is low."), line("findings", "kh", "KH has fallen."),
		line("next", "trim/", "Trim the stems."), line("next", "filter/", "Clean the filter."),
		line("customer", "", "All is well."),
	}
	is := []visit.ListLine{
		line("pour", "", "Change 60,5 L."), line("pour", "", "Weigh 1.39 g KNO3."),
		line("findings", "kh", "KH has fallen."), line("findings", "tan", "Ammonia was read."),
		line("visit", "filter/", "Clean the filter."), line("next", "trim/", "Trim the stems."),
		line("customer", "", "Please feed less today."),
	}
	got := visit.ListChanges(was, is)
	want := []visit.ListChange{
		{Was: was[1], Is: is[0]},
		{Is: is[3]},
		{Was: was[6], Is: is[4]},
		{Is: is[6]},
		{Was: was[0]}, {Was: was[3]}, {Was: was[7]},
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got\n%+v\nwant\n%+v", got, want)
	}
	if same := visit.ListChanges(was, was); len(same) != 0 {
		t.Errorf("a list differs from itself: %+v", same)
	}
	if twice := visit.ListChanges([]visit.ListLine{was[0], was[0]}, was[:1]); len(twice) != 1 || !twice[0].Gone() {
		t.Errorf("a line that stood twice: %+v", twice)
	}
}
