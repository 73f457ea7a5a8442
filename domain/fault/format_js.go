//go:build js

package fault

func sprintf(format string, args ...any) string { return fill(format, args) }
