package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"strings"
)

func helpCommand() command {
	return command{
		name:  "help",
		args:  "[COMMAND | config]",
		title: "this list, a command's flags, or the configuration",
		run:   runHelp,
	}
}

func runHelp(ctx context.Context, e *env, flags *flag.FlagSet, args []string) error {
	rest, err := e.parse(flags, args, 0, 1)
	if err != nil {
		return err
	}
	switch {
	case len(rest) == 0:
		printHelp(e.stdout)
		return nil
	case rest[0] == "config":
		printConfigHelp(e.stdout, e)
		return nil
	}
	c, ok := findCommand(rest[0])
	if !ok {
		return usage("there is no command %q; \"scaperound help\" lists them", rest[0])
	}
	if c.name == "help" {
		printCommandHelp(e.stdout, c, flags)
		return nil
	}
	// The command itself knows its flags: asked for help it shows them and
	// does nothing else.
	return c.run(ctx, e, newFlags(c), []string{"-h"})
}

func printHelp(w io.Writer) {
	fmt.Fprintln(w, "Scaperound looks after planted aquariums: visits, what follows from them, care sheets.")
	fmt.Fprintln(w)
	fmt.Fprintln(w, "Usage: scaperound COMMAND [flags]")
	fmt.Fprintln(w)
	for _, c := range commands() {
		fmt.Fprintf(w, "  %-26s %s\n", strings.TrimSpace(c.name+" "+c.args), c.title)
	}
	fmt.Fprintln(w)
	fmt.Fprintln(w, `"scaperound help COMMAND" shows a command's flags, "scaperound help config" the variables it reads.`)
	fmt.Fprintln(w, "Exit status: 0 done, 1 failed, 2 bad usage or input.")
}

func printCommandHelp(w io.Writer, c command, fs *flag.FlagSet) {
	fmt.Fprintf(w, "scaperound %s\n\n%s.\n", strings.TrimSpace(c.name+" "+c.args), upperFirst(c.title))
	first := true
	fs.VisitAll(func(f *flag.Flag) {
		if first {
			fmt.Fprintln(w)
			first = false
		}
		takes, text := flag.UnquoteUsage(f)
		fmt.Fprintf(w, "  %-22s %s\n", strings.TrimSpace("--"+f.Name+" "+takes), text)
	})
	if c.help != "" {
		fmt.Fprintf(w, "\n%s\n", strings.TrimSpace(c.help))
	}
}

func upperFirst(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
