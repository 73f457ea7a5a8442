package source

import (
	"scaperound/domain/chem"
	"scaperound/domain/num"
	"scaperound/domain/quantity"
)

// MixedTemperature returns the temperature after changing the share w of a tank's
// water, 0 to 45 °C on both sides. The tank's fall counts for its animals, not the
// can's temperature.
//
// Source: heat balance with equal heat capacities.
func MixedTemperature(tank, water quantity.Celsius, w quantity.Share) (quantity.Celsius, error) {
	if err := checkMix(tank, water, w); err != nil {
		return 0, err
	}
	return tank + quantity.Celsius(float64(w)*float64(water-tank)), nil
}

// SourceTemperature returns how cold change water may be for the tank to fall by
// at most drop (0 to 10 K).
func SourceTemperature(tank quantity.Celsius, w quantity.Share, drop quantity.Kelvin) (quantity.Celsius, error) {
	if err := num.Within("The tank's temperature", float64(tank), 0, 45, "°C"); err != nil {
		return 0, err
	}
	if err := num.Within("The share changed", float64(w), 0.001, 1, ""); err != nil {
		return 0, err
	}
	if err := num.Within("The fall of temperature", float64(drop), 0, 10, "K"); err != nil {
		return 0, err
	}
	return tank - quantity.Celsius(float64(drop)/float64(w)), nil
}

// LargestFall is how far a tank's temperature may fall at a change.
//
// Source: L. C. Lim, P. Dhert and P. Sorgeloos (2003), Aquaculture Research 34,
// for animals moved between waters.
const LargestFall quantity.Kelvin = 2

// GasAfterChange returns the dissolved gas, in per cent of saturation, after cold
// air-saturated water has been mixed in and the whole has been heated back to the
// tank's temperature without losing gas. Above about 110 % it harms: aerate, mix or
// warm the water first. Oxygen stands for all gas; nitrogen's solubility changes
// with temperature nearly alike.
//
// Source: Benson and Krause (1984) for solubilities; J. Colt, Dissolved Gas
// Concentration in Water, for the limit.
func GasAfterChange(tank, water quantity.Celsius, w quantity.Share) (float64, error) {
	if err := checkMix(tank, water, w); err != nil {
		return 0, err
	}
	warm, err := chem.OxygenSaturation(tank, 0)
	if err != nil {
		return 0, err
	}
	cold, err := chem.OxygenSaturation(water, 0)
	if err != nil {
		return 0, err
	}
	return 100 * (1 + float64(w)*(float64(cold/warm)-1)), nil
}

func checkMix(tank, water quantity.Celsius, w quantity.Share) error {
	if err := num.Within("The tank's temperature", float64(tank), 0, 40, "°C"); err != nil {
		return err
	}
	if err := num.Within("The change water's temperature", float64(water), 0, 40, "°C"); err != nil {
		return err
	}
	return num.Within("The share changed", float64(w), 0, 1, "")
}
