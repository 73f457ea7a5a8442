package calc

import (
	"scaperound/domain/quantity"
	"scaperound/domain/salt"
)

func solubilityDefs() []Def {
	inSalt := word("salt", "salt as sold", saltNames()...)
	return []Def{
		{
			Name: "mass_percent_anhydrous_in_saturated_solution", Aliases: []string{"solubility_percent"}, Title: "Solubility of a salt as the handbook prints it", Topic: TopicFact, In: []Input{{Key: "salt_anhydrous_part_of", Aliases: []string{"salt"}, Title: "salt as sold", Shape: Word, Choices: saltNames()}, inT}, Out: "% w/w", Source: refCRC, Valid: "20 to 25 °C; below 20 °C a line through both",
			Eval: func(a Args) (Answer, error) {
				s, err := salt.Find(a.Word("salt_anhydrous_part_of", ""))
				if err != nil {
					return Answer{}, err
				}
				v, far, err := s.AnhydrousPercent(quantity.Celsius(a.F("T_C")))
				return one(v).warn(far, "calc.solubility_extrapolated"), err
			},
		},
		{
			Name: "g_hydrate_per_100g_added_water", Aliases: []string{"solubility"}, Title: "Grams of a salt that dissolve in 100 g of water", Topic: TopicSalt, Find: "saturated solubility", In: []Input{inSalt, inT.or(20), in("CRC_anhydrous_mass_percent", "handbook value, where it is not the table's", quantity.Percent).opt()}, Out: perHundred, Source: refCRC,
			Eval: func(a Args) (Answer, error) {
				s, err := salt.Find(a.Word("salt", ""))
				if err != nil {
					return Answer{}, err
				}
				p, far := a.F("CRC_anhydrous_mass_percent"), false
				if !a.Has("CRC_anhydrous_mass_percent") {
					if p, far, err = s.AnhydrousPercent(quantity.Celsius(a.F("T_C"))); err != nil {
						return Answer{}, err
					}
				}
				v, err := s.HydratePerWater(p)
				h := p * s.Mass / (s.Mass - s.WaterMass)
				return one(v, step("salt with its water", "{p} · {M}/{Ma}", h, quantity.Percent, "p", p, "M", s.Mass, "Ma", s.Mass-s.WaterMass),
					step("per 100 g of water", "100 · {h}/(100 − {h})", v, perHundred, "h", h)).warn(far, "calc.solubility_extrapolated"), err
			},
		},
	}
}
