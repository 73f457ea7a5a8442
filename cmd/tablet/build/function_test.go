package main

import (
	"bytes"
	"slices"
	"testing"
)

const (
	drop = 0x1a
	call = 0x10
)

// returnTo is what Go's calls store: the function's number and a block in it.
func returnTo(block int) []byte { return appendSigned([]byte{i64Const}, 0x1234<<16|block) }

func taken(t *testing.T, params int, body ...byte) *function {
	t.Helper()
	f, err := readFunction(body, params)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func TestLongNumbersGoInTwoParts(t *testing.T) {
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
	f := taken(t, 1, before...)
	if f.shorten(); !bytes.Equal(f.bytes(), want) {
		t.Errorf("%x, want\n%x", f.bytes(), want)
	}

	none := slices.Concat(locals, get(0), []byte{i64Const, 7, drop, end})
	f = taken(t, 1, none...)
	if f.shorten(); !bytes.Equal(f.bytes(), none) {
		t.Errorf("without long numbers it stays as it is: %x", f.bytes())
	}
	for name, wrong := range map[string][]byte{
		"not known":  {0, 0xfd, 0, end},
		"cut short":  {0, 0x44, 1, 2, 3},
		"no end":     {0, drop},
		"no locals":  {1},
		"open table": {0, branchTable, 0xff},
	} {
		if _, err := readFunction(wrong, 1); err == nil {
			t.Errorf("%s: %x was taken", name, wrong)
		}
	}
}

// A function of three blocks: 0 and 1 begin the first, 2 the next, 3 the last.
func blocks(first, second, third []byte) []byte {
	return slices.Concat([]byte{0, block, typeNone, loop, typeNone, block, typeNone, block, typeNone, block, typeNone,
		localGet, 0, branchTable, 4, 0, 0, 1, 2, 4, end}, first, []byte{end}, second, []byte{end}, third,
		[]byte{end, end, i32Const, 1, end})
}

func goTo(number, depth byte) []byte { return []byte{i32Const, number, localSet, 0, branch, depth} }

func TestBranchesGoStraight(t *testing.T) {
	condition := []byte{localGet, 1}
	when := func(code []byte) []byte { return slices.Concat(condition, []byte{cond, typeNone}, code, []byte{end}) }
	before := blocks(
		slices.Concat(condition, []byte{branchIf, 3}, when(goTo(3, 3))),
		slices.Concat(when(append([]byte{0x01}, goTo(3, 2)...)), goTo(2, 1)),
		slices.Concat(goTo(1, 0), goTo(9, 0), []byte{branch, 1}))
	want := blocks(
		slices.Concat(when([]byte{i32Const, 1, return_}), condition, []byte{branchIf, 1}),
		slices.Concat(when([]byte{0x01, branch, 1}), goTo(2, 1)),
		slices.Concat(goTo(1, 0), goTo(9, 0), []byte{i32Const, 1, return_}))
	f := taken(t, 2, before...)
	f.leave()
	f.jump()
	if !bytes.Equal(f.bytes(), want) {
		t.Errorf("% x, want\n% x", f.bytes(), want)
	}

	// Where the number is read elsewhere too, or something is done before the
	// table, going there is not all that it does.
	for name, other := range map[string][]byte{
		"read":   blocks(when(goTo(3, 3)), nil, []byte{localGet, 0, drop}),
		"before": bytes.Replace(blocks(when(goTo(3, 3)), nil, nil), []byte{loop, typeNone}, []byte{loop, typeNone, 0x01}, 1),
	} {
		f := taken(t, 2, other...)
		if f.jump(); !bytes.Equal(f.bytes(), other) {
			t.Errorf("%s: % x became\n% x", name, other, f.bytes())
		}
	}
	// Where another answer comes after the blocks, branching there is no return.
	other := blocks(slices.Concat(condition, []byte{branchIf, 3}), nil, nil)
	other[len(other)-2] = 0
	f = taken(t, 2, other...)
	if f.leave(); !bytes.Equal(f.bytes(), other) {
		t.Errorf("% x", f.bytes())
	}
}

func TestAddressesCarryTheirSum(t *testing.T) {
	const load, store, sub = 0x29, 0x37, 0x7d
	sum := func(k byte) []byte { return []byte{i64Const, k, i64Add, i32WrapI64} }
	for _, c := range []struct {
		name         string
		before, want []byte
	}{
		{"from the stack's pointer", slices.Concat([]byte{localGet, 1, i64ExtendI32}, sum(40), []byte{load, 3, 8, drop}), []byte{localGet, 1, load, 3, 48, drop}},
		{"from a pointer", slices.Concat([]byte{localGet, 2}, sum(8), []byte{load, 3, 0, drop}), []byte{localGet, 2, i32WrapI64, load, 3, 8, drop}},
		{"a value between", slices.Concat([]byte{localGet, 1, i64ExtendI32}, sum(16), []byte{localGet, 2}, sum(24), []byte{load, 3, 0, store, 3, 1}),
			[]byte{localGet, 1, localGet, 2, i32WrapI64, load, 3, 24, store, 3, 17}},
		{"the value alone", slices.Concat([]byte{localGet, 1, localGet, 2}, sum(24), []byte{0x36, 2, 0}), nil},
		{"below zero", slices.Concat([]byte{localGet, 2}, sum(0x7f), []byte{load, 3, 0, drop}), nil},
		{"a difference", []byte{localGet, 2, i64Const, 8, sub, i32WrapI64, load, 3, 0, drop}, nil},
		{"a call between", slices.Concat([]byte{localGet, 2}, sum(8), []byte{call, 9, load, 3, 0, drop}), nil},
	} {
		if c.want == nil {
			c.want = c.before
		}
		f := taken(t, 3, slices.Concat([]byte{0}, c.before, []byte{end})...)
		f.address()
		if want := slices.Concat([]byte{0}, c.want, []byte{end}); !bytes.Equal(f.bytes(), want) {
			t.Errorf("%s: % x, want % x", c.name, f.bytes(), want)
		}
	}
}
