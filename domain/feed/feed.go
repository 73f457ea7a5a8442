// Package feed is what feeding does to the water: nitrate, ammonia, phosphate
// and alkalinity.
package feed

import (
	"scaperound/domain/chem"
	"scaperound/domain/num"
	"scaperound/domain/quantity"
)

// Food describes a feed and what becomes of it.
type Food struct {
	Protein   quantity.Share // of the feed's mass; nitrogen is protein/6.25
	Retained  quantity.Share // of its nitrogen, kept by the animals: 0.12 to 0.44, at maintenance 0.1 to 0.3
	Dissolved quantity.Share // of the rest, not siphoned off as solids: 0.65 to 0.9
}

// UsualFood is a dry feed for ornamental fish.
var UsualFood = Food{Protein: 0.45, Retained: 0.2, Dissolved: 0.8}

func (f Food) check() error {
	if err := num.Within("Protein", float64(f.Protein), 0, 1, ""); err != nil {
		return err
	}
	if err := num.Within("The share of nitrogen that is kept", float64(f.Retained), 0, 1, ""); err != nil {
		return err
	}
	return num.Within("The share that dissolves", float64(f.Dissolved), 0, 1, "")
}

// NitratePerGram returns the mg of NO3 that a gram of feed ends up as.
//
//	1000 · protein/6.25 · (1-retained) · dissolved · 4.4266
//
// Source: S. T. Summerfelt and C. M. Penne (2007), Aquacultural Engineering 37, for
// what fish retain; Jones' factor of 6.25 for nitrogen in protein.
func NitratePerGram(f Food) (quantity.Milligram, error) {
	if err := f.check(); err != nil {
		return 0, err
	}
	n := 1000 * float64(f.Protein) / 6.25 * (1 - float64(f.Retained)) * float64(f.Dissolved)
	return quantity.Milligram(n * chem.MassNO3 / chem.MassN), nil
}

// AmmoniaPerGram returns the grams of ammonia nitrogen per gram of feed by the
// rule of recirculating aquaculture.
//
//	P(TAN) = F · protein · 0.092
//
// Source: M. B. Timmons and J. M. Ebeling, Recirculating Aquaculture.
func AmmoniaPerGram(protein quantity.Share) (quantity.Gram, error) {
	if err := num.Within("Protein", float64(protein), 0, 1, ""); err != nil {
		return 0, err
	}
	return quantity.Gram(float64(protein) * 0.092), nil
}

// Released is what feeding adds to the net volume per day.
type Released struct {
	NO3, PO4     quantity.MgPerLitre // mg/L per day
	PO4Lo, PO4Hi quantity.MgPerLitre
}

// PerDay returns what so many grams a day (0 to 10000) add to the net volume.
// Phosphorus is 1.0 to 1.5 % of dry feed, of which 46 to 85 % is released, much
// of it as solids: the middle of 1 to 3 mg PO4 per gram and 100 L is given with
// its ends.
//
// Source: see NitratePerGram.
func PerDay(grams quantity.Gram, f Food, net quantity.Litre) (Released, error) {
	if err := num.Within("Feed", float64(grams), 0, 10000, "g a day"); err != nil {
		return Released{}, err
	}
	if err := num.Within("The net volume", float64(net), 0.1, 1e6, "L"); err != nil {
		return Released{}, err
	}
	per, err := NitratePerGram(f)
	if err != nil {
		return Released{}, err
	}
	g := float64(grams) / float64(net)
	return Released{
		NO3: quantity.MgPerLitre(g * float64(per)), PO4: quantity.MgPerLitre(g * 20),
		PO4Lo: quantity.MgPerLitre(g * 10), PO4Hi: quantity.MgPerLitre(g * 30),
	}, nil
}
