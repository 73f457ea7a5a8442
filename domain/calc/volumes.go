package calc

import (
	"scaperound/domain/quantity"
	"scaperound/domain/volume"
)

func volumeDefs() []Def {
	return []Def{{
		Name: "net_volume_L", Sentence: "A tank of {inner_L_cm} by {inner_W_cm} inside, filled {fill_cm} high, holds", Aliases: []string{"net_volume", "volume"}, Title: "Net volume of a tank", Topic: TopicVolume, Find: "litres gallons substrate stone wood size",
		In: []Input{
			in("inner_L_cm", "inner length", quantity.CM, "length"), in("inner_W_cm", "inner width", quantity.CM, "width"), in("fill_cm", "water over the bottom", quantity.CM, "level"),
			in("substrate_cm", "mean depth of the substrate", quantity.CM, "substrate").or(0), in("porosity", "share of the substrate that is water", plain).or(volume.UsualPorosity).share(),
			in("stone_kg", "stone", quantity.Kg, "stone").or(0), in("wood_kg", "wood", quantity.Kg, "wood").or(0), in("stone_density", "density of the stone", kgPerL).or(volume.StoneDensity), in("filter_L", "water in the filter", quantity.L, "filter").or(0),
		},
		Out: quantity.L, Source: "geometry; Freeze and Cherry 1979 for porosities", Valid: "a metered first filling is better",
		Eval: func(a Args) (Answer, error) {
			v, err := volume.Of(volume.Setup{
				Length: quantity.Centimetre(a.F("inner_L_cm")), Width: quantity.Centimetre(a.F("inner_W_cm")), Level: quantity.Centimetre(a.F("fill_cm")), Substrate: quantity.Centimetre(a.F("substrate_cm")), Porosity: quantity.Share(a.F("porosity")),
				Stone: quantity.Kilogram(a.F("stone_kg")), Wood: quantity.Kilogram(a.F("wood_kg")), StoneDensity: quantity.Some(a.F("stone_density")), Filter: quantity.Litre(a.F("filter_L")),
			})
			return one(float64(v.Net),
				step("gross", "{L} · {W} · {h}/1000", float64(v.Gross), quantity.L, "L", a.F("inner_L_cm"), "W", a.F("inner_W_cm"), "h", a.F("fill_cm")),
				step("net", "{gross} − {L}·{W}·{s}/1000·(1 − {φ}) − {stone}/{ρ} − {wood}/1.1 + {filter}", float64(v.Net), quantity.L, "gross", float64(v.Gross), "L", a.F("inner_L_cm"), "W", a.F("inner_W_cm"), "s", a.F("substrate_cm"), "φ", a.F("porosity"),
					"stone", a.F("stone_kg"), "ρ", a.F("stone_density"), "wood", a.F("wood_kg"), "filter", a.F("filter_L")),
				step("net/gross", "", float64(v.Ratio), plain).also()).warn(v.Unusual, "calc.volume_unusual"), err
		},
	}, {
		Name: "volume_by_salt", Title: "Net volume by a salt tracer", Topic: TopicVolume, Find: "measure tracer conductivity litres gallons", In: []Input{in("g", "sodium chloride", quantity.Gr), in("dEC_uS_cm", "rise of conductivity", quantity.USCm), in("uS_per_mg_L", "conductivity of 1 mg/L salt, as calibrated", quantity.USCm).or(2.1)}, Out: quantity.L, Source: "dilution", Valid: "not with plants or animals that bear no salt",
		Eval: func(a Args) (Answer, error) {
			v, err := volume.BySalt(quantity.Gram(a.F("g")), quantity.MicroSPerCm(a.F("dEC_uS_cm")), a.F("uS_per_mg_L"))
			return one(float64(v), step("V", "{g} · 1000 · {k}/{dEC}", float64(v), quantity.L, "g", a.F("g"), "k", a.F("uS_per_mg_L"), "dEC", a.F("dEC_uS_cm"))), err
		},
	}}
}

func changeDefs() []Def {
	inC0 := in("C0", "in the tank now", quantity.MgL, "start")
	inTarget := in("target", "wanted", quantity.MgL)
	inSource := in("source", "in the change water", quantity.MgL).or(0)
	inShare := in("w", "share changed", plain, "share").share()
	const src Ref = "dilution at constant volume"
	return []Def{
		{
			Name: "single_fraction", Share: true, Sentence: "From {C0} down to {target} in one go takes a change of", Aliases: []string{"change_for_target"}, Title: "Share of one change for a target", Topic: TopicVolume, Find: "water change nitrate lower litres reduce decrease dilute fraction percent", In: []Input{inC0, inTarget, inSource, in("net_volume_L", "net volume", quantity.L, "net").opt()}, Out: plain, Source: src,
			Eval: func(a Args) (Answer, error) {
				v, err := volume.SingleShare(a.F("C0"), a.F("target"), a.F("source"))
				if err != nil {
					return Answer{}, err
				}
				ans := one(float64(v), step("share", "1 − ({Ct} − {S})/({C0} − {S})", float64(v), plain, "Ct", a.F("target"), "S", a.F("source"), "C0", a.F("C0")))
				if a.Has("net_volume_L") {
					l, err := volume.Litres(quantity.Litre(a.F("net_volume_L")), v)
					if err != nil {
						return Answer{}, err
					}
					ans.Steps = append(ans.Steps, step("litres", "{w} · {V}", float64(l), quantity.L, "w", float64(v), "V", a.F("net_volume_L")).also())
				}
				return ans.warn(v > 0.5, "calc.large_change"), nil
			},
		},
		{
			Name: "n_changes_real", Aliases: []string{"changes_for_target"}, Title: "Number of changes for a target", Topic: TopicVolume, Find: "reduce decrease repeated dilute", In: []Input{inC0, inTarget, inSource, inShare}, Out: plain, Source: src,
			Eval: func(a Args) (Answer, error) {
				v, err := volume.Changes(a.F("C0"), a.F("target"), a.F("source"), quantity.Share(a.F("w")))
				return one(v, step("n", "ln(({Ct} − {S})/({C0} − {S}))/ln(1 − {w})", v, plain, "Ct", a.F("target"), "S", a.F("source"), "C0", a.F("C0"), "w", a.F("w"))), err
			},
		},
		{
			Name: "conc_after_3x_vs_1x", Sentence: "From {C0}, {n} changes of {w} leave", Aliases: []string{"after_changes"}, Title: "What is left after several changes", Topic: TopicVolume, Find: "repeated", In: []Input{inC0, inSource, inShare, in("n", "number of changes", plain).or(1)}, Out: quantity.MgL, Source: src,
			Eval: func(a Args) (Answer, error) {
				v, err := volume.After(a.F("C0"), a.F("source"), quantity.Share(a.F("w")), int(a.F("n")))
				return one(v, step("C", "{S} + ({C0} − {S})·(1 − {w})^{n}", v, quantity.MgL, "S", a.F("source"), "C0", a.F("C0"), "w", a.F("w"), "n", a.F("n"))), err
			},
		},
		{
			Name: "conc_after_drip", Title: "What is left after a dripping change", Topic: TopicVolume, Find: "continuous flow-through", In: []Input{inC0, inSource, in("drip_L", "water dripped through", quantity.L), in("V_L", "net volume", quantity.L, "net_volume_L", "net")}, Out: quantity.MgL, Source: src,
			Eval: func(a Args) (Answer, error) {
				v, err := volume.Continuous(a.F("C0"), a.F("source"), quantity.Litre(a.F("drip_L")), quantity.Litre(a.F("V_L")))
				return one(v, step("C", "{S} + ({C0} − {S})·e^(−{d}/{V})", v, quantity.MgL, "S", a.F("source"), "C0", a.F("C0"), "d", a.F("drip_L"), "V", a.F("V_L"))), err
			},
		},
		{
			Name: "drain_line", Sentence: "Draining {litres} from a tank of {inner_L_cm} by {inner_W_cm} inside lets the level fall by", Title: "How far the level falls for so many litres", Topic: TopicVolume, Find: "mark line drain", In: []Input{in("litres", "water drained", quantity.L), in("inner_L_cm", "inner length", quantity.CM), in("inner_W_cm", "inner width", quantity.CM), in("free", "share of the surface that is water", plain).or(1).share()}, Out: quantity.CM, Source: "geometry",
			Eval: func(a Args) (Answer, error) {
				v, err := volume.LineFor(quantity.Litre(a.F("litres")), quantity.Centimetre(a.F("inner_L_cm")), quantity.Centimetre(a.F("inner_W_cm")), quantity.Share(a.F("free")))
				return one(float64(v), step("fall", "{l} · 1000/({L}·{W}·{f})", float64(v), quantity.CM, "l", a.F("litres"), "L", a.F("inner_L_cm"), "W", a.F("inner_W_cm"), "f", a.F("free"))), err
			},
		},
		{
			Name: "drain_time_s", Aliases: []string{"drain_time"}, Title: "Time to drain by a hose", Topic: TopicVolume, Find: "siphon", In: []Input{in("A_tank_m2", "the tank's surface", m2), in("h1_m", "level above the outlet at the start", quantity.M), in("h2_m", "level above the outlet at the end", quantity.M), in("hose_id_mm", "bore of the hose", quantity.MM), in("Cd", "discharge coefficient", plain).or(0.45)}, Out: second, Source: "Torricelli", Valid: "calibrate with one bucket: time goes with 1/bore²",
			Eval: func(a Args) (Answer, error) {
				v, err := volume.DrainTime(quantity.SquareMetre(a.F("A_tank_m2")), quantity.Metre(a.F("h1_m")), quantity.Metre(a.F("h2_m")), quantity.Millimetre(a.F("hose_id_mm")), a.F("Cd"))
				return one(float64(v), step("t", "2·{A}/({Cd}·π·({d}/2000)²·√(2g))·(√{h1} − √{h2})", float64(v), second, "A", a.F("A_tank_m2"), "Cd", a.F("Cd"), "d", a.F("hose_id_mm"), "h1", a.F("h1_m"), "h2", a.F("h2_m"))), err
			},
		},
		{
			Name: "fill_time_s", Aliases: []string{"fill_time"}, Title: "Time to fill", Topic: TopicVolume, Find: "tap hose minutes", In: []Input{in("litres", "water", quantity.L), in("inflow_L_h", "inflow", quantity.LH)}, Out: second, Source: "definition",
			Eval: func(a Args) (Answer, error) {
				v, err := volume.FillTime(quantity.Litre(a.F("litres")), quantity.LitrePerHour(a.F("inflow_L_h")))
				return one(float64(v), step("t", "{L}/{q}·3600", float64(v), second, "L", a.F("litres"), "q", a.F("inflow_L_h"))), err
			},
		},
	}
}
