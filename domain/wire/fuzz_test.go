package wire_test

import (
	"bufio"
	"encoding/json"
	"os"
	"testing"

	"scaperound/domain/wire"
)

// FuzzWholeJudgement puts documents of any shape to the whole judgement: each is refused
// with a fault or answered with a document that can be read back.
func FuzzWholeJudgement(f *testing.F) {
	corpus, err := os.Open("../care/testdata/corpus.jsonl")
	if err != nil {
		f.Fatal(err)
	}
	defer corpus.Close()
	lines := bufio.NewScanner(corpus)
	lines.Buffer(nil, 1<<20)
	for lines.Scan() {
		var c struct{ Visit json.RawMessage }
		if json.Unmarshal(lines.Bytes(), &c) == nil {
			f.Add([]byte(c.Visit))
		}
	}
	for _, odd := range []string{
		`{}`, `{"day": "2026-11-24", "readings": {"no3_mg_l": 5}}`, `{"day": "2099-01-01", "history": [{"days_ago": 0, "key": "kh_d", "value": 4}]}`,
		`{"tank": {"volume_net_l": 0.1, "co2_injected": true}, "readings": {"ph_late": 4, "ph_degassed": 9, "kh_d": 0.1, "tan_mg_n_l": 50}, "animals": ["tetras"]}`,
		`{"readings": {"temp_c": 40, "temp_min_c": 1, "temp_max_c": 2}, "animals": ["tetras"], "signs": ["animals_normal", "fish_at_surface_all_day"]}`,
		`{"day": "2026-11-24", "closed": [{"task": {"id": "x", "action": "dose_no3", "expect": {"kind": "no3", "lo": 9, "hi": 1, "days": 3}}, "state": "done", "days_ago": 20}], "readings": {"no3_mg_l": 5}}`,
		`{"open": [{"id": "a", "action": "no such action"}, {"id": "", "action": "wc_30_50", "amount": [{"what": "water", "value": -1, "unit": "L"}]}], "work": [{"kind": "water_change"}]}`,
	} {
		f.Add([]byte(odd))
	}
	f.Fuzz(func(t *testing.T, in []byte) {
		out, err := wire.Assess(in)
		if err != nil {
			return
		}
		if _, err := wire.DecodeAssessment(out); err != nil {
			t.Fatalf("the answer cannot be read back: %v\n%s", err, out)
		}
	})
}
