package gear

import (
	"scaperound/domain/chem"
	"scaperound/domain/num"
	"scaperound/domain/quantity"
)

// Limits of CO2 in the air that people breathe, ppm.
//
// Sources: OSHA PEL, ACGIH TLV and HSE EH40/2005 for the eight hours; ACGIH; HSE
// EH40/2005; NIOSH. Short-term limits differ between countries.
const (
	CO2EightHours quantity.PartPerMillion = 5000
	CO2ShortACGIH quantity.PartPerMillion = 30000
	CO2ShortUK    quantity.PartPerMillion = 15000
	CO2Dangerous  quantity.PartPerMillion = 40000             // immediately dangerous to life or health
	gasConstant                           = 0.082057366080960 // L atm/(mol K)
	oxygenInAir                           = 20.95             // %
)

// RoomCO2 returns what a room's air gains when so much CO2 (0 to 100 kg) escapes
// into it at once, without ventilation, on top of what it holds. The room is 1 to
// 100000 m³ at 0 to 45 °C. CO2 is heavier than air: cellars and cabinets fill from
// below and reach far more.
//
//	ppm = n·RT/(P·V)·1e6
//
// Source: ideal gas at 1 atm.
func RoomCO2(mass quantity.Kilogram, room quantity.CubicMetre, t quantity.Celsius) (quantity.PartPerMillion, error) {
	if err := num.Within("The CO2", float64(mass), 0, 100, "kg"); err != nil {
		return 0, err
	}
	if err := num.Within("The room", float64(room), 1, 100000, "m³"); err != nil {
		return 0, err
	}
	if err := num.Within("Temperature", float64(t), 0, 45, "°C"); err != nil {
		return 0, err
	}
	litres := float64(mass) * 1000 / chem.MassCO2 * gasConstant * float64(t.ToKelvin())
	return quantity.PartPerMillion(min(1e6, litres/(float64(room)*1000)*1e6)), nil
}

// RoomOxygen returns the oxygen of that room in per cent. It stays near the
// usual 20.95 long after the CO2 has become dangerous: CO2 itself is the poison.
func RoomOxygen(mass quantity.Kilogram, room quantity.CubicMetre, t quantity.Celsius) (float64, error) {
	x, err := RoomCO2(mass, room, t)
	if err != nil {
		return 0, err
	}
	return oxygenInAir * (1 - float64(x)*1e-6), nil
}

// AlarmNeeded reports whether the whole content could pass the short-term limit
// of 1.5 % in that room.
func AlarmNeeded(mass quantity.Kilogram, room quantity.CubicMetre, t quantity.Celsius) (bool, error) {
	x, err := RoomCO2(mass, room, t)
	return err == nil && x > CO2ShortUK, err
}
