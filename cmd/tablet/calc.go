//go:build js && wasm && calc

package main

import "scaperound/domain/wire"

// The calculations are in the builds of tests alone: the page needs them only
// where the rules do.
func init() {
	answers["calc"] = func(texts []string) ([]byte, error) { return wire.Calc([]byte(texts[0])), nil }
}
