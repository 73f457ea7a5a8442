//go:build !linux && !darwin

package storetest

import "testing"

// Clone is not available on this system.
func Clone(t testing.TB) string {
	t.Helper()
	SkipFor(t, "db", "the tests' Postgres runs on Linux and macOS only")
	return ""
}

// EmptyURL is not available on this system.
func EmptyURL(t testing.TB) string { t.Helper(); return Clone(t) }
