package store_test

import (
	"slices"
	"testing"

	"github.com/jackc/pgx/v5"

	"scaperound/store"
	"scaperound/store/storetest"
)

// ours are the unique rules that only a mistake in our own code breaks.
var ours = []string{
	"calendar_link_one", "evaluation_one_current", "reading_once", "task_one_open", "visit_revision_no_taken",
}

func TestEveryUniqueRuleIsDecided(t *testing.T) {
	db := storetest.New(t)
	names := func(sql string) []string {
		rows, err := db.Pool().Query(t.Context(), sql)
		if err != nil {
			t.Fatal(err)
		}
		names, err := pgx.CollectRows(rows, pgx.RowTo[string])
		if err != nil {
			t.Fatal(err)
		}
		return names
	}
	const public = `relnamespace = 'public'::regnamespace AND relname NOT LIKE 'goose%'`
	unique := names(`SELECT relname FROM pg_index JOIN pg_class ON oid = indexrelid WHERE indisunique AND NOT indisprimary AND ` + public)
	all := append(names(`SELECT relname FROM pg_index JOIN pg_class ON oid = indexrelid WHERE `+public),
		names(`SELECT conname FROM pg_constraint WHERE connamespace = 'public'::regnamespace`)...)
	known := store.KnownConstraints()
	for _, name := range unique {
		if !slices.Contains(known, name) && !slices.Contains(ours, name) {
			t.Errorf("%s: say in errors.go what it means to a person, or list it here as ours", name)
		}
	}
	for _, name := range append(known, ours...) {
		if !slices.Contains(all, name) {
			t.Errorf("%s is decided and not in the schema", name)
		}
	}
}
