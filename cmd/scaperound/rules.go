package main

import (
	"context"
	"flag"
	"fmt"
	"time"

	"scaperound/domain/care"
	"scaperound/domain/counter"
	"scaperound/domain/say"
	"scaperound/store/localpg"
)

func rulesCommand() command {
	return command{
		name:  "rules",
		title: "list the rules by which visits are judged, with why and source",
		help: `Where a database is set or a server runs on the data folder, each rule also says at
how many visits of the last days it fired; --days 0 counts all.`,
		run: runRules,
	}
}

// ruleCounts are the counts of a period from the shop's database; ok is false
// where there is none to ask.
func ruleCounts(ctx context.Context, e *env, data string, days int) (counts counter.RuleCounts, ok bool, err error) {
	c, dir, err := e.configAndFolder(data)
	if err != nil {
		return counts, false, err
	}
	if _, running := localpg.Running(dir); c.databaseURL == "" && !running {
		return counts, false, nil
	}
	db, err := openDatabase(ctx, c, dir, false, e.stderr)
	if err != nil {
		return counts, false, err
	}
	defer db.close()
	since := time.Time{}
	if days > 0 {
		since = db.Now().AddDate(0, 0, -days)
	}
	counts, err = db.RuleCounts(ctx, since)
	return counts, err == nil, err
}

func runRules(ctx context.Context, e *env, flags *flag.FlagSet, args []string) error {
	data := flags.String("data", "", "`DIR` of the private database (SCAPEROUND_DATA)")
	days := flags.Int("days", 90, "count visits of the last `N` days")
	if _, err := e.parse(flags, args, 0, 0); err != nil {
		return err
	}
	if *days < 0 {
		return usage("--days takes 0 or more")
	}
	counts, counted, err := ruleCounts(ctx, e, *data, *days)
	if err != nil {
		return err
	}
	fmt.Fprintf(e.stdout, "Rules, version %s. Evidence: A primary science or regulation, B science and judgement, C trade practice.\n", care.RulesVersion)
	for _, r := range care.Rules() {
		system, _ := say.WordFor("system." + string(r.System))
		fmt.Fprintf(e.stdout, "\n%s  %s (%s, evidence %s)\n  %s\n  Source: %s\n", r.ID, r.Title, system, r.Evidence, r.Why, r.Source)
		if counted {
			n := counts.Rules[r.ID]
			line := fmt.Sprintf("  Fired at %d of %d visits", n.Fired, counts.Visits)
			if n.Fired > 0 {
				line += ", last on " + n.Last.Format(time.DateOnly)
			}
			fmt.Fprintln(e.stdout, line+".")
		}
	}
	return nil
}
