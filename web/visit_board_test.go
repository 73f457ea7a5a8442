package web_test

import (
	"encoding/json"
	"net/http"
	"strings"
	"testing"
	"time"

	"scaperound/domain/wire"
)

// What a tablet says by itself of a form, with what it took along, is what the
// server says, byte for byte.
func TestBoardJudgesAsTheServerDoes(t *testing.T) {
	p := newPond(t)
	v := p.SignIn(t, p.Technician)
	// A history: a visit that is kept, and what follows from it.
	v.Script("POST", "/tanks/"+p.tank+"/visits", p.visitForm("performed", "2026-11-10T10:00", "reading.ph.before", "6,2", "sign.fish_at_surface_late", "seen")...).Wants(http.StatusCreated)
	board := v.Get("/tanks/" + p.tank + "/board").Wants(http.StatusOK)
	if kind := board.Header.Get("Content-Type"); !strings.HasPrefix(kind, "application/json") {
		t.Errorf("it is %s", kind)
	}
	taken, err := wire.DecodeBoard([]byte(board.Body))
	if err != nil {
		t.Fatal(err)
	}
	if len(taken.Case.History) != 1 || taken.Case.Setup.ID != p.tank {
		t.Fatalf("%d visits of %q are on board", len(taken.Case.History), taken.Case.Setup.ID)
	}
	if again := wire.EncodeBoard(taken); string(again) != string(board.Body) {
		t.Error("a board that is read and written again is another")
	}
	task := nowhere
	if len(taken.Case.Open) > 0 {
		task = taken.Case.Open[0].ID
	}
	for name, change := range map[string][]string{
		"routine":    {"visit", id(5), "revision", id(6)},
		"acid":       {"visit", id(5), "revision", id(6), "reading.ph.before", "6,1", "look.animals", "trouble", "sign.fish_rapid_gill_beat", "seen"},
		"skipped":    {"visit", id(5), "revision", id(6), "task." + task, "skipped", "task." + task + ".reason", "no_time"},
		"done":       {"visit", id(5), "revision", id(6), "task." + task, "done"},
		"impossible": {"visit", id(5), "revision", id(6), "reading.kh.before", "400", "reading.temp.before", "24,5", "unit.temp.before", "C", "work.water_change.cans", ""},
		"amended":    {"reading.kh.before", "7"},
	} {
		fields := p.visitForm(change...)
		said := strings.TrimSpace(string(v.Script("POST", "/tanks/"+p.tank+"/preview", fields...).Wants(http.StatusOK).Body))
		var pairs [][2]string
		for i := 0; i < len(fields); i += 2 {
			pairs = append(pairs, [2]string{fields[i], fields[i+1]})
		}
		form, err := json.Marshal(pairs)
		if err != nil {
			t.Fatal(err)
		}
		here, err := wire.Judge([]byte(board.Body), form, theNow.Format(time.RFC3339Nano))
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if string(here) != said {
			t.Errorf("%s:\nserver %s\nhere   %s", name, said, here)
		}
	}
	for _, bad := range []string{`{}`, `{"Rules":"0"}`, `[`, `{"Surprise":1}`} {
		if _, err := wire.Judge([]byte(bad), []byte(`[]`), theNow.Format(time.RFC3339Nano)); err == nil {
			t.Errorf("%s is a board", bad)
		}
	}
}
