package main

import (
	"bufio"
	"flag"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"scaperound/domain/round"
	"scaperound/domain/round/roundtest"
)

// How good plans are is measured, not tested, by
//
//	go test -run '^$' -bench RoundWeeks -benchtime 1x -timeout 0 ./cmd/scaperound -weeks 10 -long 5m
//	go test -run '^$' -bench RoundInstances -benchtime 1x -timeout 0 ./cmd/scaperound -instances FOLDER -short-time 5s
//
// and 1000 visits with the first again: -visits 1000 -people 25 -short-time 15s.
// On a machine that has other work too, -clock processor counts the time that the
// search had, a thread's share of it, and not what the others took.
// The second wants Solomon files and, beside them, best_known.csv with the
// columns instance and distance_truncated_1_decimal. Every plan is checked.
var (
	measureWeeks     = flag.Int("weeks", 3, "made-up weeks to measure")
	measureFrom      = flag.Uint64("first-week", 0, "the made-up week to begin with")
	measureVisits    = flag.Int("visits", 300, "visits of a made-up week")
	measurePeople    = flag.Int("people", 8, "people of a made-up week")
	measureShort     = flag.Duration("short-time", 5*time.Second, "time of the plan that is judged")
	measureLong      = flag.Duration("long", time.Minute, "time of the plan that it is held against")
	measureClock     = flag.String("clock", "wall", "wall, or processor: what times are counted by")
	measureInstances = flag.String("instances", "", "folder of routing instances")
)

// solveFor plans for some time, and fails where the plan breaks a rule.
func solveFor(b *testing.B, p round.Problem, span time.Duration, seed uint64) (round.Plan, time.Duration) {
	b.Helper()
	const threads = 2
	since := clockOf(b, threads)
	plan := round.Solve(p, round.Options{
		Seed: seed, Threads: threads,
		Stop: func() bool { return since() >= span },
		Done: func() float64 { return since().Seconds() / span.Seconds() },
	})
	took := since()
	for _, x := range round.Check(p, plan) {
		b.Errorf("seed %d: %s %s %s", seed, x.Rule, x.Person, x.Stop)
	}
	return plan, took
}

// clockOf tells the time from now on, by -clock.
func clockOf(b *testing.B, threads int) func() time.Duration {
	b.Helper()
	switch *measureClock {
	case "wall":
		began := time.Now()
		return func() time.Duration { return time.Since(began) }
	case "processor":
		used := func() time.Duration {
			var u syscall.Rusage
			if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
				b.Fatal(err)
			}
			return time.Duration(u.Utime.Nano() + u.Stime.Nano())
		}
		began := used()
		return func() time.Duration { return (used() - began) / time.Duration(threads) }
	}
	b.Fatalf("-clock is wall or processor, not %q", *measureClock)
	return nil
}

func BenchmarkRoundWeeks(b *testing.B) {
	for range b.N {
		sum := 0.0
		for i := range uint64(*measureWeeks) {
			week := *measureFrom + i
			p := roundtest.Week(week, roundtest.Size{Visits: *measureVisits, People: *measurePeople, Days: 5})
			since := clockOf(b, 1)
			round.Solve(p, round.Options{Iterations: 1, Threads: 1})
			first := since()
			short, _ := solveFor(b, p, *measureShort, week)
			long, _ := solveFor(b, p, *measureLong, week)
			gap := 100 * (float64(short.Cost.Total)/float64(long.Cost.Total) - 1)
			sum += gap
			could := 0
			for _, u := range short.Unplaced {
				could += len(round.Prices(p, short, u.Stop, 1))
			}
			moved, took := urgent(b, p, short)
			b.Logf("week %d: first plan %.2f s; %v costs %d (%d unplaced, %d could be placed), %v %d (%d unplaced), %.2f %% apart; an urgent stop more: %d others moved, %.2f s",
				week, first.Seconds(), *measureShort, short.Cost.Total, len(short.Unplaced), could, *measureLong, long.Cost.Total, len(long.Unplaced), gap, moved, took.Seconds())
		}
		b.ReportMetric(sum/float64(*measureWeeks), "%apart")
	}
}

// urgent adds an urgent stop to a week that is known, and counts others that are
// moved to another person or day.
func urgent(b *testing.B, p round.Problem, plan round.Plan) (moved int, took time.Duration) {
	p.Known = &plan
	s := p.Stops[len(p.Stops)/2]
	s = round.Stop{ID: "urgent", Name: "urgent", Place: s.Place, Work: 40 * round.Minute, Due: p.From.Add(1), Press: round.Urgent}
	p.Stops = append(slices.Clone(p.Stops), s)
	again, took := solveFor(b, p, 800*time.Millisecond, 1)
	for _, c := range round.Diff(plan, again) {
		if c.Moved && c.Stop != "urgent" {
			moved++
		}
		if c.Stop == "urgent" && (!c.ToDay.OK || c.ToDay.V > p.From.Add(1)) {
			b.Logf("the urgent stop is late or without a place")
		}
	}
	return moved, took
}

func BenchmarkRoundInstances(b *testing.B) {
	if *measureInstances == "" {
		b.Skip("no -instances")
	}
	table, err := os.ReadFile(filepath.Join(*measureInstances, "best_known.csv"))
	if err != nil {
		b.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(string(table)), "\n")
	head := strings.Split(lines[0], ",")
	name, value := slices.Index(head, "instance"), slices.Index(head, "distance_truncated_1_decimal")
	for range b.N {
		var gaps []float64
		for _, line := range lines[1:] {
			cells := strings.Split(strings.TrimSpace(line), ",")
			f, err := os.Open(filepath.Join(*measureInstances, cells[name]+".txt"))
			if err != nil {
				continue
			}
			in, err := readInstance(bufio.NewReader(f))
			f.Close()
			if err != nil {
				b.Fatal(err)
			}
			best, _ := strconv.ParseFloat(cells[value], 64)
			plan, _ := solveFor(b, in.problem(), *measureShort, 1)
			if len(plan.Unplaced) > 0 {
				b.Errorf("%s: %d customers have no place", cells[name], len(plan.Unplaced))
			}
			gap := 100 * (float64(plan.Cost.Drive)/10/best - 1)
			gaps = append(gaps, gap)
			b.Logf("%-9s %.1f, %.2f %% above the best known", cells[name], float64(plan.Cost.Drive)/10, gap)
		}
		sum := 0.0
		for _, g := range gaps {
			sum += g
		}
		b.ReportMetric(sum/float64(max(len(gaps), 1)), "%mean")
		b.ReportMetric(slices.Max(append(gaps, 0)), "%worst")
	}
}
