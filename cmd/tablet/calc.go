//go:build js && wasm && calc

package main

import (
	"encoding/hex"

	"scaperound/domain/care"
	"scaperound/domain/wire"
)

// The calculations, and what is learnt of a tank to the last bit, are in the builds
// of tests alone: the page needs them only where the rules do.
func init() {
	answers["calc"] = func(texts []string) ([]byte, error) { return wire.Calc([]byte(texts[0])), nil }
	answers["learn"] = func(texts []string) ([]byte, error) {
		c, _, err := wire.DecodeCase([]byte(texts[0]))
		if err != nil {
			return nil, err
		}
		memory := care.Assess(c).Memory
		return []byte(hex.EncodeToString(memory.Bytes())), nil
	}
}
