package care_test

import (
	"testing"
	"time"

	"scaperound/domain/care"
	"scaperound/domain/forecast"
	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
)

// twoYears is a tank with fortnightly visits of two years behind it.
func twoYears() care.Case {
	today := q.NewDate(2026, time.March, 3)
	c := care.Case{
		Setup: tank.Setup{
			ID: "t", State: tank.Running, SetUpOn: q.Some(today - 800), Planting: tank.PlantingDense,
			Shape:     tank.Shape{Length: q.Some(q.Centimetre(90)), Width: q.Some(q.Centimetre(45)), Level: q.Some(q.Centimetre(42)), SubstrateDepth: q.Some(q.Centimetre(6))},
			Light:     tank.Light{On: q.Some(q.MinuteOfDay(600)), Hours: q.Some(q.Hours(8))},
			Filter:    tank.Filter{Clean: q.Some(q.LitrePerHour(900))},
			CO2:       tank.CO2{Injected: true, Cylinder: q.Some(q.Kilogram(2)), Tare: q.Some(q.Kilogram(4))},
			Animals:   []tank.Living{{Group: "tetras", Count: 20}, {Group: "dwarf_shrimp", Count: 30}},
			Plants:    []tank.Living{{Group: "stems", Count: 40}, {Group: "carpet", Count: 20}},
			Source:    q.Some(tank.Source{Kind: tank.Tap, Values: []tank.Known{{Kind: q.KH, Value: 5}, {Kind: q.GH, Value: 8}}}),
			Agreement: tank.Agreement{EveryDays: q.Some(14), ToleranceDays: 2},
		},
	}
	record := func(day q.Date, ph, no3 float64) visit.Record {
		r := visit.Record{Kind: visit.Routine, Day: day, Minute: 1000, Performed: day.Midnight().Add(1000 * time.Minute), Looks: map[visit.Look]visit.Answer{visit.LookAnimals: visit.Fine}}
		for _, x := range []struct {
			k q.Kind
			v float64
		}{{q.Acidity, ph}, {q.KH, 4}, {q.Nitrate, no3}, {q.Temperature, 25}, {q.EC, 380}, {q.Flow, 700}} {
			r.Readings = append(r.Readings, visit.Reading{Kind: x.k, Phase: visit.Before, Interval: visit.MeaningOf(x.k, x.v)})
		}
		r.Work = []visit.Work{{Kind: visit.WaterChange, Litres: q.Some(q.Litre(50))}}
		return r
	}
	for i := 52; i > 0; i-- {
		c.History = append(c.History, record(today.Add(-14*i), 6.7+0.01*float64(i%5), 12+float64(i%7)))
	}
	c.Now = record(today, 6.5, 22)
	c.Now.Signs = []visit.Sign{{ID: "dark_tufts_on_leaf_edges"}, {ID: "co2_varies_day_to_day"}, {ID: "mulm_in_corners"}}
	return c
}

// learntBefore is what was learnt up to each visit of the history, and up to now.
func learntBefore(c care.Case) []forecast.State {
	out := make([]forecast.State, 1, len(c.History)+1)
	for i := range c.History {
		out = append(out, forecast.Update(out[i], c.Setup, c.Plan, c.History[i]))
	}
	return out
}

func BenchmarkAssess(b *testing.B) {
	c := twoYears()
	c.Memory = learntBefore(c)[len(c.History)]
	b.ReportAllocs()
	for b.Loop() {
		care.Assess(c)
	}
}

// BenchmarkReplay is a year of one tank's fortnightly visits judged anew; a shop
// with 500 such tanks has 500 times as many.
func BenchmarkReplay(b *testing.B) {
	c := twoYears()
	learnt := learntBefore(c)
	for b.Loop() {
		for i := len(c.History) - 26; i < len(c.History); i++ {
			x := c
			x.Now, x.History, x.Memory = c.History[i], c.History[:i], learnt[i]
			care.Assess(x)
		}
	}
}
