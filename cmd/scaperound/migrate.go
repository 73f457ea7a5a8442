package main

import (
	"context"
	"flag"
	"fmt"
)

func migrateCommand() command {
	return command{
		name:  "migrate",
		title: "bring the database to this program's schema",
		help: `A private database is brought up to date by serve itself, after a backup. One
that DATABASE_URL names is changed by this command alone: make a backup first.
Every step is all or nothing; after a failure those before it stay.`,
		run: runMigrate,
	}
}

func runMigrate(ctx context.Context, e *env, flags *flag.FlagSet, args []string) error {
	data := flags.String("data", "", "`DIR` of the private database (SCAPEROUND_DATA)")
	if _, err := e.parse(flags, args, 0, 0); err != nil {
		return err
	}
	c, dir, err := e.configAndFolder(*data)
	if err != nil {
		return err
	}
	db, err := openDatabase(ctx, c, dir, false, e.stderr)
	if err != nil {
		return err
	}
	defer db.close()
	applied, err := db.Migrate(ctx)
	for _, number := range applied {
		fmt.Fprintf(e.stdout, "applied %d\n", number)
	}
	if err != nil {
		return err
	}
	schema, err := db.Schema(ctx)
	if err != nil {
		return err
	}
	fmt.Fprintf(e.stdout, "the database is at %d, as this program wants it\n", schema.At)
	return nil
}

// configAndFolder reads the configuration and decides on the data folder of the
// commands that work on the shop.
func (e *env) configAndFolder(flag string) (*config, string, error) {
	c, err := readConfig(e)
	if err != nil {
		return nil, "", err
	}
	for _, name := range strangers(e) {
		fmt.Fprintf(e.stderr, "%s is not a setting and does nothing; \"scaperound help config\" lists those there are\n", name)
	}
	dir, err := dataFolder(e, flag, c.data, serveFolder)
	if err != nil {
		return nil, "", err
	}
	if c.databaseURL == "" && isDemo(dir) {
		return nil, "", fmt.Errorf("%s belongs to a demo, whose sign-ins are on its screen and whose shop is made up; choose another folder", dir)
	}
	return c, dir, nil
}
