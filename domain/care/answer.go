package care

import (
	"slices"

	q "scaperound/domain/quantity"
	"scaperound/domain/visit"
)

// Answers is what a visit says of the tasks that stood open before it, with
// what its work and readings say by themselves: a filter that was cleaned closes
// "clean the filter" whether or not somebody ticked it. A tick alone does not
// close what leaves a trace, nor does "skipped" keep it open: a test closes by its reading, a swap by the swap,
// the matching of new water by the change that it was for.
func Answers(open []Task, r *visit.Record) []visit.TaskAnswer {
	out := make([]visit.TaskAnswer, 0, len(r.Tasks))
	named := make(map[string]bool, len(r.Tasks))
	for _, a := range r.Tasks {
		i := slices.IndexFunc(open, func(t Task) bool { return t.ID != "" && t.ID == a.Task })
		if i >= 0 && (a.State == "done" || a.State == "skipped") {
			switch met, trace := fulfilled(&open[i], r); {
			case trace && !met && a.State == "done":
				continue
			case trace && met:
				a.State, a.Reason = "done", "" // what was read was not skipped
			}
		}
		named[a.Task] = true
		out = append(out, a)
	}
	for i := range open {
		t := &open[i]
		if t.ID == "" || named[t.ID] {
			continue
		}
		if met, _ := fulfilled(t, r); met {
			out = append(out, visit.TaskAnswer{Task: t.ID, State: "done"})
		}
	}
	return out
}

// enough is the share of the asked-for water that counts as the change.
const enough = 0.8

// fulfilled reports whether the visit's own work and readings did a task. trace
// says that it cannot be done without leaving such a trace, so that a tick by
// itself proves nothing.
func fulfilled(t *Task, r *visit.Record) (met, trace bool) {
	did := func(kinds ...visit.WorkKind) bool {
		return slices.ContainsFunc(kinds, func(k visit.WorkKind) bool { _, ok := r.Did(k); return ok })
	}
	if kinds, ok := doseOf[t.Action]; ok {
		return slices.ContainsFunc(r.Work, func(w visit.Work) bool {
			return w.Kind == visit.Dose && slices.Contains(kinds, w.Solute)
		}), false
	}
	switch t.Action {
	case "test_nh3_no2":
		_, a := r.Tankwater(q.TAN)
		_, b := r.Tankwater(q.Nitrite)
		return a && b, true
	case "retest":
		if t.Subject == "" {
			return len(r.Readings) > 0, true
		}
		_, ok := r.Tankwater(q.Kind(t.Subject))
		return ok, true
	case "test_source":
		return slices.ContainsFunc(r.Readings, func(x visit.Reading) bool {
			return x.Phase == visit.FromSource || x.Phase == visit.SourceDegassed
		}), true
	case "measure_late":
		return slices.ContainsFunc(r.Readings, func(x visit.Reading) bool {
			return x.Phase == visit.Late && (x.Kind == q.Acidity || x.Kind == q.CO2 || x.Kind == q.IndicatorPH)
		}), true
	case "measure_dawn_o2":
		_, a := r.Reading(q.Oxygen, visit.Morning)
		_, b := r.Reading(q.OxygenShare, visit.Morning)
		return a || b, true
	case "weigh_cylinder":
		_, ok := r.Reading(q.CylinderGross, visit.Before)
		return ok || did(visit.CylinderSwap), true
	case "swap_cylinder":
		return did(visit.CylinderSwap), true
	case "wc_matched", "ro_blend", "predict_nh3_before_change":
		return did(visit.WaterChange), true
	case "wc_20", "wc_30_50", "wc_50_repeat", "wc_many_small", "wc_large_once":
		w, ok := r.Did(visit.WaterChange)
		if !ok || !w.Litres.OK {
			return ok, true
		}
		for _, a := range t.Amount {
			if a.What == "water" && float64(w.Litres.V) < enough*a.Value {
				return false, true
			}
		}
		return true, true
	case "filter_clean_gentle", "rinse_stagnant_filter_before_restart":
		return did(visit.FilterClean), false
	case "trim_old":
		return did(visit.Trim), false
	case "replant":
		return did(visit.PlantsIn, visit.PlantsOut), false
	case "raise_plant_mass":
		return did(visit.PlantsIn), false
	case "co2_retune_slow", "co2_down", "co2_start_earlier_steady":
		return did(visit.CO2Set), false
	case "light_down", "light_up":
		return did(visit.LightSet), false
	}
	return false, false
}

// doseOf names what a dose's task may be written down as: the ion or the salt.
var doseOf = map[string][]string{
	"dose_no3": {string(q.Nitrate), "KNO3", "Ca(NO3)2.4H2O", "Mg(NO3)2.6H2O"},
	"dose_po4": {string(q.Phosphate), "KH2PO4"},
	"dose_k":   {string(q.Potassium), "K2SO4"},
	"dose_mg":  {string(q.Magnesium), "MgSO4.7H2O", "MgCl2.6H2O"},
	"dose_ca":  {string(q.Calcium), "CaSO4.2H2O", "CaCl2.2H2O", "CaCl2"},
	"dose_fe":  {string(q.Iron)},
}
