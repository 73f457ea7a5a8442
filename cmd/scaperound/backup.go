package main

import (
	"context"
	"flag"
	"fmt"

	"scaperound/store"
)

func backupCommand() command {
	return command{
		name:  "backup",
		args:  "FILE",
		title: "write everything in the database to a file",
		help: `FILE is made anew; "-" is standard output. It works beside a running server and
holds the database as of one moment. The key of the care-sheet links is not in
it: keep a copy of DATA/link.key elsewhere.`,
		run: runBackup,
	}
}

func runBackup(ctx context.Context, e *env, flags *flag.FlagSet, args []string) error {
	data := flags.String("data", "", "`DIR` of the private database (SCAPEROUND_DATA)")
	rest, err := e.parse(flags, args, 1, 1)
	if err != nil {
		return err
	}
	c, dir, err := e.configAndFolder(*data)
	if err != nil {
		return err
	}
	if err := somethingThere(c, dir); err != nil {
		return err
	}
	db, err := openDatabase(ctx, c, dir, false, e.stderr)
	if err != nil {
		return err
	}
	defer db.close()
	var made store.Manifest
	if rest[0] == "-" {
		made, err = db.Backup(ctx, e.stdout, nil)
	} else {
		made, err = db.BackupFile(ctx, rest[0], e.progress())
	}
	if err != nil {
		return err
	}
	fmt.Fprintf(e.stderr, "%d rows of %d tables are in the backup. The link key is not: %s\n", made.Rows(), len(made.Tables), keyPlace(c, dir))
	return nil
}

// progress tells each step on standard error.
func (e *env) progress() store.Progress {
	return func(line string) { fmt.Fprintln(e.stderr, line) }
}
