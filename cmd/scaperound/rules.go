package main

import (
	"context"
	"flag"
	"fmt"

	"scaperound/domain/care"
	"scaperound/domain/say"
)

func rulesCommand() command {
	return command{name: "rules", title: "list the rules by which visits are judged, with why and source", run: runRules}
}

func runRules(_ context.Context, e *env, flags *flag.FlagSet, args []string) error {
	if _, err := e.parse(flags, args, 0, 0); err != nil {
		return err
	}
	fmt.Fprintf(e.stdout, "Rules, version %s. Evidence: A primary science or regulation, B science and judgement, C trade practice.\n", care.RulesVersion)
	for _, r := range care.Rules() {
		system, _ := say.WordFor("system." + string(r.System))
		fmt.Fprintf(e.stdout, "\n%s  %s (%s, evidence %s)\n  %s\n  Source: %s\n", r.ID, r.Title, system, r.Evidence, r.Why, r.Source)
	}
	return nil
}
