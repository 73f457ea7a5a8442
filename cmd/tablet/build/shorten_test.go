package main

import (
	"bytes"
	"slices"
	"testing"
)

// returnTo is what Go's calls store: the function's number and a block in it.
func returnTo(block int) []byte { return appendSigned([]byte{i64Const}, 0x1234<<16|block) }

func TestLongNumbersGoInTwoParts(t *testing.T) {
	const drop = 0x1a
	locals := []byte{1, 2, typeI64}
	get := func(local byte) []byte { return []byte{localGet, local, drop} }
	before := slices.Concat(locals, get(0), returnTo(0), []byte{drop}, get(1), returnTo(5), []byte{drop},
		appendSigned([]byte{i64Const}, 0x9999<<16), []byte{drop}, returnTo(300), []byte{drop, localSet, 2, end})
	or := func(low ...byte) []byte {
		return append(append([]byte{localGet, 1, i64Const}, low...), i64Or, drop)
	}
	want := slices.Concat([]byte{2, 1, typeI64, 2, typeI64}, returnTo(0), []byte{localSet, 1},
		get(0), or(0), get(2), or(5),
		appendSigned([]byte{i64Const}, 0x9999<<16), []byte{drop}, or(0xac, 2), []byte{localSet, 3, end})
	got, err := shortened(before, 1)
	if err != nil || !bytes.Equal(got, want) {
		t.Errorf("%v\n%x, want\n%x", err, got, want)
	}

	none := slices.Concat(locals, get(0), []byte{i64Const, 7, drop, end})
	if got, err := shortened(none, 1); err != nil || !bytes.Equal(got, none) {
		t.Errorf("%v: without long numbers it stays as it is: %x", err, got)
	}
	for name, wrong := range map[string][]byte{
		"not known":  {0, 0xfd, 0, end},
		"cut short":  {0, 0x44, 1, 2, 3},
		"no end":     {0, drop},
		"no locals":  {1},
		"open table": {0, 0x0e, 0xff},
	} {
		if _, err := shortened(wrong, 1); err == nil {
			t.Errorf("%s: %x was taken", name, wrong)
		}
	}
}
