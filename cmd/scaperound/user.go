package main

import (
	"context"
	"flag"
	"fmt"

	"scaperound/domain/fault"
	"scaperound/domain/say"
	"scaperound/domain/shop"
	"scaperound/domain/staff"
	"scaperound/store"
	"scaperound/web"
)

func userCommand() command {
	return command{
		name:  "user",
		args:  "add EMAIL",
		title: "make an account for somebody on the staff",
		help: `The password is asked for without showing it, or read as the first line of
standard input where that is no terminal. It works beside a running server.
Usually the owner invites people from the shop's page instead.`,
		run: runUser,
	}
}

func runUser(ctx context.Context, e *env, flags *flag.FlagSet, args []string) error {
	var draft staff.Draft
	role := flags.String("role", string(staff.Technician), "`ROLE`: owner or technician")
	flags.StringVar(&draft.Name, "name", "", "`NAME` that the others know (default: what stands before the @)")
	data := flags.String("data", "", "`DIR` of the private database (SCAPEROUND_DATA)")
	rest, err := e.parse(flags, args, 2, 2)
	if err != nil {
		return err
	}
	if rest[0] != "add" {
		return usage("%q is nothing to do with a user; it takes: add EMAIL", rest[0])
	}
	draft.Email, draft.Role = rest[1], staff.Role(*role)
	if draft.Name == "" {
		draft.Name = beforeAt(draft.Email)
	}
	draft, faults := draft.Check()
	if err := faults.Err(); err != nil {
		return err
	}
	c, dir, err := e.configAndFolder(*data)
	if err != nil {
		return err
	}
	password, err := readPassword(e)
	if err != nil {
		return err
	}
	staff.CheckPassword(&faults, "password", password, draft.Name, draft.Email)
	if err := faults.Err(); err != nil {
		return err
	}
	hash, err := web.HashPassword(password)
	if err != nil {
		return err
	}
	db, err := openDatabase(ctx, c, dir, false, e.stderr)
	if err != nil {
		return err
	}
	defer db.close()
	if err := db.bringUpToDate(ctx, dir, e.stderr); err != nil {
		return err
	}
	return addUser(ctx, e, db, draft, hash)
}

// addUser makes the account. The first owner gets a shop with it, as the first
// start would make one; its settings are for the shop's page.
func addUser(ctx context.Context, e *env, db *database, draft staff.Draft, hash string) error {
	_, err := db.Shop(ctx)
	first := fault.Is(err, fault.NotFound)
	switch {
	case err != nil && !first:
		return err
	case first && draft.Role != staff.Owner:
		return fault.New(fault.Invalid, "There is no shop yet. Make the owner's account first: by the address that serve prints, or with --role owner.")
	}
	err = db.Tx(ctx, func(ctx context.Context, tx store.Tx) error {
		if first {
			if err := tx.MakeShop(ctx, unnamedShop()); err != nil {
				return err
			}
			if _, err := store.SeedStandards(ctx, tx, "", store.LongAgo); err != nil {
				return err
			}
		}
		_, err := tx.AddPerson(ctx, "", draft, hash)
		return err
	})
	if err != nil {
		return err
	}
	fmt.Fprintf(e.stdout, "%s can sign in as %s\n", draft.Email, draft.Role)
	if first {
		fmt.Fprintln(e.stdout, "The shop has no name yet, and its clock is UTC: the shop's page changes both.")
	}
	return nil
}

func unnamedShop() shop.Settings {
	return shop.Settings{
		Name: "The shop", Zone: "UTC", Locale: shop.Locales()[0].Tag,
		Units: say.Metric, Paper: shop.A4, ShowFigures: true,
	}
}

func beforeAt(email string) string {
	for i, r := range email {
		if r == '@' {
			return email[:i]
		}
	}
	return email
}
