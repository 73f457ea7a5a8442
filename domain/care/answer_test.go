package care_test

import (
	"slices"
	"testing"

	"scaperound/domain/care"
	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
)

func openTask(action string, more ...func(*care.Task)) care.Task {
	t := care.Task{ID: "t-" + action, Action: action, Who: care.Technician, Urgency: care.ThisVisit, Rank: care.RankPlants, Opened: q.Some(caseDay - 14), Why: []care.Reason{{Rule: "flow"}}}
	for _, m := range more {
		m(&t)
	}
	return t
}

func open(tasks ...care.Task) opt { return func(c *care.Case) { c.Open = append(c.Open, tasks...) } }

func worked(ws ...visit.Work) opt {
	return record(func(r *visit.Record) { r.Work = append(r.Work, ws...) })
}

func ticked(action string) opt {
	return record(func(r *visit.Record) {
		r.Tasks = append(r.Tasks, visit.TaskAnswer{Task: "t-" + action, State: "done"})
	})
}

func skipped(action string) opt {
	return record(func(r *visit.Record) {
		r.Tasks = append(r.Tasks, visit.TaskAnswer{Task: "t-" + action, State: "skipped", Reason: "no_time"})
	})
}

func saidDone(c care.Case, action string) bool {
	return slices.ContainsFunc(care.Answers(c.Open, &c.Now), func(a visit.TaskAnswer) bool { return a.Task == "t-"+action && a.State == "done" })
}

// A tick proves nothing where the work leaves a trace; the trace needs no tick.
func TestTasksCloseByWhatWasDone(t *testing.T) {
	forty := visit.Work{Kind: visit.WaterChange, Litres: q.Some(q.Litre(40))}
	water := func(litres float64) func(*care.Task) {
		return func(t *care.Task) { t.Amount = []care.Amount{{What: "water", Value: litres, Unit: q.L}} }
	}
	for _, x := range []struct {
		name string
		task care.Task
		opts []opt
		want bool
	}{
		{"a test ticked without its readings", openTask("test_nh3_no2"), []opt{ticked("test_nh3_no2")}, false},
		{"half of its readings", openTask("test_nh3_no2"), []opt{ticked("test_nh3_no2"), rd("tan", 0.1)}, false},
		{"its readings without a tick", openTask("test_nh3_no2"), []opt{rd("tan", 0.1), rd("no2", 0.0)}, true},
		{"skipped by name, and yet read", openTask("test_nh3_no2"), []opt{skipped("test_nh3_no2"), rd("tan", 0.1), rd("no2", 0.0)}, true},
		{"skipped, and half read", openTask("test_nh3_no2"), []opt{skipped("test_nh3_no2"), rd("tan", 0.1)}, false},
		{"a source test by the source", openTask("test_source"), []opt{rd("kh.source", 5.0)}, true},
		{"a source test by the tank", openTask("test_source"), []opt{ticked("test_source"), rd("kh", 5.0)}, false},
		{"weighing by the scale", openTask("weigh_cylinder"), []opt{rd("cylinder_gross", 5.0)}, true},
		{"a swap ticked and not made", openTask("swap_cylinder"), []opt{ticked("swap_cylinder")}, false},
		{"a swap made", openTask("swap_cylinder"), []opt{worked(visit.Work{Kind: visit.CylinderSwap})}, true},
		{"matching without a change", openTask("wc_matched"), []opt{ticked("wc_matched")}, false},
		{"matching with the change", openTask("wc_matched"), []opt{worked(forty)}, true},
		{"a change of enough water", openTask("wc_30_50", water(48)), []opt{worked(forty)}, true},
		{"a change of too little", openTask("wc_30_50", water(80)), []opt{ticked("wc_30_50"), worked(forty)}, false},
		{"the filter cleaned and not ticked", openTask("filter_clean_gentle"), []opt{worked(visit.Work{Kind: visit.FilterClean})}, true},
		{"the filter ticked", openTask("filter_clean_gentle"), []opt{ticked("filter_clean_gentle")}, true},
		{"a dose of the ion", openTask("dose_no3"), []opt{worked(visit.Work{Kind: visit.Dose, Solute: "no3"})}, true},
		{"a dose of something else", openTask("dose_no3"), []opt{worked(visit.Work{Kind: visit.Dose, Solute: "po4"})}, false},
		{"a look that is ticked", openTask("check_timer"), []opt{ticked("check_timer")}, true},
	} {
		c := made(append(x.opts, animals("tetras"), open(x.task))...)
		if got := saidDone(c, x.task.Action); got != x.want {
			t.Errorf("%s: closed %v, want %v", x.name, got, x.want)
		}
		if a := care.Assess(c); !x.want && x.task.Action == "test_nh3_no2" && !slices.ContainsFunc(a.Tasks, func(k care.Task) bool { return k.ID == x.task.ID }) {
			t.Errorf("%s: it is off the list", x.name)
		}
	}
}

// The flow was at 45 % and came to 97 % after the cleaning: nothing is left to do,
// ticked or not, open before or not. Where it is still low after the work, the
// work goes on.
func TestWorkOfTheVisitTakesItsTaskOffTheList(t *testing.T) {
	clogged := []opt{setup(func(s *tank.Setup) { s.Filter.Clean = q.Some(q.LitrePerHour(900)) }), rd("flow", 400), worked(visit.Work{Kind: visit.FilterClean})}
	for _, more := range [][]opt{nil, {open(openTask("filter_clean_gentle"))}, {open(openTask("filter_clean_gentle")), ticked("filter_clean_gentle")}} {
		a := care.Assess(made(append(more, append(clogged, rd("flow.after", 873.0))...)...))
		if slices.Contains(actionsOf(a), "filter_clean_gentle") {
			t.Errorf("cleaned to 97 %%, and the list says %v", actionsOf(a))
		}
		a = care.Assess(made(append(more, append(clogged, rd("flow.after", 420.0))...)...))
		if !slices.Contains(actionsOf(a), "filter_clean_gentle") {
			t.Errorf("still clogged, and the list says %v", actionsOf(a))
		}
	}
	// A change that one round does not finish goes on tomorrow.
	a := care.Assess(made(animals("livebearers"), rd("no2", 1.0), worked(visit.Work{Kind: visit.WaterChange, Litres: q.Some(q.Litre(50))})))
	i := slices.IndexFunc(a.Tasks, func(k care.Task) bool { return k.Action == "wc_50_repeat" })
	if i < 0 || a.Tasks[i].When != care.WhenOnDay || a.Tasks[i].Day.V != caseDay+1 {
		t.Errorf("half was changed today: %+v", a.Tasks)
	}
	if slices.Contains(actionsOf(a), "wc_matched") {
		t.Error("the water was matched with the change that was made")
	}
}
