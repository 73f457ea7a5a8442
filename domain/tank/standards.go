package tank

import q "scaperound/domain/quantity"

// Standard is a target profile that a shop starts with. The numbers are trade
// practice unless a note says otherwise, meant to be altered: a shop's own
// experience with its water is worth more.
type Standard struct {
	Name, About string
	LightNeed   q.Opt[q.Micromol]
	Bands       []Band
}

// between is a band with both ends, in the canonical unit of the kind.
func between(k q.Kind, lo, hi float64) Band { return Band{Kind: k, Lo: q.Some(lo), Hi: q.Some(hi)} }

// upTo is a band that is open below.
func upTo(k q.Kind, hi float64) Band { return Band{Kind: k, Hi: q.Some(hi)} }

// hard adds the ends beyond which it is no matter of taste any more.
func (b Band) hard(lo, hi float64) Band {
	b.HardLo, b.HardHi = q.Some(lo), q.Some(hi)
	return b
}

// hardAbove adds an upper hard end.
func (b Band) hardAbove(hi float64) Band {
	b.HardHi = q.Some(hi)
	return b
}

// hardBelow adds a lower hard end.
func (b Band) hardBelow(lo float64) Band {
	b.HardLo = q.Some(lo)
	return b
}

// safeNitrogen holds in every tank with animals. TAN and NO2 belong at nothing;
// 0.1 mg/L is what the first class of the usual kits can tell, and 0.25 mg/L of
// TAN in a tank that has run in is a fault to find. Where ammonia harms follows
// from pH and temperature and is computed from the reading, not from this band.
func safeNitrogen() []Band {
	return []Band{
		upTo(q.TAN, 0.1).hardAbove(0.25),
		upTo(q.Nitrite, 0.1).hardAbove(0.3),
	}
}

// carbon is CO2 in tanks with injection: up to 20 mg/L animals are at ease,
// 20 to 30 is watched, above 40 is an alarm whatever lives there.
func carbon(lo, hi float64) Band { return between(q.CO2, lo, hi).hardAbove(40) }

// Standards returns the profiles of a new shop.
//
// Light needs are PPFD at plant height: about 15 to 40 µmol/m²/s for undemanding
// plants, 40 to 80 for the middle, 80 to 150 for demanding ones (light
// compensation of submerged leaves at 10 to 25, half saturation at 30 to 120:
// T. V. Madsen and K. Sand-Jensen, 1994, Aquat. Bot. 48). Nitrate's hard end of
// 50 mg/L is near the 44 mg/L that can harm sensitive animals in the long run
// (J. A. Camargo et al., 2005, Chemosphere 58). Oxygen below 5 mg/L at dawn is
// too little for most fish.
func Standards() []Standard {
	return []Standard{
		{"Rich soil, CO2, strong light",
			"Carpets, red stems and demanding plants on rich soil. Dosed daily, half the water changed weekly, CO2 steady before anything else.",
			q.Some(q.Micromol(80)),
			append([]Band{
				between(q.Temperature, 22, 25).hard(18, 29), between(q.Acidity, 5.8, 6.8).hard(5.2, 7.6),
				between(q.KH, 1, 4).hardBelow(0.5), between(q.GH, 4, 8).hard(2, 16),
				between(q.Nitrate, 8, 20).hardAbove(50), between(q.Phosphate, 0.5, 2), between(q.Potassium, 10, 25), between(q.Iron, 0.05, 0.2),
				between(q.EC, 150, 450), carbon(20, 30), between(q.PPFD, 80, 150), upTo(q.FreeChlorine, 0.02),
			}, safeNitrogen()...)},
		{"CO2, medium light",
			"Stems, rosettes and epiphytes with CO2 in the ordinary customer's tank.",
			q.Some(q.Micromol(40)),
			append([]Band{
				between(q.Temperature, 22, 26).hard(18, 30), between(q.Acidity, 6.2, 7.1).hard(5.5, 8),
				between(q.KH, 2, 6).hardBelow(0.5), between(q.GH, 4, 10).hard(2, 20),
				between(q.Nitrate, 6, 15).hardAbove(50), between(q.Phosphate, 0.3, 1.5), between(q.Potassium, 6, 20), between(q.Iron, 0.03, 0.15),
				between(q.EC, 200, 550), carbon(15, 25), between(q.PPFD, 40, 80), upTo(q.FreeChlorine, 0.02),
			}, safeNitrogen()...)},
		{"Low-tech",
			"No CO2, undemanding plants, fed by the fish. A reading of nothing with plants that look right is left alone.",
			q.Some(q.Micromol(15)),
			append([]Band{
				between(q.Temperature, 22, 26).hard(18, 30), between(q.Acidity, 6.5, 7.8).hard(5.8, 8.5),
				between(q.KH, 2, 10).hardBelow(1), between(q.GH, 4, 14).hard(2, 25),
				upTo(q.Nitrate, 20).hardAbove(50), upTo(q.Phosphate, 1), upTo(q.Potassium, 15), upTo(q.Iron, 0.1),
				between(q.EC, 200, 700), between(q.PPFD, 15, 40), upTo(q.FreeChlorine, 0.02),
			}, safeNitrogen()...)},
		{"Soft-water shrimp",
			"Soft-water dwarf shrimp on soil with remineralised pure water. Steadiness before everything: small changes, matched water.",
			q.Some(q.Micromol(15)),
			[]Band{
				between(q.Temperature, 20, 24).hard(17, 26), between(q.Acidity, 5.4, 6.6).hard(5, 7),
				upTo(q.KH, 1).hardAbove(3), between(q.GH, 4, 6).hard(3, 8),
				upTo(q.Nitrate, 10).hardAbove(20), upTo(q.Phosphate, 0.5), upTo(q.Potassium, 8), upTo(q.Iron, 0.05),
				between(q.EC, 140, 280).hard(100, 400), upTo(q.CO2, 15).hardAbove(30), between(q.PPFD, 15, 50),
				// Copper above 0.01 mg/L is not safe for shrimp and snails.
				upTo(q.Copper, 0.005).hardAbove(0.01), upTo(q.FreeChlorine, 0.01),
				upTo(q.TAN, 0.05).hardAbove(0.25), upTo(q.Nitrite, 0.05).hardAbove(0.2),
			}},
		{"Hard tap water",
			"Unsoftened hard water with livebearers and plants that use bicarbonate. Not fought against: plants are chosen for it.",
			q.Some(q.Micromol(30)),
			append([]Band{
				between(q.Temperature, 22, 27).hard(18, 30), between(q.Acidity, 7, 8.2).hard(6.6, 8.6),
				between(q.KH, 6, 16).hardBelow(4), between(q.GH, 8, 25).hardBelow(6),
				upTo(q.Nitrate, 25).hardAbove(50), upTo(q.Phosphate, 1.5), upTo(q.Potassium, 20), upTo(q.Iron, 0.1),
				between(q.EC, 400, 1000), upTo(q.CO2, 25).hardAbove(40), between(q.PPFD, 30, 70), upTo(q.FreeChlorine, 0.02),
			}, safeNitrogen()...)},
		{"Starting tank",
			"The first twelve weeks, before animals: ammonia and nitrite come and go, much water is changed, light is short and weak. No animals before both have been nothing at two visits at least five days apart.",
			q.Some(q.Micromol(30)),
			[]Band{
				between(q.Temperature, 22, 26).hard(18, 30), between(q.Acidity, 5.8, 7.4),
				between(q.KH, 1, 8).hardBelow(0.5), between(q.GH, 4, 12),
				// Soil gives off several mg/L; without animals that is a reason to
				// change water, not an alarm.
				upTo(q.TAN, 1).hardAbove(5), upTo(q.Nitrite, 1).hardAbove(5),
				upTo(q.Nitrate, 40), upTo(q.Phosphate, 2), upTo(q.Potassium, 25), upTo(q.Iron, 0.2),
				upTo(q.CO2, 30).hardAbove(40), between(q.PPFD, 30, 60), upTo(q.FreeChlorine, 0.02),
			}},
	}
}
