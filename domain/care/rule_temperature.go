package care

import (
	q "scaperound/domain/quantity"
	"scaperound/domain/say"
)

// hottest is the °C from which no fish of these groups is left for a day.
const hottest = 33.0

var ruleTemperature = Rule{
	Meta: Meta{
		ID: "temperature", Title: "Temperature", System: Water, Evidence: "B",
		Why:    "The animals' range counts, not the set point; what has gone wrong slowly is put right slowly, a degree an hour at most.",
		Source: "Ranges per group are practice; Lim et al. 2003 for the 2 °C of a transfer",
	},
	Applies: func(v *View) Answer {
		if !v.Animals {
			return NotApplicable
		}
		if !v.readAny(q.Temperature, q.TempMax, q.TempMin) && !v.Has("heat_wave", "heater_light_never_on", "heater_light_on_above_setpoint") {
			return Unmeasured
		}
		return Judged
	},
	Decide: func(v *View) []Finding {
		hot, cold := v.Fact("temp_high"), v.Fact("temp_low")
		b := v.bandOf(q.Temperature)
		if cold && !hot {
			words := say.S("find.temperature.low", say.Num("limit", b.Lo.V, q.DegC, 0))
			if t, ok := v.Tank(q.Temperature); ok {
				words = say.S("find.temperature.low.read", say.Reading("temp", q.Temperature, t.Value), say.Num("limit", b.Lo.V, q.DegC, 0))
			}
			return found(Finding{State: Low, Urgency: Today, Say: words, Wishes: all(
				do(RankAnimals, "heat_slow", "check_heater"), ban(RankAnimals, "why.slow_degrees", "heat_fast"),
				when(v.Has("power_off_recently"), do(RankAnimals, "check_timer")))})
		}
		if !hot {
			t, ok := v.Tank(q.Temperature)
			if st := b.within(t.Interval); ok && (st == High || st == Low) {
				return found(Finding{State: st, Audience: ForShop, Say: say.S("find.temperature.edge", say.Reading("temp", q.Temperature, t.Value))})
			}
			return nil
		}
		distress, _ := v.breathless()
		f := Finding{State: High, Urgency: Today, Say: say.S("find.temperature.high", say.Num("limit", b.Hi.Or(29), q.DegC, 0))}
		t, read := v.Tank(q.Temperature)
		if read {
			f.Say = say.S("find.temperature.high.read", say.Reading("temp", q.Temperature, t.Value), say.Num("limit", b.Hi.Or(29), q.DegC, 0))
		}
		if distress || read && t.Value >= max(hottest, b.Hi.V+5) {
			f.Urgency = Now
		}
		f.Wishes = all(do(RankAnimals, "aerate_now", "cool_slow", "check_heater", "feed_less"),
			ban(RankAnimals, "why.slow_degrees", "wc_large_once"), ban(RankAnimals, "why.warm_water_holds_less", "co2_up", "blackout"))
		return found(f)
	},
}
