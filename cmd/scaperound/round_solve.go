package main

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"math"
	"os"
	"strconv"
	"strings"
	"time"

	"scaperound/domain/fault"
	q "scaperound/domain/quantity"
	"scaperound/domain/round"
)

// options turns flags into what the search takes: the clock stays here.
func (s *searchFlags) options(ctx context.Context, e *env) (round.Options, error) {
	o := round.Options{Seed: s.seed, Iterations: s.iterations, Threads: s.threads}
	if s.iterations < 0 || s.threads < 1 || s.threads > 8 || s.iterations == 0 && !(s.seconds > 0 && s.seconds <= 86400) {
		return o, usage("--seconds is above 0, --iterations not below, --threads 1 to 8")
	}
	began := time.Now()
	o.Stop = func() bool { return ctx.Err() != nil }
	if s.iterations == 0 {
		span := time.Duration(s.seconds * float64(time.Second))
		o.Done = func() float64 { return time.Since(began).Seconds() / s.seconds }
		o.Stop = func() bool { return ctx.Err() != nil || time.Since(began) >= span }
	}
	if !s.quiet {
		told := began
		o.Progress = func(r round.Report) {
			if now := time.Now(); now.Sub(told) >= time.Second {
				told = now
				fmt.Fprintf(e.stderr, "%4.0f s  %d steps, cost %d, %d unplaced\n", now.Sub(began).Seconds(), r.Iterations, r.Cost, r.Unplaced)
			}
		}
	}
	return o, nil
}

// roundSolve solves a routing instance as a day on which every vehicle is a
// person and a tenth of the instance's unit is a second.
func roundSolve(ctx context.Context, e *env, s searchFlags, file string) error {
	f, err := os.Open(file)
	if err != nil {
		return fault.Wrap(fault.NotFound, err, "The instance cannot be read.")
	}
	defer f.Close()
	in, err := readInstance(f)
	if err != nil {
		return err
	}
	o, err := s.options(ctx, e)
	if err != nil {
		return err
	}
	p := in.problem()
	plan := round.Solve(p, o)
	number := 0
	for _, r := range plan.Routes {
		if len(r.Visits) == 0 {
			continue
		}
		number++
		fmt.Fprintf(e.stdout, "Route %d:", number)
		for _, v := range r.Visits {
			fmt.Fprintf(e.stdout, " %s", v.Stop)
		}
		fmt.Fprintln(e.stdout)
	}
	for _, u := range plan.Unplaced {
		fmt.Fprintf(e.stdout, "Without a place: %s\n", u.Stop)
	}
	fmt.Fprintf(e.stdout, "Distance %.1f\n", float64(plan.Cost.Drive)/10)
	if broken := round.Check(p, plan); len(broken) > 0 {
		return fmt.Errorf("the plan breaks %d rules, the first: %s %s %s", len(broken), broken[0].Rule, broken[0].Person, broken[0].Stop)
	}
	if len(plan.Unplaced) > 0 {
		return fmt.Errorf("%d customers have no place", len(plan.Unplaced))
	}
	return nil
}

// instance is a routing problem in Solomon's text format.
type instance struct {
	name          string
	fleet, carry  int
	x, y          []float64
	demand        []int
	ready, due, s []float64
}

func readInstance(r io.Reader) (*instance, error) {
	bad := func(line int, format string, args ...any) error {
		return fault.New(fault.Malformed, "Line %d: %s", line, fmt.Sprintf(format, args...))
	}
	in := &instance{}
	scan, line := bufio.NewScanner(r), 0
	for scan.Scan() {
		line++
		fields := strings.Fields(scan.Text())
		if len(fields) == 0 {
			continue
		}
		numbers := make([]float64, 0, 7)
		for _, f := range fields {
			n, err := strconv.ParseFloat(f, 64)
			if err != nil || math.IsNaN(n) || math.Abs(n) > 1e6 {
				break
			}
			numbers = append(numbers, n)
		}
		switch {
		case in.name == "":
			in.name = fields[0]
		case len(numbers) == 2 && len(fields) == 2 && in.fleet == 0:
			in.fleet, in.carry = int(numbers[0]), int(numbers[1])
		case len(numbers) == 7 && len(fields) == 7:
			if int(numbers[0]) != len(in.x) {
				return nil, bad(line, "customer %v stands where %d should", numbers[0], len(in.x))
			}
			in.x, in.y = append(in.x, numbers[1]), append(in.y, numbers[2])
			in.demand = append(in.demand, int(numbers[3]))
			in.ready, in.due, in.s = append(in.ready, numbers[4]), append(in.due, numbers[5]), append(in.s, numbers[6])
		case len(numbers) > 0:
			return nil, bad(line, "neither the fleet (two numbers) nor a customer (seven)")
		}
	}
	if err := scan.Err(); err != nil {
		return nil, fault.Wrap(fault.Malformed, err, "The instance cannot be read to its end.")
	}
	if in.fleet < 1 || in.fleet > 2000 || len(in.x) < 2 || len(in.x) > 5000 {
		return nil, fault.New(fault.Malformed, "The instance has no fleet, no customers, or too many.")
	}
	if in.due[0] > 8640 {
		return nil, fault.New(fault.Malformed, "The depot closes after 8640, more than a day of tenths.")
	}
	return in, nil
}

// problem is the instance as a day of work.
func (in *instance) problem() round.Problem {
	n := len(in.x)
	day := q.NewDate(2026, time.January, 5)
	tenths := func(v float64) round.Seconds { return round.Seconds(math.Round(v * 10)) }
	p := round.Problem{From: day, Days: 1, Weights: round.Weights{Unplaced: 10_000_000}}
	p.Travel.Drive = make([]round.Seconds, n*n)
	for i := range n {
		p.Places = append(p.Places, round.Place{ID: strconv.Itoa(i)})
		for j := range n {
			dx, dy := in.x[i]-in.x[j], in.y[i]-in.y[j]
			p.Travel.Drive[i*n+j] = round.Seconds(math.Floor(10 * math.Sqrt(dx*dx+dy*dy)))
		}
	}
	for v := range in.fleet {
		van := "van " + strconv.Itoa(v+1)
		p.Vans = append(p.Vans, round.Van{ID: van, Carries: round.Load{WaterL: in.carry}})
		p.People = append(p.People, round.Person{ID: "vehicle " + strconv.Itoa(v+1), Special: []round.Shift{{Day: day, From: tenths(in.ready[0]), To: tenths(in.due[0]), Van: van}}})
	}
	for i := 1; i < n; i++ {
		p.Stops = append(p.Stops, round.Stop{
			ID: strconv.Itoa(i), Place: i, Work: tenths(in.s[i]), Due: day, Load: round.Load{WaterL: in.demand[i]},
			Windows: []round.Window{{Day: q.Some(day), From: tenths(in.ready[i]), To: tenths(in.due[i] + in.s[i])}},
		})
	}
	return p
}
