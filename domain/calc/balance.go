package calc

import (
	"scaperound/domain/balance"
	"scaperound/domain/feed"
	"scaperound/domain/quantity"
)

const refBalance Ref = "mass balance of a dosed and changed tank"

func routineOf(a Args) balance.Routine {
	return balance.Routine{
		Dose: quantity.MgPerLitre(a.F("weekly_dose")), Uptake: a.F("uptake_per_day"), Source: quantity.MgPerLitre(a.F("source")),
		Share: quantity.Share(a.F("w")), Days: quantity.Days(a.F("period_d")),
	}
}

func balanceDefs() []Def {
	inShare := in("w", "share changed", plain, "share").share()
	inSource := in("source", "in the change water", quantity.MgL).or(0)
	routine := []Input{in("weekly_dose", "dose of a period, in all", quantity.MgL, "dose"), inShare, in("uptake_per_day", "net uptake", mgLDay, "uptake").or(0), inSource, in("period_d", "days of a period", quantity.Day).or(7)}
	iron := []Input{in("daily_dose", "daily dose", quantity.MgL), in("k_per_day", "loss", perDay, "k"), inShare, inSource, in("period_d", "days between changes", quantity.Day).or(7), {Key: "order", Title: "order of dose and change", Shape: Word, Optional: true, Hidden: true}}
	between := []Input{
		in("C1_pre", "reading before the first change", quantity.MgL), in("C2_pre", "reading before the second change", quantity.MgL), inShare, inSource,
		in("doses", "doses between, in all", quantity.MgL).or(0), in("feed", "brought by feed", quantity.MgL).or(0), in("days", "days between", quantity.Day),
		in("s_C1", "error of the first reading", quantity.MgL).or(0), in("s_C2", "error of the second reading", quantity.MgL).or(0), in("s_w", "error of the share", plain).or(0).share(),
		in("s_S", "error of the change water", quantity.MgL, "s_source").or(0), in("s_D", "error of the doses", quantity.MgL).or(0), in("s_F", "error of the feed", quantity.MgL, "s_feed").or(0),
	}
	steady := func(name, title string, pick func(balance.Steady) quantity.MgPerLitre, formula string) Def {
		return Def{Name: name, Title: title, Topic: TopicWeek, Find: "accumulate accumulation settle build up weekly dose steady state", In: routine, Out: quantity.MgL, Source: refBalance,
			Eval: func(a Args) (Answer, error) {
				s, err := balance.Settle(routineOf(a))
				v := float64(pick(s))
				return one(v, step("before the change", "({D} − {u}·{T})/{w} + {S}", float64(s.Before), quantity.MgL, "D", a.F("weekly_dose"), "u", a.F("uptake_per_day"), "T", a.F("period_d"), "w", a.F("w"), "S", a.F("source")),
					step("after it", formula, float64(s.After), quantity.MgL, "B", float64(s.Before), "w", a.F("w"), "S", a.F("source"))).warn(s.RunsOut, "calc.runs_out"), err
			}}
	}
	decaying := func(name, title string, pick func(balance.Steady) quantity.MgPerLitre) Def {
		return Def{Name: name, Title: title, Topic: TopicWeek, Find: "iron chelate decay steady", In: iron, Out: quantity.MgL, Source: "geometric series of change, then each day a dose and its decay",
			Eval: func(a Args) (Answer, error) {
				s, err := balance.SettleDecaying(balance.Decaying{DailyDose: quantity.MgPerLitre(a.F("daily_dose")), Rate: a.F("k_per_day"), Source: quantity.MgPerLitre(a.F("source")), Share: quantity.Share(a.F("w")), Days: int(a.F("period_d"))})
				return one(float64(pick(s)), step("after the change", "({w}·{S} + (1−{w})·G)/(1 − (1−{w})·e^(−{k}·{T}))", float64(s.After), quantity.MgL, "w", a.F("w"), "S", a.F("source"), "k", a.F("k_per_day"), "T", a.F("period_d")),
					step("before it", "{A}·e^(−{k}·{T}) + G", float64(s.Before), quantity.MgL, "A", float64(s.After), "k", a.F("k_per_day"), "T", a.F("period_d"))), err
			}}
	}
	uptake := func(name, title string, pick func(balance.Uptake) float64, interval bool) Def {
		return Def{Name: name, Title: title, Topic: TopicWeek, Find: "consumption plants took visits", In: between, Out: mgLDay, Source: refBalance, Valid: "net of denitrification and sorption; one interval is rarely significant",
			Eval: func(a Args) (Answer, error) {
				u, err := balance.NetUptake(balance.Between{
					First: quantity.MgPerLitre(a.F("C1_pre")), Second: quantity.MgPerLitre(a.F("C2_pre")), Source: quantity.MgPerLitre(a.F("source")), Share: quantity.Share(a.F("w")),
					Doses: quantity.MgPerLitre(a.F("doses")), Feed: quantity.MgPerLitre(a.F("feed")), Days: quantity.Days(a.F("days")),
					SigmaFirst: quantity.MgPerLitre(a.F("s_C1")), SigmaSecond: quantity.MgPerLitre(a.F("s_C2")), SigmaSource: quantity.MgPerLitre(a.F("s_S")), SigmaDoses: quantity.MgPerLitre(a.F("s_D")), SigmaFeed: quantity.MgPerLitre(a.F("s_F")), SigmaShare: quantity.Share(a.F("s_w")),
				})
				ans := one(pick(u), step("uptake", "({C1}·(1−{w}) + {w}·{S} + {D} + {F} − {C2})/{t}", u.PerDay, mgLDay, "C1", a.F("C1_pre"), "w", a.F("w"), "S", a.F("source"), "D", a.F("doses"), "F", a.F("feed"), "C2", a.F("C2_pre"), "t", a.F("days")),
					Step{Name: "its standard error", Value: u.Sigma, Unit: mgLDay}.also())
				if interval && u.Sigma > 0 {
					ans = ans.between(u.PerDay-1.645*u.Sigma, u.PerDay+1.645*u.Sigma)
				}
				return ans.warn(u.Censored, "calc.uptake_censored"), err
			}}
	}
	return []Def{
		steady("C_max_before_wc", "Where a weekly dose settles, before the change", func(s balance.Steady) quantity.MgPerLitre { return s.Before }, "(1−{w})·{B} + {w}·{S}"),
		steady("C_min_after_wc", "Where a weekly dose settles, after the change", func(s balance.Steady) quantity.MgPerLitre { return s.After }, "(1−{w})·{B} + {w}·{S}"),
		{
			Name: "weekly_dose_for", Title: "Weekly dose that settles at a wanted value", Topic: TopicWeek, Find: "fertiliser fertilizer target", In: append([]Input{in("before", "wanted before the change", quantity.MgL)}, routine[1:]...), Out: quantity.MgL, Source: refBalance,
			Eval: func(a Args) (Answer, error) {
				v, err := balance.DoseFor(quantity.MgPerLitre(a.F("before")), routineOf(a))
				return one(float64(v), step("dose", "({B} − {S})·{w} + {u}·{T}", float64(v), quantity.MgL, "B", a.F("before"), "S", a.F("source"), "w", a.F("w"), "u", a.F("uptake_per_day"), "T", a.F("period_d"))), err
			},
		},
		{
			Name: "weeks_to_within_5_percent", Aliases: []string{"periods_to_settle"}, Title: "Changes until a dose has settled", Topic: TopicWeek, Find: "how long until stable settle", In: []Input{inShare, in("part", "part that may be left", plain).or(0.05).share()}, Out: week, Source: "(1−w)^n ≤ part",
			Eval: func(a Args) (Answer, error) {
				n, err := balance.PeriodsToWithin(quantity.Share(a.F("part")), quantity.Share(a.F("w")))
				return one(float64(n), step("n", "⌈ln {part}/ln(1 − {w})⌉", float64(n), week, "part", a.F("part"), "w", a.F("w"))), err
			},
		},
		decaying("first_order_min_after_wc", "Where daily iron settles, after the change", func(s balance.Steady) quantity.MgPerLitre { return s.After }),
		decaying("first_order_before_wc", "Where daily iron settles, before the change", func(s balance.Steady) quantity.MgPerLitre { return s.Before }),
		uptake("net_uptake", "What the plants took between two visits", func(u balance.Uptake) float64 { return u.PerDay }, true),
		uptake("sigma_net_uptake", "Error of what the plants took", func(u balance.Uptake) float64 { return u.Sigma }, false),
	}
}

func feedDefs() []Def {
	food := []Input{in("protein", "protein of the feed", plain).or(0.45).share(), in("retained", "share of nitrogen that the animals keep", plain).or(0.2).share(), in("dissolved_share", "share of the rest that dissolves", plain, "dissolved").or(0.8).share()}
	foodOf := func(a Args) feed.Food {
		return feed.Food{Protein: quantity.Share(a.F("protein")), Retained: quantity.Share(a.F("retained")), Dissolved: quantity.Share(a.F("dissolved_share"))}
	}
	kh := func(name, title string, f func(quantity.MgPerLitre) (quantity.DegreeKH, error), eq float64, src Ref) Def {
		return Def{Name: name, Title: title, Topic: TopicFeed, Find: "alkalinity KH falls rises", In: []Input{in("dNO3", "nitrate", quantity.MgL)}, Out: "deg d", Source: src,
			Eval: func(a Args) (Answer, error) {
				v, err := f(quantity.MgPerLitre(a.F("dNO3")))
				return one(float64(v), step("KH", "{eq} · {NO3}/62.004/0.356652", float64(v), quantity.DKH, "eq", eq, "NO3", a.F("dNO3"))), err
			}}
	}
	return []Def{
		{
			Name: "NO3_mg_per_g_feed", Title: "Nitrate from a gram of feed", Topic: TopicFeed, Find: "feeding food fish", In: food, Out: mgPerG, Source: "Summerfelt and Penne 2007, Aquac. Eng. 37; nitrogen is protein/6.25",
			Eval: func(a Args) (Answer, error) {
				v, err := feed.NitratePerGram(foodOf(a))
				return one(float64(v), step("NO3", "1000 · {p}/6.25 · (1 − {r}) · {d} · 4.42664", float64(v), mgPerG, "p", a.F("protein"), "r", a.F("retained"), "d", a.F("dissolved_share"))), err
			},
		},
		{
			Name: "feed_load", Aliases: []string{"NO3_per_day_from_feed"}, Title: "Nitrate and phosphate a day from feeding", Topic: TopicFeed, Find: "food pinch fish load", In: append([]Input{in("g_per_day", "feed a day", quantity.GramDay, "feed"), inNet}, food...), Out: mgLDay, Source: "Summerfelt and Penne 2007, Aquac. Eng. 37",
			Eval: func(a Args) (Answer, error) {
				r, err := feed.PerDay(quantity.Gram(a.F("g_per_day")), foodOf(a), quantity.Litre(a.F("net_volume_L")))
				return one(float64(r.NO3), step("NO3", "{g}/{V} · NO3 per gram", float64(r.NO3), mgLDay, "g", a.F("g_per_day"), "V", a.F("net_volume_L")), Step{Name: "PO4, roughly", Value: float64(r.PO4), Unit: mgLDay}.also()), err
			},
		},
		{
			Name: "TAN_g_per_g_feed_RAS_rule", Title: "Ammonia from a gram of feed, by the rule of fish farms", Topic: TopicFeed, Find: "food feeding", In: food[:1], Out: "g N/g", Source: "Timmons and Ebeling, Recirculating Aquaculture",
			Eval: func(a Args) (Answer, error) {
				v, err := feed.AmmoniaPerGram(quantity.Share(a.F("protein")))
				return one(float64(v), step("TAN", "0.092 · {p}", float64(v), "g N/g", "p", a.F("protein"))), err
			},
		},
		kh("dKH_lost_per_10_mgL_NO3_nitrified", "KH lost while nitrate forms", feed.KHLostByNitrification, 2, "NH4+ + 2 O2 = NO3- + 2 H+ + H2O"),
		kh("dKH_gained_per_10_mgL_NO3_taken_up", "KH gained while plants take nitrate", feed.KHGainedByUptake, 1, "Brewer and Goldman 1976, Limnol. Oceanogr. 21, 108"),
	}
}
