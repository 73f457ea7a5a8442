package storetest_test

import (
	"testing"

	"scaperound/store/storetest"
)

func TestEachTestHasADatabaseOfItsOwn(t *testing.T) {
	one, two := storetest.New(t), storetest.New(t)
	if _, err := one.Pool().Exec(t.Context(), `CREATE TABLE mine (id int)`); err != nil {
		t.Fatal(err)
	}
	var there bool
	if err := two.Pool().QueryRow(t.Context(), `SELECT to_regclass('mine') IS NOT NULL`).Scan(&there); err != nil || there {
		t.Errorf("the other test's table is there: %v, %v", there, err)
	}
	if err := two.CheckSchema(t.Context()); err != nil {
		t.Error(err)
	}
}

// A copy of the migrated template, opened and closed.
func BenchmarkNew(b *testing.B) {
	storetest.New(b).Close() // starts the cluster and builds the template
	for b.Loop() {
		storetest.New(b).Close()
	}
}

func BenchmarkClone(b *testing.B) {
	storetest.Clone(b)
	for b.Loop() {
		storetest.Clone(b)
	}
}
