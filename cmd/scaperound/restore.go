package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"os"

	"scaperound/store"
)

func restoreCommand() command {
	return command{
		name:  "restore",
		args:  "FILE",
		title: "fill an empty database from a backup",
		help: `FILE is one that backup wrote; "-" is standard input. It is checked whole before
anything is written, and then brought up to this program's schema. A database
that holds anything is refused: name a new folder with --data, or an empty one
with DATABASE_URL. This is also the way from one major version of Postgres to the
next. Put the old link.key into the new data folder, or printed links are dead.`,
		run: runRestore,
	}
}

func runRestore(ctx context.Context, e *env, flags *flag.FlagSet, args []string) error {
	data := flags.String("data", "", "`DIR` of the private database (SCAPEROUND_DATA)")
	rest, err := e.parse(flags, args, 1, 1)
	if err != nil {
		return err
	}
	c, dir, err := e.configAndFolder(*data)
	if err != nil {
		return err
	}
	// Before a database is made for it: a file that is not there is a slip.
	from, done, err := openBackup(e, rest[0])
	if err != nil {
		return err
	}
	defer done()
	db, err := openDatabase(ctx, c, dir, false, e.stderr)
	if err != nil {
		return err
	}
	defer db.close()
	made, err := db.Restore(ctx, from, store.Progress(e.progress()))
	if err != nil {
		return err
	}
	fmt.Fprintf(e.stdout, "restored %d rows of %d tables, as of %s\n", made.Rows(), len(made.Tables), made.MadeAt.UTC().Format("2006-01-02 15:04 UTC"))
	fmt.Fprintf(e.stdout, "the key of the links is its own business: %s\n", keyPlace(c, dir))
	return nil
}

// openBackup opens the file. Standard input is kept in a file of its own first:
// a backup is read twice, once to check it.
func openBackup(e *env, name string) (io.ReadSeeker, func(), error) {
	if name != "-" {
		f, err := os.Open(name)
		if err != nil {
			return nil, nil, usage("the backup cannot be opened: %v", err)
		}
		return f, func() { f.Close() }, nil
	}
	f, err := os.CreateTemp("", "scaperound-restore-*")
	if err != nil {
		return nil, nil, err
	}
	done := func() {
		f.Close()
		os.Remove(f.Name())
	}
	if _, err := io.Copy(f, e.stdin); err != nil {
		done()
		return nil, nil, fmt.Errorf("read the backup: %w", err)
	}
	if _, err := f.Seek(0, io.SeekStart); err != nil {
		done()
		return nil, nil, err
	}
	return f, done, nil
}
