package care_test

import (
	"slices"
	"strings"
	"testing"

	"scaperound/domain/care"
	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
)

func closed(days int, state string, t care.Task) opt {
	return func(c *care.Case) {
		c.Closed = append(c.Closed, care.Closed{Task: t, State: state, On: caseDay.Add(-days)})
	}
}

func verdicts(a care.Assessment) []care.Verdict {
	var out []care.Verdict
	for _, f := range a.Followed {
		out = append(out, f.Verdict)
	}
	return out
}

// What was done is held against what it was expected to do: a reading, or the
// signs that it was for. It is told once.
func TestDoneTasksAreHeldAgainstTheirExpectation(t *testing.T) {
	dose := care.Task{Action: "dose_no3", Cause: "n_def", Expect: &care.Expectation{Kind: q.Nitrate, Lo: 8, Hi: 14, Days: 14}}
	trim := care.Task{Action: "co2_start_earlier_steady", Cause: "co2_unstable", Expect: &care.Expectation{Signs: []string{"dark_tufts_on_leaf_edges"}, Days: 14}}
	for _, x := range []struct {
		name string
		opts []opt
		want []care.Verdict
		says string
	}{
		{"in range", []opt{closed(14, "done", dose), rd("no3", 11)}, []care.Verdict{care.Worked}, "NO3 expected 8 to 14 mg/L, read 11 mg/L. It worked."},
		{"too early", []opt{closed(5, "done", dose), rd("no3", 1)}, []care.Verdict{care.NotYet}, "Too early"},
		{"not moved", []opt{closed(20, "done", dose), rd("no3", 1)}, []care.Verdict{care.DidNot}, "It did not work"},
		{"not read", []opt{closed(20, "done", dose)}, nil, ""},
		{"told before", []opt{closed(28, "done", dose), ago(14, "no3", 11.0), rd("no3", 2)}, nil, ""},
		{"long ago", []opt{closed(100, "done", dose), rd("no3", 11)}, nil, ""},
		{"sign gone", []opt{closed(20, "done", trim), fine}, []care.Verdict{care.Worked}, "no longer seen"},
		{"sign still there", []opt{closed(20, "done", trim), signs("dark_tufts_on_leaf_edges")}, []care.Verdict{care.DidNot}, "the next cause is tried"},
		{"nobody looked", []opt{closed(20, "done", trim)}, nil, ""},
	} {
		a := care.Assess(made(x.opts...))
		if got := verdicts(a); !slices.Equal(got, x.want) {
			t.Errorf("%s: %v, want %v", x.name, got, x.want)
			continue
		}
		if x.says != "" && !strings.Contains(text(a.Followed[0].Say), x.says) {
			t.Errorf("%s: %q", x.name, text(a.Followed[0].Say))
		}
	}
}

// A remedy in vain speaks against its cause, so that the next one comes up.
func TestARemedyInVainBringsUpTheNextCause(t *testing.T) {
	seen := []opt{co2, plants("ferns"), signs("dark_tufts_on_leaf_edges", "dark_tufts_on_outlet", "bubble_rate_changed")}
	before := care.Assess(made(seen...))
	if before.Causes[0].ID != "co2_unstable" {
		t.Fatalf("the first cause is %s", before.Causes[0].ID)
	}
	tried := closed(20, "done", care.Task{Action: "co2_start_earlier_steady", Cause: "co2_unstable", Expect: &care.Expectation{Signs: []string{"dark_tufts_on_leaf_edges"}, Days: 14}})
	after := care.Assess(made(append(seen, tried)...))
	weight := func(a care.Assessment) float64 {
		for _, c := range a.Causes {
			if c.ID == "co2_unstable" {
				return c.Weight
			}
		}
		return 0
	}
	if weight(after) >= 0.7*weight(before) {
		t.Errorf("it weighs %g, and before %g", weight(after), weight(before))
	}
}

func TestRefusedAndPutOff(t *testing.T) {
	flow := openTask("filter_clean_gentle")
	answer := func(state string) opt {
		return record(func(r *visit.Record) { r.Tasks = []visit.TaskAnswer{{Task: flow.ID, State: state, Reason: "no_time"}} })
	}
	if a := care.Assess(made(open(flow), rd("flow_share", 45), answer("declined"))); !slices.Equal(verdicts(a), []care.Verdict{care.Declined}) {
		t.Errorf("declined: %v", verdicts(a))
	}
	if a := care.Assess(made(closed(14, "declined", care.Task{Action: "filter_clean_gentle"}), rd("flow_share", 45))); slices.Contains(actionsOf(a), "filter_clean_gentle") {
		t.Error("the customer said no a fortnight ago and is asked again")
	}
	if a := care.Assess(made(open(flow), rd("flow_share", 45), answer("skipped"))); len(a.Followed) > 0 {
		t.Errorf("skipped once: %v", verdicts(a))
	}
	flow.Skips = 1
	if a := care.Assess(made(open(flow), rd("flow_share", 45), answer("skipped"))); !slices.Equal(verdicts(a), []care.Verdict{care.SkippedTwice}) {
		t.Errorf("skipped twice: %v", verdicts(a))
	}
}

// Pale young leaves are iron or another trace element: the list says what would
// tell them apart.
func TestWhatWouldSeparateTheFirstTwoCauses(t *testing.T) {
	a := care.Assess(made(plants("stems"), signs("young_leaves_pale_all_over")))
	if len(a.Separate) == 0 {
		t.Fatalf("causes %v", a.Causes[:2])
	}
	for _, s := range a.Separate {
		if s.For == s.Against || s.Sign == "" && s.Kind == "" || strings.ContainsAny(text(s.Say), "{}…_") {
			t.Errorf("%+v reads %q", s, text(s.Say))
		}
	}
	if a := care.Assess(made(animals("tetras"), signs("white_spots_on_fish"))); len(a.Separate) > 0 {
		t.Errorf("the first cause stands alone: %+v", a.Separate)
	}
}

// What a visit found too high is read again at the next, whether the change was
// made at once or waits.
func TestWhatWasOutOfPlaceIsReadAgain(t *testing.T) {
	reads := func(a care.Assessment) bool {
		return slices.ContainsFunc(a.Next.Tests, func(d care.TestDue) bool { return d.Kind == q.Nitrate && d.Why.ID == "due.follow" })
	}
	changed := record(func(r *visit.Record) {
		r.Work = append(r.Work, visit.Work{Kind: visit.WaterChange, Litres: q.Some(q.Litre(60))})
	})
	known := []opt{animals("tetras"), ago(14, "no3", 15.0), ago(14, "kh", 5.0), ago(14, "gh", 8.0)}
	if a := care.Assess(made(append(known, rd("no3", 15))...)); reads(a) {
		t.Fatalf("nitrate in its place is to show something: %+v", a.Next.Tests)
	}
	for name, more := range map[string][]opt{"waits": nil, "done": {changed}} {
		if a := care.Assess(made(append(append(slices.Clone(known), rd("no3", 70)), more...)...)); !reads(a) {
			t.Errorf("%s: %+v", name, a.Next.Tests)
		}
	}
}

// Each system says how sure, since when, and what would change it.
func TestSystemsSayHowSureAndSinceWhen(t *testing.T) {
	a := care.Assess(made(animals("tetras"), ago(28, "no3", 70.0), ago(14, "no3", 65.0), rd("no3", 70)))
	for _, s := range a.Systems {
		var more []string
		for _, m := range s.More {
			more = append(more, text(m))
		}
		all := strings.Join(more, " ")
		switch s.System {
		case care.Water:
			if !strings.Contains(all, "since Tuesday 3 February") || !strings.Contains(all, "NO3 below 30 mg/L would change this") {
				t.Errorf("water: %q", all)
			}
		case care.CO2:
			if text(s.Say) != "no CO2 is injected" {
				t.Errorf("CO2: %q", text(s.Say))
			}
		case care.Plants:
			if s.State != care.NotMeasured {
				t.Errorf("nobody looked at the plants: %s", s.State)
			}
		}
	}
}

// At KH 1 over soil the pH says no more than an upper bound; an aerated sample
// does. The KH of an earlier visit is named by its day.
func TestHowFarCO2CanBeKnown(t *testing.T) {
	soil := setup(func(s *tank.Setup) { s.Substrate = tank.RichSoil })
	say := func(a care.Assessment) string {
		for _, f := range a.Findings {
			if f.Rule == "co2_high" {
				return text(f.Say)
			}
		}
		return ""
	}
	if got := say(care.Assess(made(co2, animals("tetras"), soil, rd("ph.late", 5.7), rd("kh", 1.0)))); !strings.Contains(got, "at most") {
		t.Errorf("over soil: %q", got)
	}
	if got := say(care.Assess(made(co2, animals("tetras"), rd("ph.late", 5.9), ago(14, "kh", 4.0)))); !strings.Contains(got, "with the KH of Tuesday 17 February") {
		t.Errorf("with an old KH: %q", got)
	}
	// A drop of 0.7 in a usual room is some 5 mg/L, whatever the soil holds.
	if got := say(care.Assess(made(co2, animals("tetras"), soil, rd("ph.late", 5.7), rd("ph.degassed", 6.4), rd("kh", 1.0)))); got != "" {
		t.Errorf("with an aerated sample: %q", got)
	}
}

// A KH of nothing leaves CO2 open: it is neither fine nor short.
func TestCO2WithoutKHIsNotJudged(t *testing.T) {
	a := care.Assess(made(co2, plants("stems"), animals("tetras"), rd("ph.late", 6.4), rd("kh", 0.0), rd("temp", 25)))
	for _, s := range a.Systems {
		if s.System == care.CO2 && (s.State != care.NotJudged || !strings.Contains(text(s.Say), "indicator")) {
			t.Errorf("%s: %q", s.State, text(s.Say))
		}
	}
	for _, c := range a.Causes {
		if c.ID == "co2_deficit" {
			t.Errorf("too little CO2 weighs %.2f", c.Weight)
		}
	}
}

// Soft-water shrimp on pure water get their salts and a GH to aim at; tiny amounts
// and parts of a can are left out.
func TestWaterPlanOfShrimp(t *testing.T) {
	r := care.Assess(made(animals("bee_shrimp"), source(tank.RO), rd("temp", 22), setup(func(s *tank.Setup) {
		s.Metered, s.CanLitres = q.Some(q.Litre(24)), q.Some(q.Litre(10))
	}))).Recipe
	if len(r.Weigh) < 2 || r.Cans.OK {
		t.Errorf("%+v", r)
	}
	found := false
	for _, s := range r.Steps {
		found = found || strings.Contains(text(s), "The new water then has GH 5.0 °dGH")
	}
	if !found {
		t.Error("nobody says what GH to aim at")
	}
}

// 5 mg/L in 100 L are 500 mg: one dose of 500 mg from 5 mL at 1 mL a stroke.
func TestDosesInStrokes(t *testing.T) {
	a := care.Assess(made(plants("stems"), signs("blue_green_film"), rd("no3", 0), func(c *care.Case) {
		c.Plan.Lines = []tank.DosingLine{{Solute: q.Nitrate, PerDose: 500, MlPerDose: q.Some(q.Millilitre(5)), MlPerStroke: q.Some(q.Millilitre(1)), Weekdays: 1}}
	}))
	x, i := taskOf(a, "dose_no3")
	if i < 0 || len(x.Amount) != 3 || x.Amount[1].Value != 5 || x.Amount[2].Value != 5 {
		t.Errorf("%+v", x.Amount)
	}
}

// A flow taken with a bucket was read: nobody is sent to read it again to tell a
// clogged filter from still corners.
func TestBucketCountsAsReadingOfFlow(t *testing.T) {
	bucket := record(func(r *visit.Record) {
		r.Buckets = []visit.BucketRun{{Phase: visit.Before, Litres: 5, Seconds: 60}}
	})
	a := care.Assess(made(cleanFlow, animals("tetras"), plants("stems"), signs("far_plants_not_moving", "mulm_in_corners"), bucket))
	for _, s := range a.Separate {
		if s.Kind == q.Flow {
			t.Errorf("%+v", s)
		}
	}
	b := care.Assess(made(cleanFlow, animals("tetras"), plants("stems"), signs("far_plants_not_moving", "mulm_in_corners")))
	if len(b.Separate) == 0 {
		t.Error("without it nothing would tell the two apart either")
	}
}

// A figure beside its target is never "fine", and every figure that is out is told.
func TestNoSystemIsFineOverAFigureThatIsOut(t *testing.T) {
	a := care.Assess(made(animals("tetras"), fine, rd("ph", 8.3), rd("kh", 13.0), rd("gh", 6.0), rd("po4", 3.0),
		func(c *care.Case) {
			c.Profile.Bands = append(c.Profile.Bands, tank.Band{Kind: q.Phosphate, Lo: q.Some(0.2), Hi: q.Some(1.0)})
		}))
	for _, s := range a.Systems {
		if (s.System == care.Water || s.System == care.Nutrients) && !s.State.Trouble() {
			t.Errorf("%s: %s", s.System, s.State)
		}
	}
	told := map[string]bool{}
	for _, f := range a.Findings {
		if f.Rule == "hardness" {
			told[f.Subject] = true
		}
	}
	if !told["kh"] || !told["ph"] || told["gh"] {
		t.Errorf("told: %v", told)
	}
}

// A filter that was cleaned and not measured after is measured at the next visit.
func TestFlowIsDueAfterCleaning(t *testing.T) {
	due := func(opts ...opt) bool {
		for _, d := range care.Assess(made(append([]opt{cleanFlow, animals("tetras"), rd("flow", 300)}, opts...)...)).Next.Tests {
			if d.Kind == q.Flow {
				return true
			}
		}
		return false
	}
	cleaned := record(func(r *visit.Record) { r.Work = []visit.Work{{Kind: visit.FilterClean}} })
	if !due(cleaned) {
		t.Error("nobody measures what the cleaning did")
	}
	if due(cleaned, rd("flow.after", 800)) {
		t.Error("it is measured again though it was measured after")
	}
}
