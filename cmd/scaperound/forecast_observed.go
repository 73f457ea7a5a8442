package main

import (
	"fmt"
	"math"
	"time"

	"scaperound/domain/forecast"
	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
)

// observed is a tank with its visits as a file of observations has them.
type observed struct {
	Seed    int
	Spec    observedTank
	Kits    map[string]observedKit
	Water   map[string]float64 `json:"source_report_mg_per_L"`
	WaterKH float64            `json:"source_report_KH_d"`
	Visits  []observedVisit
	// LeftOut says which readings cannot be and were not used.
	LeftOut []string `json:"-"`
}

type observedTank struct {
	Length    float64 `json:"length_cm"`
	Width     float64 `json:"width_cm"`
	Glass     float64 `json:"glass_mm"`
	Fill      float64 `json:"fill_height_cm"`
	Ground    float64 `json:"substrate_depth_cm"`
	Substrate string
	Stone     float64 `json:"stone_kg"`
	Wood      float64 `json:"wood_kg"`
	Label     float64 `json:"label_volume_L"`
	PPFD      float64 `json:"ppfd_mean_umol"`
	Hours     float64 `json:"photoperiod_h"`
	Injected  bool    `json:"co2_injected"`
	Cylinder  float64 `json:"cylinder_nominal_kg"`
	Tare      float64 `json:"cylinder_tare_kg"`
	Topoff    string
	Feed      float64 `json:"feed_g_per_day_owner_says"`
	Age       int     `json:"age_days_at_start"`
	Interval  int     `json:"visit_interval_days"`
	FlowAlarm float64 `json:"flow_alarm_Lph"`
	Dosing    string  `json:"dosing_mode"`
}

type observedKit struct {
	Type  string
	Steps []float64
	Res   float64
}

type observedVisit struct {
	Visit, Day int
	Readings   map[string]float64
	Actions    struct {
		Change  float64            `json:"water_change_fraction"`
		Trim    float64            `json:"trim_fraction_est"`
		Cleaned any                `json:"filter_cleaned"`
		CO2     float64            `json:"co2_rate_adjusted_percent"`
		Swapped float64            `json:"cylinder_swapped_gross_kg"`
		Dosed   map[string]float64 `json:"dosed_at_visit_mg_per_L_label"`
		Stocked any                `json:"livestock_added"`
	}
	Source map[string]float64 `json:"source_water_test"`
	Plan   map[string]float64 `json:"plan_until_next_mg_per_L_day_label"`
	Report string             `json:"customer_report"`
}

// step is a visit as the forecast reads it: the set-up of its day, the plan in
// force before it and the plan after it.
type step struct {
	setup tank.Setup
	plan  tank.Plan
	visit visit.Record
}

// dayZero stands for day 0 of the observations, which know no calendar.
var dayZero = q.NewDate(2000, time.January, 1)

var analytes = []struct {
	name string
	kind q.Kind
}{{"NO3", q.Nitrate}, {"PO4", q.Phosphate}, {"K", q.Potassium}, {"Fe", q.Iron}, {"GH", q.GH}, {"KH", q.KH}, {"flow_Lph", q.Flow}}

var ions = []struct {
	name string
	kind q.Kind
}{{"NO3", q.Nitrate}, {"PO4", q.Phosphate}, {"K", q.Potassium}, {"Fe", q.Iron}, {"Ca", q.Calcium}, {"Mg", q.Magnesium}}

// clean flow is what the alarm's mark, 40 % of it, was set from.
const alarmShare = 0.4

func (o *observed) past() ([]step, error) {
	if len(o.Visits) == 0 {
		return nil, nil
	}
	setup := o.setup()
	plan := tank.Plan{}
	out := make([]step, 0, len(o.Visits))
	for i := range o.Visits {
		v := &o.Visits[i]
		if v.Day < 0 || v.Day > 100000 {
			return nil, fmt.Errorf("visit %d is on day %d", v.Visit, v.Day)
		}
		if i > 0 && v.Day < o.Visits[i-1].Day {
			return nil, fmt.Errorf("visit %d is on day %d, before the visit that stands before it", v.Visit, v.Day)
		}
		for _, a := range analytes {
			o.leaveOut(v.Visit, a.name, "", v.Readings)
			o.leaveOut(v.Visit, a.name, " of the source", v.Source)
		}
		r := visit.Record{Kind: visit.Routine, Day: dayZero.Add(v.Day), Minute: 900}
		r.Performed = r.Day.Midnight().Add(15 * time.Hour)
		for _, a := range analytes {
			if x, ok := v.Readings[a.name]; ok {
				r.Readings = append(r.Readings, o.reading(a.name, a.kind, visit.Before, x))
			}
			if x, ok := v.Source[a.name]; ok {
				r.Readings = append(r.Readings, o.reading(a.name, a.kind, visit.FromSource, x))
			}
		}
		if x, ok := v.Readings["cyl_gross_kg"]; ok {
			r.Readings = append(r.Readings, exactly(q.CylinderGross, visit.Before, x))
		}
		o.worked(&r, v, &setup)
		switch v.Report {
		case "unknown":
			r.Doses.How = "not_known"
		case "as_planned", "some_missed":
			r.Doses.How = v.Report
		}
		out = append(out, step{setup, plan, r})
		plan = o.plan(v)
		if v.Actions.Stocked != nil {
			setup.State = tank.Running
		}
	}
	return out, nil
}

// leaveOut takes out a reading that cannot be, and writes down that it did.
func (o *observed) leaveOut(no int, name, of string, read map[string]float64) {
	if x, ok := read[name]; ok && x < 0 {
		o.LeftOut = append(o.LeftOut, fmt.Sprintf("visit %d: %s%s is read at %g, below nothing, and is left out", no, name, of, x))
		delete(read, name)
	}
}

func exactly(k q.Kind, p visit.Phase, x float64) visit.Reading {
	return visit.Reading{Kind: k, Phase: p, Interval: q.Interval{Value: x, Lo: x, Hi: x}, Lot: "scale"}
}

// worked adds what was done at the visit.
func (o *observed) worked(r *visit.Record, v *observedVisit, setup *tank.Setup) {
	net, _ := forecast.NetVolume(*setup)
	litre := float64(net.Or(q.Litre(o.Spec.Label)))
	a := &v.Actions
	if a.Change > 0 {
		r.Work = append(r.Work, visit.Work{Kind: visit.WaterChange, Litres: q.Some(q.Litre(a.Change * litre))})
	}
	if a.Trim > 0 {
		r.Work = append(r.Work, visit.Work{Kind: visit.Trim})
	}
	if a.Cleaned != nil && a.Cleaned != false {
		r.Work = append(r.Work, visit.Work{Kind: visit.FilterClean})
	}
	if a.CO2 != 0 && a.CO2 > -99 {
		r.Work = append(r.Work, visit.Work{Kind: visit.CO2Set})
		r.Readings = append(r.Readings, exactly(q.CO2Bubbles, visit.Before, 100), exactly(q.CO2Bubbles, visit.After, 100+a.CO2))
	}
	if a.Swapped > 0 {
		r.Work = append(r.Work, visit.Work{Kind: visit.CylinderSwap})
		r.Readings = append(r.Readings, exactly(q.CylinderGross, visit.After, a.Swapped))
	}
	for _, ion := range ions {
		if x := a.Dosed[ion.name]; x > 0 {
			r.Work = append(r.Work, visit.Work{Kind: visit.Dose, Solute: string(ion.kind), Grams: q.Some(q.Gram(x * o.Spec.Label / 1000))})
		}
	}
}

// plan is what is dosed until the next visit. Amounts are in mg per litre of the
// tank's label.
func (o *observed) plan(v *observedVisit) tank.Plan {
	p := tank.Plan{By: tank.DosedByDoser}
	by := "device"
	switch o.Spec.Dosing {
	case "visit_only":
		return tank.Plan{By: tank.DosedAtVisit}
	case "owner_daily":
		p.By, by = tank.DosedByOwner, "customer"
	}
	for _, ion := range ions {
		if x := v.Plan[ion.name]; x > 0 {
			p.Lines = append(p.Lines, tank.DosingLine{Solute: ion.kind, PerDose: q.Milligram(x * o.Spec.Label), Weekdays: 127, ByWhom: by})
		}
	}
	return p
}

func (o *observed) setup() tank.Setup {
	t := &o.Spec
	inner := func(outer float64) q.Opt[q.Centimetre] { return q.Some(q.Centimetre(outer - 2*t.Glass/10)) }
	s := tank.Setup{State: tank.Running, SetUpOn: q.Some(dayZero.Add(-t.Age)), Topoff: tank.TopoffNone}
	if t.Age == 0 {
		s.State = tank.Starting
	}
	s.Length, s.Width = inner(t.Length), inner(t.Width)
	s.Level = q.Some(q.Centimetre(t.Fill))
	s.SubstrateDepth = q.Some(q.Centimetre(t.Ground))
	s.Stone, s.Wood = q.Some(q.Kilogram(t.Stone)), q.Some(q.Kilogram(t.Wood))
	s.Substrate = tank.SandGravel
	if t.Substrate == "soil" {
		s.Substrate = tank.RichSoil
	}
	switch t.Topoff {
	case "automatic with RO":
		s.Topoff = tank.TopoffRO
	case "owner daily with tap":
		s.Topoff = tank.TopoffTap
	}
	s.Light.Hours = q.Some(q.Hours(t.Hours))
	s.CO2.Injected = t.Injected
	if t.Cylinder > 0 {
		s.CO2.Cylinder, s.CO2.Tare = q.Some(q.Kilogram(t.Cylinder)), q.Some(q.Kilogram(t.Tare))
	}
	if t.FlowAlarm > 0 {
		s.Filter.Clean = q.Some(q.LitrePerHour(t.FlowAlarm / alarmShare))
	}
	s.Share = tank.CareShare{Feeds: true, Doses: t.Dosing == "owner_daily", FeedPerDay: q.Some(q.Gram(t.Feed))}
	s.Agreement.EveryDays = q.Some(t.Interval)
	w := o.Water
	gh := (w["Ca"]/40.078 + w["Mg"]/24.305) / 0.17832623
	s.Source = q.Some(tank.Source{Kind: tank.Tap, Values: []tank.Known{
		{Kind: q.Nitrate, Value: w["NO3"]}, {Kind: q.Phosphate, Value: w["PO4"]}, {Kind: q.Potassium, Value: w["K"]}, {Kind: q.Iron, Value: w["Fe"]},
		{Kind: q.GH, Value: gh}, {Kind: q.KH, Value: o.WaterKH},
	}})
	return s
}

// reading gives a value what its kit can mean: the class nearest to it, or the
// last drop.
func (o *observed) reading(name string, k q.Kind, p visit.Phase, x float64) visit.Reading {
	r := exactly(k, p, x)
	r.Lot = name
	kit := o.Kits[name]
	switch {
	case kit.Type == "drops" && kit.Res > 0:
		r.Lo = math.Max(0, x-kit.Res)
	case kit.Type == "steps":
		for i, s := range kit.Steps {
			if s != x {
				continue
			}
			if i > 0 {
				r.Lo = (kit.Steps[i-1] + s) / 2
			}
			r.Hi = math.Inf(1)
			if i+1 < len(kit.Steps) {
				r.Hi = (s + kit.Steps[i+1]) / 2
			}
		}
	}
	return r
}
