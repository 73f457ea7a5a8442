package care_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"scaperound/domain/care"
	q "scaperound/domain/quantity"
	"scaperound/domain/tank"
	"scaperound/domain/visit"
)

// anyCase makes a case of chance: signs and readings need not agree.
func anyCase(r *rand.Rand) care.Case {
	pick := func(n int) bool { return r.IntN(n) == 0 }
	c := made()
	c.Setup.SetUpOn = q.Some(caseDay.Add(-r.IntN(1000)))
	if pick(5) {
		c.Setup.SetUpOn = q.Opt[q.Date]{}
	}
	c.Setup.CO2.Injected = pick(2)
	c.Setup.Substrate = []tank.Substrate{"", tank.RichSoil, tank.SandGravel}[r.IntN(3)]
	c.Setup.Planting = []tank.Planting{"", tank.PlantingNew, tank.PlantingDense}[r.IntN(3)]
	c.Setup.Agreement = tank.Agreement{EveryDays: q.Some(1 + r.IntN(30)), ToleranceDays: r.IntN(5)}
	c.Setup.Share = tank.CareShare{Feeds: pick(2), TopsUp: pick(2), Doses: pick(2), ChangesWater: pick(3)}
	for _, g := range tank.AnimalGroups {
		if pick(8) {
			c.Setup.Animals = append(c.Setup.Animals, tank.Living{Group: g.ID, Count: r.IntN(20)})
		}
	}
	for _, g := range tank.PlantGroups {
		if pick(8) {
			c.Setup.Plants = append(c.Setup.Plants, tank.Living{Group: g.ID, Count: 1})
		}
	}
	if pick(2) {
		c.Setup.Light = tank.Light{On: q.Some(q.MinuteOfDay(r.IntN(1440))), Hours: q.Some(q.Hours(r.IntN(25)))}
	}
	if pick(2) {
		source(tank.Tap, "kh", float64(r.IntN(20)), "gh", float64(r.IntN(25)))(&c)
	}
	if pick(9) {
		c.Setup.Metered = q.Opt[q.Litre]{}
	}
	for range r.IntN(8) {
		all := visit.Signs()
		c.Now.Signs = append(c.Now.Signs, visit.Sign{ID: all[r.IntN(len(all))].ID})
	}
	fill := func(rec *visit.Record) {
		for _, m := range q.Measures() {
			if !pick(6) {
				continue
			}
			lo, hi := m.Likely.Lo, m.Likely.Hi
			if pick(6) {
				lo, hi = m.Range.Lo, m.Range.Hi
			}
			x := visit.Reading{Kind: m.Kind, Phase: visit.Phases[r.IntN(len(visit.Phases))], Interval: visit.MeaningOf(m.Kind, lo+r.Float64()*(hi-lo))}
			if pick(3) {
				x.Phase = visit.Before
			}
			if pick(12) {
				x.Hi = math.Inf(1)
			}
			rec.Readings = append(rec.Readings, x)
		}
	}
	fill(&c.Now)
	for i := range r.IntN(4) {
		h := visit.Record{Day: caseDay.Add(-14 * (4 - i)), Performed: c.Now.Performed.AddDate(0, 0, -14*(4-i))}
		fill(&h)
		c.History = append(c.History, h)
	}
	for range r.IntN(4) {
		all := care.Actions()
		id := []string{"", "a", "b"}[r.IntN(3)]
		c.Open = append(c.Open, care.Task{ID: id, Action: all[r.IntN(len(all))].ID, Who: care.Technician, Urgency: care.Routine, Rank: care.RankPlants})
	}
	return c
}

func TestPlansHoldTheirPromises(t *testing.T) {
	for seed := range uint64(4000) {
		c := anyCase(rand.New(rand.NewPCG(seed, 7)))
		a := care.Assess(c)
		for _, why := range breaches(a) {
			t.Errorf("seed %d: %s (signs %v)", seed, why, c.Now.Signs)
		}
		if t.Failed() {
			return
		}
	}
}

// turn is a task's place in the list by its urgency; a test of tomorrow does not
// stand among what is done today.
func turn(a care.Assessment, x care.Task) int {
	if x.When == care.WhenOnDay && care.ActionOf(x.Action).Test && x.Day.V > a.Day {
		return max(x.Urgency.Level(), care.ThisVisit.Level())
	}
	return x.Urgency.Level()
}

// breaches says what is wrong with a list, whatever the visit was.
func breaches(a care.Assessment) []string {
	var out []string
	bad := func(what string) { out = append(out, what) }
	people := slices.ContainsFunc(a.Tasks, func(x care.Task) bool { return x.Action == "leave_room_ventilate" && x.Urgency == care.Now })
	swaps := slices.ContainsFunc(a.Tasks, func(x care.Task) bool { return x.Action == "swap_cylinder" }) // then CO2 is only put right
	family, alters := map[string]string{}, map[string]bool{}
	later := 0
	keys := map[string]bool{}
	for i, x := range a.Tasks {
		act := care.ActionOf(x.Action)
		if act.Never {
			bad(x.Action + " is never advised")
		}
		for _, r := range a.Refused {
			if r.Action == x.Action {
				bad(x.Action + " is on the list and refused")
			}
		}
		if keys[x.Key()] {
			bad(x.Key() + " is on the list twice")
		}
		keys[x.Key()] = true
		if f := act.Family; f != "" {
			if o := family[f]; o != "" && o != x.Action {
				bad(o + " and " + x.Action + " together")
			}
			family[f] = x.Action
		}
		if act.Alters != "" && x.Rank > care.RankAnimals && (act.Alters != "co2" || !swaps) {
			alters[act.Alters] = true
		}
		if i > 0 && turn(a, a.Tasks[i-1]) > turn(a, x) {
			bad("the list is out of order")
		}
		if x.Urgency.Level() > care.Today.Level() && !act.Told && x.Who != care.Owner {
			later++
		}
		if x.Who == care.Customer && (x.Action == "swap_cylinder" || x.Action == "filter_clean_gentle" || len(x.Amount) > 0) {
			bad(x.Action + " is asked of the customer")
		}
	}
	if later > care.Ceiling {
		bad("the list is too long")
	}
	if len(alters) > 1 {
		bad("two kinds of change at once")
	}
	if people && slices.ContainsFunc(a.Tasks, func(x care.Task) bool { return care.ActionOf(x.Action).Wet }) {
		bad("work at the water while people are in danger")
	}
	if len(a.Customer) > 7 || len(a.Donts) > 3 {
		bad("too much for the customer")
	}
	sum := a.NotKnown
	for _, k := range a.Causes {
		sum += k.Weight
		if k.Weight < 0 || math.IsNaN(k.Weight) {
			bad("a weight of " + k.ID)
		}
	}
	if sum > 1.0001 || a.NotKnown < 0 || math.IsNaN(sum) {
		bad("weights do not add up")
	}
	for _, f := range a.Findings {
		if f.State == care.Internal {
			bad("the rule " + f.Rule + " broke")
		}
	}
	return out
}

func TestEmptyCase(t *testing.T) {
	a := care.Assess(care.Case{})
	if len(a.Tasks) > 0 || a.Urgency != care.Routine || a.Status != care.AllWell {
		t.Errorf("an empty case led to %v, %s, %s", actionsOf(a), a.Urgency, a.Status)
	}
	if a.Next.On.OK {
		t.Error("a date without an agreement")
	}
}

func TestSameCaseSameAnswer(t *testing.T) {
	for seed := range uint64(50) {
		one := care.Assess(anyCase(rand.New(rand.NewPCG(seed, 3))))
		two := care.Assess(anyCase(rand.New(rand.NewPCG(seed, 3))))
		if !slices.Equal(actionsOf(one), actionsOf(two)) || len(one.Trace) != len(two.Trace) {
			t.Fatalf("seed %d: two answers", seed)
		}
	}
}

// A tank without a set-up, a single reading, readings that contradict each other,
// a history from the future, sizes that cannot be: a list that can be followed or
// none, and never a broken rule.
func TestOddInputIsJudgedOrLeftAlone(t *testing.T) {
	for name, c := range map[string]care.Case{
		"no set-up":       {Now: made(rd("no3", 80), signs("fish_at_surface_all_day")).Now},
		"one reading":     made(rd("ph", 7.0)),
		"contradictory":   made(animals("tetras"), rd("temp", 31), rd("temp_min", 34), rd("temp_max", 12), signs("animals_normal", "fish_at_surface_all_day")),
		"future history":  made(animals("tetras"), ago(-30, "kh", 4.0, "no3", 5.0), rd("ph", 6.6), rd("no3", 60)),
		"no water":        made(animals("tetras"), setup(func(s *tank.Setup) { s.Metered = q.Some(q.Litre(0)) }), rd("no3", 90), rd("tan", 3)),
		"negative plan":   made(animals("tetras"), rd("no3", 90), func(c *care.Case) { c.Plan.Lines = []tank.DosingLine{{Solute: q.Nitrate, PerDose: -5}} }),
		"light of no day": made(co2, setup(func(s *tank.Setup) { s.Light.Hours, s.Light.On = q.Some(q.Hours(24)), q.Some(q.MinuteOfDay(0)) }), rd("ph", 6.5), rd("kh", 4)),
		"task of nobody":  made(open(care.Task{ID: "x"}), closed(3, "done", care.Task{Expect: &care.Expectation{}})),
	} {
		a := care.Assess(c)
		for _, why := range breaches(a) {
			t.Errorf("%s: %s", name, why)
		}
		for _, x := range a.Tasks {
			for _, m := range x.Amount {
				if !(m.Value > 0) || math.IsInf(m.Value, 0) {
					t.Errorf("%s: %s of %v", name, x.Action, m)
				}
			}
		}
	}
}
