package main

import (
	"context"
	"flag"
	"io"

	"scaperound/domain/fault"
	"scaperound/domain/wire"
)

// largestDocument is what one assessment may weigh; the codec refuses more.
const largestDocument = 1 << 20

func assessCommand() command {
	return command{
		name: "assess", title: "judge one visit: a JSON document in, a JSON document out", run: runAssess,
		help: "Reads one document on standard input (a tank, a visit's readings, signs and work,\nhistory where there is any) and prints what follows from it. --schema lists every\nfield, unit and id. A document that cannot be used is refused with status 2 and one\nline that names the field.",
	}
}

func runAssess(_ context.Context, e *env, flags *flag.FlagSet, args []string) error {
	schema := flags.Bool("schema", false, "print what the document may hold")
	if _, err := e.parse(flags, args, 0, 0); err != nil {
		return err
	}
	if *schema {
		_, err := e.stdout.Write(wire.Schema())
		return err
	}
	in, err := io.ReadAll(io.LimitReader(e.stdin, largestDocument+1))
	if err != nil {
		return fault.Wrap(fault.Unavailable, err, "Standard input could not be read.")
	}
	out, err := wire.Assess(in)
	if err != nil {
		return firstFault(err)
	}
	_, err = e.stdout.Write(append(out, '\n'))
	return err
}

// firstFault is one line for the terminal: the first field that was wrong.
func firstFault(err error) error {
	f := fault.Of(err)
	if len(f.Fields) == 0 {
		return usage("%s", f.Msg)
	}
	return usage("%s: %s", f.Fields[0].Name, f.Fields[0].Text)
}
