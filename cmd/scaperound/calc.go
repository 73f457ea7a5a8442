package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"scaperound/domain/calc"
	"scaperound/domain/say"
)

func calcCommand() command {
	return command{
		name:  "calc",
		args:  "[NAME KEY=VALUE …]",
		title: "the shop's calculations: a list, or one with its working",
		help: `
Without a name it lists all calculations. With a name alone it tells what the
calculation takes. Values are in the units of the list, with a decimal point;
several are separated by commas:

  scaperound calc co2 pH=6.8 KH_d=4 T_C=25 dpH=0.1 dKH=0.5
  scaperound calc dose salt=KNO3 of=NO3 from=6 to=12 net=142
  scaperound calc mean PPFD=55,72,88,64,41

With --json each line of standard input is one object {"id","calc","in"}; each is
answered by a line {"id","value","unit","lo","hi","steps","source","warnings"} or
{"id","fault"}. A fault does not end it. An end that is open is null.`,
		run: runCalc,
	}
}

func runCalc(_ context.Context, e *env, flags *flag.FlagSet, args []string) error {
	lines := flags.Bool("json", false, "read one object a line, answer one a line")
	find := flags.String("find", "", "list only what answers to these `words`")
	rest, err := e.parse(flags, args, 0, 200)
	switch {
	case err != nil:
		return err
	case *lines:
		if len(rest) > 0 {
			return usage("with --json the calculations come from standard input, not from %q", rest[0])
		}
		return calcLines(e.stdin, e.stdout)
	case len(rest) == 0:
		return listCalcs(e.stdout, *find)
	}
	d, err := calc.Find(rest[0])
	if err != nil {
		return usage("%s", plain(err))
	}
	if len(rest) == 1 && needsInput(d) {
		describeCalc(e.stdout, d)
		return nil
	}
	raw := map[string]calc.Value{}
	for _, pair := range rest[1:] {
		key, text, ok := strings.Cut(pair, "=")
		if !ok || key == "" {
			return usage("%q is not KEY=VALUE; \"scaperound calc %s\" tells what it takes", pair, rest[0])
		}
		if _, twice := raw[key]; twice {
			return usage("%s is given twice", key)
		}
		raw[key] = calc.ParseValue(text)
	}
	a, err := d.Run(raw)
	if err != nil {
		return err
	}
	printAnswer(e.stdout, d, a)
	return nil
}

func needsInput(d *calc.Def) bool {
	for _, in := range d.In {
		if !in.Optional {
			return true
		}
	}
	return false
}

func listCalcs(w io.Writer, find string) error {
	var defs []*calc.Def
	if find != "" {
		if defs, _ = calc.Search(find); len(defs) == 0 {
			return usage("no calculation answers to %q", find)
		}
	} else {
		all := calc.All()
		for _, topic := range calc.Topics() {
			for i := range all {
				if all[i].Topic == topic {
					defs = append(defs, &all[i])
				}
			}
		}
	}
	for _, d := range defs {
		fmt.Fprintf(w, "%-46s %s\n", d.Name, d.Title)
	}
	return nil
}

func describeCalc(w io.Writer, d *calc.Def) {
	fmt.Fprintf(w, "%s\n\n", d.Title)
	for _, in := range d.In {
		text := in.Title
		if sign := in.Unit.Sign(); sign != "" {
			text += ", " + sign
		}
		switch {
		case in.Default.OK:
			text += " (otherwise " + number(in.Default.V, 6) + ")"
		case in.Optional:
			text += " (may be left out)"
		}
		keys := strings.Join(append([]string{in.Key}, in.Aliases...), ", ")
		fmt.Fprintf(w, "  %-34s %s\n", keys, text)
	}
	fmt.Fprintf(w, "\nGives %s.\n", strings.TrimSpace(d.Name+", "+d.Out.Sign()))
	if d.Valid != "" {
		fmt.Fprintf(w, "Holds for: %s.\n", d.Valid)
	}
	fmt.Fprintf(w, "Source: %s.\n", d.Source)
}

func printAnswer(w io.Writer, d *calc.Def, a calc.Answer) {
	fmt.Fprintf(w, "%s\n\n  %s", d.Title, strings.TrimSpace(number(a.Value, 12)+" "+a.Unit.Sign()))
	switch {
	case math.IsInf(a.Hi, 1):
		fmt.Fprintf(w, "   (at least %s)", number(a.Lo, 6))
	case a.Hi > a.Lo:
		fmt.Fprintf(w, "   (from %s to %s)", number(a.Lo, 6), number(a.Hi, 6))
	}
	fmt.Fprintln(w)
	if len(a.Steps) > 0 {
		fmt.Fprintln(w)
	}
	for _, s := range a.Steps {
		fmt.Fprintf(w, "  %s\n", s)
	}
	if len(a.Warn) > 0 {
		fmt.Fprintln(w)
	}
	for _, s := range a.Warn {
		fmt.Fprintf(w, "  Heed: %s\n", say.Render(s, say.MetricUnits))
	}
	fmt.Fprintf(w, "\nSource: %s.\n", d.Source)
}

// number writes so many significant digits, without an exponent where a person
// can do without.
func number(v float64, digits int) string {
	if a := math.Abs(v); a >= 1e-4 && a < 1e15 {
		s := strconv.FormatFloat(v, 'g', digits, 64)
		if !strings.ContainsAny(s, "e") {
			return s
		}
		return strconv.FormatFloat(v, 'f', -1, 64)
	}
	return strconv.FormatFloat(v, 'g', digits, 64)
}
