package main

import (
	"context"
	"flag"
)

func roundCommand() command {
	return command{
		name: "round", args: "solve FILE | plan", title: "plan rounds: a week from a document, or a routing instance for measuring", run: runRound,
		help: "round solve FILE reads a vehicle routing instance with time windows in Solomon's text\n" +
			"format, looks for the least total distance (arcs and travel times cut to one decimal,\n" +
			"as many vehicles as the fleet has) and prints the routes and the distance.\n\n" +
			"round plan reads a week as a JSON document on standard input and prints the plan;\n" +
			"--schema prints what the document may hold.\n\n" +
			"With --iterations the same seed and threads give the same plan; --seconds promises none.",
	}
}

// searchFlags are what both ways of planning take.
type searchFlags struct {
	seconds    float64
	iterations int
	seed       uint64
	threads    int
	quiet      bool
}

func (s *searchFlags) add(flags *flag.FlagSet) {
	flags.Float64Var(&s.seconds, "seconds", 5, "search for so `long`; not used with --iterations")
	flags.IntVar(&s.iterations, "iterations", 0, "search for so many `steps` of each thread")
	flags.Uint64Var(&s.seed, "seed", 1, "`number` that the search's chances are drawn from")
	flags.IntVar(&s.threads, "threads", 2, "`chains` that search side by side")
	flags.BoolVar(&s.quiet, "quiet", false, "do not tell how it goes")
}

func runRound(ctx context.Context, e *env, flags *flag.FlagSet, args []string) error {
	var s searchFlags
	s.add(flags)
	schema := flags.Bool("schema", false, "print what the document of a week may hold")
	rest, err := e.parse(flags, args, 1, 2)
	if err != nil {
		return err
	}
	switch {
	case rest[0] == "solve" && len(rest) == 2:
		return roundSolve(ctx, e, s, rest[1])
	case rest[0] == "solve":
		return usage("which file?")
	case rest[0] == "plan" && len(rest) == 1:
		if *schema {
			return roundSchema(e)
		}
		return roundPlan(ctx, e, s)
	}
	return usage("%q is neither solve nor plan", rest[0])
}
