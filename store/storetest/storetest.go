// Package storetest gives each test a clean database with the program's schema.
//
// All test processes of a machine's user share one throw-away Postgres, which
// the first of them starts and which leaves some seconds after the last. The
// schema is built once into a template; a test gets a copy. Only tests import
// this package.
package storetest

import (
	"context"
	"os"
	"slices"
	"strings"
	"testing"

	"scaperound/store"
)

// RequireEnv names the environment variable that lists, separated by commas,
// what must be there: a test that would be skipped for want of it fails.
const RequireEnv = "SCAPEROUND_REQUIRE"

// SkipFor skips the test for want of something ("db", "browser"), or fails it
// where RequireEnv lists that.
func SkipFor(t testing.TB, what, format string, args ...any) {
	t.Helper()
	if slices.Contains(strings.Split(os.Getenv(RequireEnv), ","), what) {
		t.Fatalf(RequireEnv+" asks for "+what+": "+format, args...)
	}
	t.Skipf("SKIPPED for want of "+what+": "+format, args...)
}

// New returns a database of the test's own, with every migration applied and
// nothing else in it. It is closed when the test ends.
func New(t testing.TB, opts ...store.Option) *store.DB {
	t.Helper()
	return Open(t, Clone(t), opts...)
}

// Empty returns a database of the test's own without any table.
func Empty(t testing.TB, opts ...store.Option) *store.DB {
	t.Helper()
	return Open(t, EmptyURL(t), opts...)
}

// Open opens an address that Clone or EmptyURL gave. A test may open the same
// one twice.
func Open(t testing.TB, url string, opts ...store.Option) *store.DB {
	t.Helper()
	db, err := store.Open(context.Background(), url, append([]store.Option{store.WithMaxConns(8)}, opts...)...)
	if err != nil {
		t.Fatalf("open the test's database: %v", err)
	}
	t.Cleanup(db.Close)
	return db
}
