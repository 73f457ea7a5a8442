package gear

import (
	"scaperound/domain/num"
	"scaperound/domain/quantity"
)

// Heat of water.
const (
	LatentMJ       = 2.44  // MJ/kg, evaporation at 25 °C
	WhPerLitreK    = 1.163 // Wh to warm a litre by 1 K
	UsualGlassU    = 5.5   // W/m²K of 6 to 12 mm glass between water and still room air
	secondsPerDay  = 86400
	joulesPerMega  = 1e6
	largestHeatDif = 40.0 // K
)

// GlassLoss returns the heat that passes the sides: U (1 to 20 W/m²K), area (0 to
// 100 m²), difference to the room (-40 to 40 K).
//
//	P = U A ΔT
//
// Source: heat transfer; the films of air and water decide U, not the glass.
func GlassLoss(u float64, side quantity.SquareMetre, dt quantity.Kelvin) (quantity.Watt, error) {
	if err := num.Within("The heat transfer of the glass", u, 0.5, 20, "W/m²K"); err != nil {
		return 0, err
	}
	if err := num.Within("The sides' area", float64(side), 0, 100, "m²"); err != nil {
		return 0, err
	}
	if err := num.Within("The difference to the room", float64(dt), -largestHeatDif, largestHeatDif, "K"); err != nil {
		return 0, err
	}
	return quantity.Watt(u * float64(side) * float64(dt)), nil
}

// EvaporationLoss returns the heat that so many kg of water a day carry away, at
// a latent heat of 2 to 3 MJ/kg.
func EvaporationLoss(perDay quantity.Kilogram, latent float64) (quantity.Watt, error) {
	if err := num.Within("Evaporation", float64(perDay), 0, 1000, "kg a day"); err != nil {
		return 0, err
	}
	if err := num.Within("The latent heat", latent, 2, 3, "MJ/kg"); err != nil {
		return 0, err
	}
	return quantity.Watt(float64(perDay) * latent * joulesPerMega / secondsPerDay), nil
}

// HoursToWarm returns how long a net power (what is left after losses, above 0)
// needs to warm a volume by dt (0 to 40 K).
//
//	t = 1.163 V ΔT/P
func HoursToWarm(v quantity.Litre, dt quantity.Kelvin, net quantity.Watt) (quantity.Hours, error) {
	if err := num.Within("The volume", float64(v), 0.1, 1e6, "L"); err != nil {
		return 0, err
	}
	if err := num.Within("The rise of temperature", float64(dt), 0, largestHeatDif, "K"); err != nil {
		return 0, err
	}
	if err := num.Within("The power left to warm with", float64(net), 0.1, 1e6, "W"); err != nil {
		return 0, err
	}
	return quantity.Hours(WhPerLitreK * float64(v) * float64(dt) / float64(net)), nil
}

// Heating is what a tank needs of heaters.
type Heating struct {
	Glass, Evaporation, Total quantity.Watt // in the steady state
	// Each is the size of one of two equal heaters, with half as much again as the
	// steady need: one that sticks on cannot cook the tank, one that fails lets it
	// cool slowly.
	Each quantity.Watt
}

// SizeHeaters returns the steady need and two heaters for it.
//
// Source: GlassLoss and EvaporationLoss; the reserve is practice.
func SizeHeaters(side quantity.SquareMetre, dt quantity.Kelvin, evaporation quantity.Kilogram) (Heating, error) {
	g, err := GlassLoss(UsualGlassU, side, dt)
	if err != nil {
		return Heating{}, err
	}
	e, err := EvaporationLoss(evaporation, LatentMJ)
	if err != nil {
		return Heating{}, err
	}
	h := Heating{Glass: g, Evaporation: e, Total: max(0, g+e)}
	h.Each = h.Total * 1.5 / 2
	return h, nil
}

// SidesOf is the area of a tank's four sides that the water wets, from its inner
// sizes. Sizes from 1 to 1000 cm.
func SidesOf(length, width, level quantity.Centimetre) (quantity.SquareMetre, error) {
	for _, c := range [...]struct {
		name string
		v    quantity.Centimetre
	}{{"The inner length", length}, {"The inner width", width}, {"The water level", level}} {
		if err := num.Within(c.name, float64(c.v), 1, 1000, "cm"); err != nil {
			return 0, err
		}
	}
	return quantity.SquareMetre(2 * float64(length+width) * float64(level) / 1e4), nil
}
