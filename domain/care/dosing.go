package care

import (
	"math"
	"slices"

	"scaperound/domain/chem"
	q "scaperound/domain/quantity"
	"scaperound/domain/salt"
	"scaperound/domain/say"
	"scaperound/domain/tank"
)

// saltFor is how much of a salt raises a solute by so many mg/L in the net
// water; nothing where the volume is not known.
func (v *View) saltFor(id, what string, of q.Kind, rise float64) []Amount {
	if !v.Net.OK || !(rise > 0) {
		return nil
	}
	s, err := salt.Find(id)
	if err != nil {
		return []Amount(nil)
	}
	solute, ok := salt.FromKind(of)
	if !ok {
		return nil
	}
	d, err := salt.ForRise(s, solute, rise, v.Net.V)
	if err != nil {
		return nil
	}
	return append([]Amount{{what, float64(d.Mass), q.Gr}}, v.fromBottle(of, rise)...)
}

// fromBottle is the same dose from the bottle that the plan uses, in millilitres
// and, where its pump is calibrated, in whole strokes.
func (v *View) fromBottle(of q.Kind, rise float64) []Amount {
	for _, l := range v.Plan.Lines {
		if l.Solute != of || l.PerDose <= 0 || !l.MlPerDose.OK || l.MlPerDose.V <= 0 {
			continue
		}
		ml := rise * float64(v.Net.V) / float64(l.PerDose) * float64(l.MlPerDose.V)
		out := []Amount{{"stock", ml, q.ML}}
		if l.MlPerStroke.OK {
			if n, err := salt.Strokes(q.Millilitre(ml), l.MlPerStroke.V); err == nil && n >= 0.5 {
				out = append(out, Amount{"strokes", math.Round(n), ""})
			}
		}
		return out
	}
	return nil
}

// What a degree of GH is in mg/L of calcium and of magnesium, and the most that
// one dose raises them by.
const (
	calciumPerDegree   = chem.MmolPerDegree * chem.MassCa
	magnesiumPerDegree = chem.MmolPerDegree * chem.MassMg
	calciumRise        = 10.0
	magnesiumRise      = 5.0
)

// calciumWish raises calcium, and GH with it by no more than the share of a day's
// step that it may take.
func (v *View) calciumWish(rank Rank, share float64) []Wish {
	rise := min(calciumRise, v.stepOfGH()*share*calciumPerDegree)
	return []Wish{{Action: "dose_ca", Rank: rank, Amount: v.saltFor("CaSO4.2H2O", "salt.gypsum", q.Calcium, rise)}}
}

// magnesiumWish is calciumWish for magnesium.
func (v *View) magnesiumWish(rank Rank, share float64) []Wish {
	rise := min(magnesiumRise, v.stepOfGH()*share*magnesiumPerDegree)
	return []Wish{{Action: "dose_mg", Rank: rank, Amount: v.saltFor("MgSO4.7H2O", "salt.epsom", q.Magnesium, rise)}}
}

// stepOfGH is by how much GH may rise in a day, °d: as dayStep says, two degrees
// where there are no animals.
func (v *View) stepOfGH() float64 {
	gh, ok := v.Tank(q.GH)
	switch {
	case !v.Animals:
		return 2
	case !ok && v.Shrimp:
		return leastRise
	case !ok:
		return 1
	}
	return v.dayStep(q.GH, gh.Value)
}

// pauseDose leaves the ion out of the plan where the plan gives it, until it
// reads below the limit; nothing where no line of the plan is known.
func (v *View) pauseDose(of q.Kind, rank Rank, limit float64) []Wish {
	for _, l := range v.Plan.Lines {
		if l.Solute != of || l.PerDose <= 0 || l.Weekdays == 0 {
			continue
		}
		m, _ := q.MeasureOf(of)
		w := Wish{Action: PauseDose, Subject: string(of), Rank: rank, Say: say.S("do.pause", say.Text("what", m.Title), say.Num("limit", limit, m.Unit, 0)),
			Expect: &Expectation{Kind: of, Hi: limit, Days: int(v.everyDays())}}
		if l.ByWhom == "device" || l.How == tank.ByDoser {
			w.Who, w.When = Technician, WhenThisVisit // the device doses on until we set it
		}
		return []Wish{w}
	}
	return nil
}

// dosedUnseen reports whether somebody doses and no line says what.
func (v *View) dosedUnseen() bool {
	return len(v.Plan.Lines) == 0 && v.Plan.By != "" && v.Plan.By != tank.DosedByNobody
}

// slowly reports whether this tank's animals feel a step of salts.
func (v *View) slowly() bool {
	if v.Shrimp || v.Snails {
		return true
	}
	for _, a := range v.Setup.Animals {
		if a.Count > 0 && (a.Group == "tetras_sensitive" || a.Group == "dwarf_cichlids") {
			return true
		}
	}
	return v.Animals
}

// smallerFor is the change that dwarf shrimp of soft water bear, where there are any
// and no poison is in the water: what leaves with it is salts as well.
func (v *View) smallerFor(change string) string {
	if v.softShrimp() && !v.Fact("tan_present") && !v.Fact("no2_present") {
		return "wc_20"
	}
	return change
}

// softShrimp reports dwarf shrimp that are kept in water without KH, and well.
func (v *View) softShrimp() bool {
	return !v.distressed() && slices.ContainsFunc(v.Setup.Animals, func(a tank.Living) bool { return a.Count > 0 && a.Group == "bee_shrimp" })
}
