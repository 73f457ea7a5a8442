package wire

import (
	"math"

	"scaperound/domain/care"
	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
)

// field is one key of the tank in a document.
type field struct {
	Key    string
	Unit   string   // of a number
	Values []string // of a choice
	Flag   bool
	Text   bool
	Means  string
	lo, hi float64
	number func(*care.Case, float64)
	choice func(*care.Case, string)
	flag   func(*care.Case, bool)
}

func litres(set func(*care.Case, q.Opt[q.Litre])) func(*care.Case, float64) {
	return func(c *care.Case, v float64) { set(c, q.Some(q.Litre(v))) }
}

// tankFields are all keys of a tank, in the order of the schema.
var tankFields = []field{
	{Key: "volume_net_l", Unit: "L", Means: "net water volume", lo: 1, hi: 1e6, number: litres(func(c *care.Case, v q.Opt[q.Litre]) { c.Setup.Metered = v })},
	{Key: "age_weeks", Unit: "weeks", Means: "since planting", hi: 5000, number: func(c *care.Case, v float64) {
		c.Setup.SetUpOn = q.Some(c.Now.Day - q.Date(math.Round(v*7)))
	}},
	{Key: "length_cm", Unit: "cm", Means: "inner length", lo: 1, hi: 1000, number: func(c *care.Case, v float64) { c.Setup.Length = q.Some(q.Centimetre(v)) }},
	{Key: "width_cm", Unit: "cm", Means: "inner width", lo: 1, hi: 1000, number: func(c *care.Case, v float64) { c.Setup.Width = q.Some(q.Centimetre(v)) }},
	{Key: "level_cm", Unit: "cm", Means: "water over the bottom pane", lo: 1, hi: 1000, number: func(c *care.Case, v float64) { c.Setup.Level = q.Some(q.Centimetre(v)) }},
	{Key: "substrate_cm", Unit: "cm", Means: "mean depth of the ground", hi: 500, number: func(c *care.Case, v float64) { c.Setup.SubstrateDepth = q.Some(q.Centimetre(v)) }},
	{Key: "stone_kg", Unit: "kg", Means: "stone", hi: 1e5, number: func(c *care.Case, v float64) { c.Setup.Stone = q.Some(q.Kilogram(v)) }},
	{Key: "wood_kg", Unit: "kg", Means: "wood", hi: 1e5, number: func(c *care.Case, v float64) { c.Setup.Wood = q.Some(q.Kilogram(v)) }},
	{Key: "substrate", Values: []string{"rich_soil", "sand_gravel", "unknown"}, Means: "ground", choice: func(c *care.Case, v string) { c.Setup.Substrate = tank.Substrate(v) }},
	{Key: "planting", Values: []string{"new", "sparse", "medium", "dense"}, Means: "how densely planted", choice: func(c *care.Case, v string) { c.Setup.Planting = tank.Planting(v) }},
	{Key: "stocking", Values: []string{"none", "light", "moderate", "heavy", "over"}, Means: "how densely stocked", choice: func(c *care.Case, v string) { c.Setup.Stocking = tank.Stocking(v) }},
	{Key: "state", Values: []string{"starting", "running", "resting", "ended"}, Means: "of the tank's life", choice: func(c *care.Case, v string) { c.Setup.State = tank.State(v) }},
	{Key: "dosing", Values: []string{"none", "by_owner", "by_doser", "at_visit"}, Means: "who doses", choice: func(c *care.Case, v string) { c.Plan.By = tank.PlanBy(v) }},
	{Key: "photoperiod_h", Unit: "h", Means: "light a day", hi: 24, number: func(c *care.Case, v float64) { c.Setup.Light.Hours = q.Some(q.Hours(v)) }},
	{Key: "light_on", Text: true, Means: "local time at which the light comes on, as 14:00"},
	{Key: "filter_turnover_h", Unit: "1/h", Means: "real turnover of the clean filter; needs volume_net_l", hi: 1000},
	{Key: "filter_clean_l_h", Unit: "L/h", Means: "flow of the clean filter", hi: 1e6, number: func(c *care.Case, v float64) { c.Setup.Filter.Clean = q.Some(q.LitrePerHour(v)) }},
	{Key: "filter_l", Unit: "L", Means: "water in the filter", hi: 1e4, number: litres(func(c *care.Case, v q.Opt[q.Litre]) { c.Setup.Filter.Volume = v })},
	{Key: "heater_w", Unit: "W", Means: "heater power", hi: 1e5, number: func(c *care.Case, v float64) { c.Setup.Heater.Power = q.Some(q.Watt(v)) }},
	{Key: "target_temp_c", Unit: "C", Means: "set point", lo: 5, hi: 40, number: func(c *care.Case, v float64) { c.Setup.Heater.Target = q.Some(q.Celsius(v)) }},
	{Key: "co2_injected", Flag: true, Means: "CO2 equipment fitted, working or not", flag: func(c *care.Case, v bool) { c.Setup.CO2.Injected = v }},
	{Key: "cylinder_nominal_kg", Unit: "kg", Means: "CO2 in a full cylinder", lo: 0.01, hi: 100, number: func(c *care.Case, v float64) { c.Setup.CO2.Cylinder = q.Some(q.Kilogram(v)) }},
	{Key: "cylinder_tare_kg", Unit: "kg", Means: "empty weight, stamped", lo: 0.05, hi: 200, number: func(c *care.Case, v float64) { c.Setup.CO2.Tare = q.Some(q.Kilogram(v)) }},
	{Key: "cylinder_at_swap_kg", Unit: "kg", Means: "weighed full at the swap with the regulator on", lo: 0.1, hi: 200, number: func(c *care.Case, v float64) { c.Setup.CO2.SwapMass = q.Some(q.Kilogram(v)) }},
	{Key: "water_source", Values: []string{"tap", "softened_tap", "ro_pure", "ro_remineralised", "blend", "well"}, Means: "change water", choice: func(c *care.Case, v string) {
		k := tank.SourceKind(v)
		if v == "ro_pure" {
			k = tank.RO
		}
		c.Setup.Source = q.Some(tank.Source{Kind: k, Softener: k == tank.SoftenedTap})
	}},
	{Key: "ro_share", Unit: "1", Means: "share of pure water in the change water", hi: 1, number: func(c *care.Case, v float64) { c.Setup.ROShare = q.Share(v) }},
	{Key: "topoff", Values: []string{"none", "tap", "ro"}, Means: "what replaces evaporation", choice: func(c *care.Case, v string) { c.Setup.Topoff = tank.Topoff(v) }},
	{Key: "drain_l", Unit: "L", Means: "what leaves down to the drain line", hi: 1e6, number: litres(func(c *care.Case, v q.Opt[q.Litre]) { c.Setup.DrainLitres = v })},
	{Key: "can_l", Unit: "L", Means: "the customer's can", lo: 0.5, hi: 1000, number: litres(func(c *care.Case, v q.Opt[q.Litre]) { c.Setup.CanLitres = v })},
	{Key: "altitude_m", Unit: "m", Means: "height of the place", lo: -430, hi: 9000, number: func(c *care.Case, v float64) { c.Setup.Room.Altitude = q.Some(q.Metre(v)) }},
	{Key: "room_volume_m3", Unit: "m3", Means: "volume of the room", lo: 1, hi: 1e5, number: func(c *care.Case, v float64) { c.Setup.Room.Volume = q.Some(q.CubicMetre(v)) }},
	{Key: "co2_alarm_fitted", Flag: true, Means: "a CO2 alarm hangs in the room", flag: func(c *care.Case, v bool) { c.Setup.Room.CO2Alarm = q.Some(v) }},
	{Key: "visit_interval_days", Unit: "d", Means: "usual days between visits", lo: 1, hi: 1000, number: func(c *care.Case, v float64) { c.Setup.Agreement.EveryDays = q.Some(int(v)) }},
	{Key: "tolerance_days", Unit: "d", Means: "how far a visit may move", hi: 100, number: func(c *care.Case, v float64) { c.Setup.Agreement.ToleranceDays = int(v) }},
}

func (c *codec) setup(out *care.Case) {
	c.text("id", &out.Setup.ID)
	c.text("name", &out.Setup.Name)
	turnover := 0.0
	for i := range tankFields {
		f := &tankFields[i]
		switch {
		case f.number != nil:
			c.within(f.Key, f.lo, f.hi, func(v float64) { f.number(out, v) })
		case f.choice != nil:
			v := ""
			choose(c, f.Key, &v, f.Values)
			if v != "" {
				f.choice(out, v)
			}
		case f.flag != nil:
			if n := c.wanted(f.Key, isBool); n != nil {
				f.flag(out, n.truth)
			}
		case f.Key == "light_on":
			c.minute(f.Key, func(m q.MinuteOfDay) { out.Setup.Light.On = q.Some(m) })
		case f.Key == "filter_turnover_h":
			c.within(f.Key, f.lo, f.hi, func(v float64) { turnover = v })
		}
	}
	if turnover > 0 && out.Setup.Metered.OK && !out.Setup.Filter.Clean.OK {
		out.Setup.Filter.Clean = q.Some(q.LitrePerHour(turnover * float64(out.Setup.Metered.V)))
	}
}
