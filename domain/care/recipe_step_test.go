package care_test

import (
	"math"
	"testing"

	"scaperound/domain/care"
	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
)

// mixed is what a change makes of the tank's GH: 100 L of it and the litres of the
// recipe, with gypsum (CaSO4·2H2O, 172.17 g/mol) and Epsom salt (MgSO4·7H2O, 246.47
// g/mol) as weighed; a degree is 0.17848 mmol/L of alkaline earths.
func mixed(r care.Recipe, tank float64) float64 {
	mmol := 0.0
	for _, a := range r.Weigh {
		switch a.What {
		case "salt.gypsum":
			mmol += 1000 * a.Value / 172.17
		case "salt.epsom":
			mmol += 1000 * a.Value / 246.47
		}
	}
	litres := float64(r.Litres.V)
	return (tank*(100-litres) + mmol/0.17848) / 100
}

// The recipe of one change moves the tank by no more than a day's step: a degree of
// GH for fish, a tenth for shrimp; and it leaves a tank that is within its band as
// it is.
func TestRecipeMovesNoTankTooFar(t *testing.T) {
	salts := source(tank.ROWithSalts)
	for _, c := range []struct {
		name     string
		who      string
		gh       float64
		low, far float64 // that the tank has after it
	}{
		{"tetras in their band", "tetras", 3, 2.9, 3.1},
		{"rasboras in water that is far too soft", "rasboras", 0.6, 1.2, 1.61},
		{"shrimp in their band", "dwarf_shrimp", 5, 4.9, 5.1},
		{"shrimp below it", "dwarf_shrimp", 3, 3.1, 3.31},
	} {
		a := care.Assess(made(animals(c.who), salts, rd("gh", c.gh), rd("kh", 2.0), rd("temp", 24), rd("tan", 0.0), rd("no2", 0.0)))
		if !a.Recipe.Litres.OK {
			t.Fatalf("%s: no recipe", c.name)
		}
		if got := mixed(a.Recipe, c.gh); got < c.low || got > c.far || math.IsNaN(got) {
			t.Errorf("%s: GH %.1f becomes %.2f by %.0f L and %+v", c.name, c.gh, got, float64(a.Recipe.Litres.V), a.Recipe.Weigh)
		}
	}
}

// Chloramine frees ammonia when it is reduced: water that brings as much as the tank
// has takes none away.
func TestNoChangeWithWaterThatBringsAmmonia(t *testing.T) {
	tap := []opt{animals("tetras"), source(tank.Tap, "kh", 6.0), rd("tan", 0.25), rd("ph", 7.6), rd("kh", 6.0), rd("temp", 24)}
	a := care.Assess(made(append(tap, rd("total_chlorine.source", 1.8), rd("free_chlorine.source", 0.1))...))
	for _, x := range a.Tasks {
		if care.ActionOf(x.Action).Family == "change" {
			t.Errorf("0.34 mg/L come with the tap, and %s is asked for", x.Action)
		}
	}
	plain := care.Assess(made(tap...))
	if len(plain.Tasks) == 0 || !hasChange(plain) {
		t.Error("without chloramine nothing is changed either")
	}
}

func hasChange(a care.Assessment) bool {
	for _, x := range a.Tasks {
		if care.ActionOf(x.Action).Family == "change" {
			return true
		}
	}
	return false
}

// A supply that changed is seen by its own earlier readings, not by the tank's.
func TestSourceThatMoved(t *testing.T) {
	for _, c := range []struct {
		name  string
		with  []opt
		moved bool
	}{
		{"EC doubled", []opt{ago(14, "ec.source", 270.0), rd("ec.source", 560)}, true},
		{"as it was", []opt{ago(14, "ec.source", 270.0), rd("ec.source", 300)}, false},
		{"a kit's step of GH", []opt{ago(14, "gh.source", 3.0), rd("gh.source", 4.0)}, false},
		{"never read before", []opt{rd("ec.source", 560)}, false},
	} {
		a := care.Assess(made(append([]opt{animals("tetras"), fine}, c.with...)...))
		found := false
		for _, f := range a.Findings {
			found = found || f.Rule == "source"
		}
		if found != c.moved {
			t.Errorf("%s: %v", c.name, found)
		}
		if c.moved && (a.Status == care.AllWell || len(a.Tasks) == 0) {
			t.Errorf("%s: %s with %v", c.name, a.Status, actionsOf(a))
		}
	}
}

// Of what ammonia asks for 25 L were changed at the visit: the rest is asked for.
func TestOnlyTheRestOfAChangeIsAskedFor(t *testing.T) {
	changed := record(func(r *visit.Record) {
		r.Work = []visit.Work{{Kind: visit.WaterChange, Litres: q.Some(q.Litre(25))}}
	})
	base := []opt{animals("tetras"), rd("tan", 0.5), rd("ph", 7.0), rd("kh", 4.0), rd("temp", 24), source(tank.Tap, "kh", 4.0)}
	litres := func(a care.Assessment) float64 {
		for _, x := range a.Tasks {
			if care.ActionOf(x.Action).Family == "change" && len(x.Amount) > 0 {
				return x.Amount[0].Value
			}
		}
		return 0
	}
	whole := litres(care.Assess(made(base...)))
	if whole < 30 {
		t.Fatalf("%.1f L without a change", whole)
	}
	if got := litres(care.Assess(made(append(base, changed)...))); got != whole-25 {
		t.Errorf("%.1f L more, where 25 of %.1f were changed", got, whole)
	}
}
