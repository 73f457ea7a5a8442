package main_test

import (
	"encoding/hex"
	"encoding/json"
	"math"
	"math/rand/v2"
	"testing"

	"scaperound/domain/care"
	"scaperound/domain/wire"
)

// learnt is every bit of what a tank's history taught, as the browser's build of
// tests answers it.
func learnt(text string) string {
	c, _, err := wire.DecodeCase([]byte(text))
	if err != nil {
		return string(wire.EncodeFaults(err))
	}
	memory := care.Assess(c).Memory
	return hex.EncodeToString(memory.Bytes())
}

// years are tanks with two years of visits, each judged and each folded to the
// last bit: an error of one rounding would grow over a hundred visits.
func years(t *testing.T) []ask {
	t.Helper()
	var out []ask
	for seed := range uint64(24) {
		r := rand.New(rand.NewPCG(11, seed))
		between := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
		every := 7 * (1 + int(seed%2))
		day := 730 / every * every
		history := []map[string]any{}
		note := func(ago int, key string, v float64) {
			history = append(history, map[string]any{"days_ago": ago, "key": key, "value": v})
		}
		no3, po4, k, fe, gh, kh, flow := between(5, 30), between(0.1, 2), between(3, 20), between(0.01, 0.2), between(4, 16), between(2, 9), between(300, 900)
		for ago := day; ago > 0; ago -= every {
			walk := func(x *float64, sd float64) float64 { *x *= math.Exp(sd * r.NormFloat64()); return *x }
			note(ago, "no3_mg_l", math.Round(walk(&no3, 0.15)))
			if r.IntN(3) == 0 {
				note(ago, "po4_mg_l", math.Round(20*walk(&po4, 0.2))/20)
				note(ago, "fe_mg_l", math.Round(100*walk(&fe, 0.3))/100)
				note(ago, "flow_l_h", math.Round(walk(&flow, 0.05)))
			}
			if r.IntN(2) == 0 {
				note(ago, "k_mg_l", math.Round(walk(&k, 0.1)))
				slip := 1.0
				if r.IntN(20) == 0 {
					slip = 10 // a point was lost
				}
				note(ago, "gh_d", math.Min(60, slip*math.Ceil(walk(&gh, 0.05))))
				note(ago, "kh_d", math.Ceil(2*walk(&kh, 0.05))/2)
			}
			history = append(history, map[string]any{"days_ago": ago, "work": "water_change", "litres": between(20, 60)})
			if r.IntN(8) == 0 {
				history = append(history, map[string]any{"days_ago": ago, "work": "filter_clean"})
			}
		}
		doc, err := json.Marshal(map[string]any{
			"day":     "2026-03-03",
			"tank":    map[string]any{"volume_net_l": between(60, 300), "age_weeks": 200, "substrate": [...]string{"rich_soil", "sand_gravel"}[seed%2], "filter_clean_l_h": between(400, 1200), "co2_injected": seed%3 == 0},
			"plan":    []map[string]any{{"solute": "no3", "mg_per_dose": between(50, 400), "doses_per_week": 7}, {"solute": "fe", "mg_per_dose": between(2, 9), "doses_per_week": 3}},
			"animals": []string{"tetras"}, "plants": []string{"stems"},
			"readings": map[string]any{"no3_mg_l": math.Round(no3), "gh_d": math.Ceil(gh)}, "history": history,
		})
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, ask{"assess", string(doc)}, ask{"learn", string(doc)})
	}
	return out
}

// The histories are read, and nearly all of the state is touched by them.
func TestYearsAreFolded(t *testing.T) {
	seen := map[string]bool{}
	for _, a := range years(t) {
		if a.Call != "learn" {
			continue
		}
		b, err := hex.DecodeString(learnt(a.Text))
		if err != nil || len(b) < 3000 {
			t.Fatalf("%s: %.200s", err, learnt(a.Text))
		}
		if seen[string(b)] {
			t.Error("two tanks taught the same")
		}
		seen[string(b)] = true
	}
}
