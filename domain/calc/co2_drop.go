package calc

import (
	"scaperound/domain/chem"
	"scaperound/domain/quantity"
)

func evalDrop(a Args) (Answer, error) {
	d := chem.Drop{Water: chem.Water{Temp: quantity.Celsius(a.F("T_C")), Ionic: quantity.MolPerLitre(a.F("I_mol_L"))}, Air: airOf(a)}
	if a.Has("KH_d") {
		d.KH = quantity.Some(quantity.DegreeKH(a.F("KH_d")))
	}
	ppm := quantity.Interval{Value: a.F("room_ppm"), Lo: a.F("room_ppm"), Hi: a.F("room_ppm")}
	if a.Has("room_hi") {
		ppm.Hi = max(ppm.Lo, a.F("room_hi"))
	}
	e, err := chem.CO2DropInterval(reading(a, "pH_degassed", "dpH", "", ""), reading(a, "pH_tank", "dpH", "", ""), ppm, d)
	if err != nil {
		return Answer{}, err
	}
	eq, err := chem.CO2WithAir(d.Water.Temp, quantity.PartPerMillion((ppm.Lo+ppm.Hi)/2), d.Air.Altitude)
	if err != nil {
		return Answer{}, err
	}
	ans := one(float64(e.Value),
		step("CO2 of the sample", "~with air of {x} ppm", float64(eq), quantity.MgL, "x", (ppm.Lo+ppm.Hi)/2),
		step("CO2", "{sample} · 10^({pHs} − {pHt})", float64(e.Value), quantity.MgL, "sample", float64(eq), "pHs", a.F("pH_degassed"), "pHt", a.F("pH_tank")))
	if e.Hi > e.Lo {
		ans = ans.between(float64(e.Lo90), float64(e.Hi90))
	}
	return ans.warn(!e.Trusted, "calc.drop_small").warn(true, "calc.drop_reads_low"), nil
}
