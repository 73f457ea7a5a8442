package main

import (
	"context"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"scaperound/domain/fault"
	"scaperound/domain/forecast"
	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
)

func forecastCommand() command {
	return command{
		name: "forecast", args: "DIR", title: "what the tanks observed in a folder do next: JSON lines out", run: runForecast,
		help: "Reads each DIR/*_obs.json (a tank, its kits and its visits) and prints one JSON\nobject a line. For each visit from the fourth on, and each analyte: what was to be\nexpected of it from the visits before, as {\"seed\",\"visit\",\"analyte\",\"pred\",\"lo\",\"hi\"}\nwith a central 80 % interval. Then, in days after the last visit: when a nutrient runs\nout if nothing more is dosed (task runout), when the flow falls below its mark (flow)\nand when the CO2 cylinder is empty (cylinder); null is not within 60, 180 and 365 days.",
	}
}

func runForecast(_ context.Context, e *env, flags *flag.FlagSet, args []string) error {
	rest, err := e.parse(flags, args, 1, 1)
	if err != nil {
		return err
	}
	files, err := filepath.Glob(filepath.Join(rest[0], "*_obs.json"))
	if err != nil {
		return usage("%s is not a folder's name.", rest[0])
	}
	if len(files) == 0 {
		return usage("%s holds no file whose name ends in _obs.json.", rest[0])
	}
	slices.Sort(files)
	var first error
	for _, f := range files {
		err := forecastFile(e, f)
		switch {
		case err != nil && first == nil:
			first = err // the other tanks are answered all the same
		case err != nil:
			fmt.Fprintln(e.stderr, err)
		}
	}
	return first
}

// forecastFile prints what one tank does next.
func forecastFile(e *env, f string) error {
	in, err := os.ReadFile(f)
	if err != nil {
		return fault.Wrap(fault.Unavailable, err, "%s could not be read.", f)
	}
	var o observed
	if err := json.Unmarshal(in, &o); err != nil {
		return usage("%s: %s", filepath.Base(f), unread(err))
	}
	if len(o.Visits) == 0 {
		fmt.Fprintf(e.stderr, "%s has no visits: nothing can be said of this tank.\n", filepath.Base(f))
	}
	past, err := o.past()
	if err != nil {
		return usage("%s: %s", filepath.Base(f), err)
	}
	for _, why := range o.LeftOut {
		fmt.Fprintf(e.stderr, "%s: %s.\n", filepath.Base(f), why)
	}
	for _, line := range o.answers(past) {
		b, err := json.Marshal(line)
		if err != nil {
			return err
		}
		fmt.Fprintf(e.stdout, "%s\n", b)
	}
	return nil
}

// unread says in words what JSON could not be read.
func unread(err error) string {
	var kind *json.UnmarshalTypeError
	var syntax *json.SyntaxError
	switch {
	case errors.As(err, &kind):
		return fmt.Sprintf("%s is a %s, which cannot be there.", strings.ToLower(kind.Field), kind.Value)
	case errors.As(err, &syntax):
		return fmt.Sprintf("this is no JSON from byte %d on.", syntax.Offset)
	}
	return err.Error()
}

// answer is one line.
type answer map[string]any

const firstForecast = 4

// thresholds below which a nutrient counts as run out, mg/L.
var thresholds = []struct {
	name string
	kind q.Kind
	at   float64
}{{"NO3", q.Nitrate, 2}, {"PO4", q.Phosphate, 0.05}, {"K", q.Potassium, 2}, {"Fe", q.Iron, 0.01}}

func (o *observed) answers(past []step) (out []answer) {
	var s, before forecast.State
	for i := range past {
		p := &past[i]
		if i >= firstForecast {
			for _, e := range forecast.Ahead(s, past[i-1].setup, forecast.Course{Plan: p.plan}, []q.Date{p.visit.Day}) {
				for _, a := range analytes {
					if a.kind == e.Kind {
						out = append(out, answer{"seed": o.Seed, "visit": o.Visits[i].Visit, "analyte": a.name, "pred": e.Value, "lo": e.Lo, "hi": e.Hi})
					}
				}
			}
		}
		before = s
		s = forecast.Update(s, p.setup, p.plan, p.visit)
	}
	if len(past) == 0 {
		return nil
	}
	// What was dosed at the last visit does not count: the question is how long
	// the water lasts by itself.
	last := past[len(past)-1]
	last.visit.Work = slices.DeleteFunc(last.visit.Work, func(w visit.Work) bool { return w.Kind == visit.Dose })
	s = forecast.Update(before, last.setup, last.plan, last.visit)
	setup := last.setup
	days := func(k q.Kind, limit float64, within int) any {
		r := forecast.Crossing(s, setup, forecast.Course{Plan: tank.Plan{By: tank.DosedByNobody}}, k, forecast.Below, limit, within)
		switch r.Verdict {
		case forecast.Around, forecast.Already:
			return r.Days
		}
		return nil
	}
	for _, t := range thresholds {
		out = append(out, answer{"seed": o.Seed, "task": "runout", "analyte": t.name, "days": days(t.kind, t.at, 60)})
	}
	out = append(out, answer{"seed": o.Seed, "task": "flow", "days": days(q.Flow, o.Spec.FlowAlarm, 180)})
	if o.Spec.Injected {
		out = append(out, answer{"seed": o.Seed, "task": "cylinder", "days": days(q.CylinderGross, 0.001, 365)})
	}
	return out
}
