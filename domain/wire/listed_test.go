package wire_test

import (
	"encoding/json"
	"reflect"
	"testing"

	"scaperound/domain/care"
	"scaperound/domain/say"
	"scaperound/domain/visit"
	"scaperound/domain/wire"
)

// The list that is held against a tablet's is the one that the tablet shows.
func TestListIsWhatThePreviewShows(t *testing.T) {
	a := care.Assess(decoded(t))
	for _, u := range []say.Units{{}, {System: say.US}} {
		type line struct{ ID, Text string }
		var said struct {
			Now, Pour, Findings, Visit, Next []line
			Customer                         []string
		}
		if err := json.Unmarshal(wire.Preview(a, nil, u), &said); err != nil {
			t.Fatal(err)
		}
		var want []visit.ListLine
		add := func(part string, lines []line) {
			for _, l := range lines {
				want = append(want, visit.ListLine{Part: part, ID: l.ID, Text: l.Text})
			}
		}
		add("now", said.Now)
		add("pour", said.Pour)
		add("findings", said.Findings)
		add("visit", said.Visit)
		add("next", said.Next)
		for _, text := range said.Customer {
			add("customer", []line{{Text: text}})
		}
		if len(said.Now) == 0 || len(said.Findings) == 0 || len(said.Customer) == 0 {
			t.Fatalf("the example says too little: %+v", said)
		}
		if got := wire.ListOf(a, u); !reflect.DeepEqual(got, want) {
			t.Errorf("the list is\n%+v, the preview\n%+v", got, want)
		}
	}
}
