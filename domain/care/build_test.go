package care_test

import (
	"strings"
	"time"

	"scaperound/domain/care"
	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
)

// opt changes a case that is being made.
type opt func(*care.Case)

// caseDay is the day of all made-up visits, a Tuesday.
var caseDay = q.NewDate(2026, time.March, 3)

// made builds a case: a running tank of 100 L that is older than a year unless
// the options say otherwise.
func made(opts ...opt) care.Case {
	c := care.Case{
		Setup: tank.Setup{ID: "tank", State: tank.Running, SetUpOn: q.Some(caseDay - 400), Shape: tank.Shape{Metered: q.Some(q.Litre(100))}},
		Now:   visit.Record{Visit: "visit", Revision: "revision", Kind: visit.Routine, Day: caseDay, Minute: 15 * 60, Performed: caseDay.Midnight().Add(15 * time.Hour)},
	}
	for _, o := range opts {
		o(&c)
	}
	return c
}

func animals(groups ...string) opt {
	return func(c *care.Case) {
		for _, g := range groups {
			c.Setup.Animals = append(c.Setup.Animals, tank.Living{Group: g, Count: 8})
		}
	}
}

func plants(groups ...string) opt {
	return func(c *care.Case) {
		for _, g := range groups {
			c.Setup.Plants = append(c.Setup.Plants, tank.Living{Group: g, Count: 8})
		}
	}
}

func weeks(n int) opt {
	return func(c *care.Case) { c.Setup.SetUpOn = q.Some(caseDay.Add(-7 * n)) }
}

func setup(set func(*tank.Setup)) opt { return func(c *care.Case) { set(&c.Setup) } }

func record(set func(*visit.Record)) opt { return func(c *care.Case) { set(&c.Now) } }

func co2(c *care.Case) { c.Setup.CO2.Injected = true }

func ended(c *care.Case) { c.Setup.State = tank.Ended }

// rd is a reading by kind.phase, taken with no kit that is known.
func rd(key string, v float64) opt {
	return record(func(r *visit.Record) { addReading(r, key, v) })
}

func addReading(r *visit.Record, key string, v float64) {
	kind, phase, _ := strings.Cut(key, ".")
	if phase == "" {
		phase = "before"
	}
	k := q.Kind(kind)
	r.Readings = append(r.Readings, visit.Reading{Kind: k, Phase: visit.Phase(phase), Drawn: r.Performed, Interval: visit.MeaningOf(k, v)})
}

func signs(ids ...string) opt {
	return record(func(r *visit.Record) {
		for _, id := range ids {
			r.Signs = append(r.Signs, visit.Sign{ID: id})
		}
	})
}

// fine says that the four looks were taken and all was well.
func fine(c *care.Case) {
	c.Now.Looks = map[visit.Look]visit.Answer{}
	for _, l := range visit.Looks {
		c.Now.Looks[l] = visit.Fine
	}
}

// ago adds an earlier visit with readings.
func ago(days int, pairs ...any) opt {
	return func(c *care.Case) {
		r := visit.Record{Kind: visit.Routine, Day: caseDay.Add(-days), Minute: 15 * 60, Performed: caseDay.Add(-days).Midnight().Add(15 * time.Hour)}
		for i := 0; i+1 < len(pairs); i += 2 {
			addReading(&r, pairs[i].(string), pairs[i+1].(float64))
		}
		c.History = append(c.History, r)
	}
}

// charged gives the tank a cylinder of 2 kg in a bottle of 4 kg.
func charged(c *care.Case) {
	c.Setup.CO2.Cylinder, c.Setup.CO2.Tare = q.Some(q.Kilogram(2)), q.Some(q.Kilogram(4))
}

func cleanFlow(c *care.Case) { c.Setup.Filter.Clean = q.Some(q.LitrePerHour(900)) }

// every is how many days the agreement leaves between visits.
func every(days int) opt {
	return func(c *care.Case) { c.Setup.Agreement.EveryDays = q.Some(days) }
}

// doses gives so many mg of the solute each day.
func doses(k q.Kind, mg float64) opt {
	return func(c *care.Case) {
		c.Plan.Lines = append(c.Plan.Lines, tank.DosingLine{Solute: k, PerDose: q.Milligram(mg), Weekdays: 0x7f})
	}
}

func band(k q.Kind, lo, hi float64) opt {
	return func(c *care.Case) {
		c.Profile.Bands = append(c.Profile.Bands, tank.Band{Kind: k, Lo: q.Some(lo), Hi: q.Some(hi)})
	}
}

func source(kind tank.SourceKind, pairs ...any) opt {
	return func(c *care.Case) {
		s := tank.Source{Kind: kind}
		for i := 0; i+1 < len(pairs); i += 2 {
			s.Values = append(s.Values, tank.Known{Kind: q.Kind(pairs[i].(string)), Value: pairs[i+1].(float64)})
		}
		c.Setup.Source = q.Some(s)
	}
}

// answer is what a rule said in the trace.
func answer(a care.Assessment, rule string) string {
	for _, s := range a.Trace {
		if s.At == rule {
			return s.What
		}
	}
	return "absent"
}

func actionsOf(a care.Assessment) []string {
	var out []string
	for _, t := range a.Tasks {
		out = append(out, t.Action)
	}
	return out
}
