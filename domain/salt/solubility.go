package salt

import (
	"scaperound/domain/fault"
	"scaperound/domain/num"
	"scaperound/domain/quantity"
)

// HydratePerWater converts a solubility as handbooks print it (mass per cent of
// the anhydrous salt in the saturated solution) into grams of the salt as sold per
// 100 g of added water; crystal water counts as part of the salt.
//
//	h = p·M(hydrate)/M(anhydrous),  100·h/(100 - h)
//
// The hydrate must come to less than the whole solution. Source: mass balance.
func (s *Salt) HydratePerWater(percent float64) (float64, error) {
	h, err := s.hydratePercent(percent)
	if err != nil {
		return 0, err
	}
	return 100 * h / (100 - h), nil
}

func (s *Salt) hydratePercent(percent float64) (float64, error) {
	if s.Mass == 0 {
		return 0, fault.New(fault.Invalid, "%s is a technical product; its solubility stands on its label.", s.ID)
	}
	h := percent * s.Mass / (s.Mass - s.WaterMass)
	if err := num.Within("The solubility", percent, 0, 100, "%"); err != nil {
		return 0, err
	}
	return h, num.Within("The salt in its saturated solution", h, 0, 99.9, "%")
}

// AnhydrousPercent returns the handbook's mass per cent at 5 to 40 °C from its two
// points: the line through them below 25 °C, and the value at 25 °C above it. Below
// 20 °C the line is an extrapolation, which the second result says. A salt without
// figures is an Invalid fault.
func (s *Salt) AnhydrousPercent(t quantity.Celsius) (percent float64, extrapolated bool, err error) {
	if err := num.Within("The storage temperature", float64(t), 5, 40, "°C"); err != nil {
		return 0, false, err
	}
	at20, at25 := s.Saturated[0], s.Saturated[1]
	if at20 == 0 {
		return 0, false, fault.New(fault.Invalid, "There is no solubility for %s here; keep to its label.", s.ID)
	}
	if at25 == 0 {
		at25 = at20
	}
	if t >= 25 {
		return at25, t > 25, nil
	}
	return max(0, at20+float64((at25-at20)/5*(float64(t)-20))), t < 20, nil
}

// PerLitre returns the grams of the salt as sold that a litre of saturated
// solution holds at least: its mass share of a kilogram, since a saturated
// solution weighs more than a kilogram a litre.
func (s *Salt) PerLitre(t quantity.Celsius) (quantity.Gram, bool, error) {
	p, far, err := s.AnhydrousPercent(t)
	if err != nil {
		return 0, false, err
	}
	h, err := s.hydratePercent(p)
	return quantity.Gram(10 * h), far, err
}
