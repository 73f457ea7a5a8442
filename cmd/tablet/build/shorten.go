package main

import "encoding/binary"

// shorten writes the numbers that a function has many of in two parts. Go's calls
// each store where they return to, function<<16 + block: tens of thousands of
// numbers of five bytes, no two alike, that no packing makes smaller. What those
// of a function have in common goes into a local of its own; what is left is one
// byte.
//
// The new local comes before the function's own, so that it has the same place in
// all functions of a type: what repeats, packs. It is worth its place even where a
// function has one such number, for the same reason.
func (f *function) shorten() {
	common, times := 0, map[int]int{}
	for _, i := range f.code {
		if v, is := i.long(); is {
			high := v &^ 0xffff
			if times[high]++; times[high] > times[common] {
				common = high
			}
		}
	}
	if common == 0 {
		return
	}
	code := []instruction{constant(i64Const, common), with(localSet, f.params)}
	for _, i := range f.code {
		v, is := i.long()
		switch op := i.op(); {
		case is && v&^0xffff == common:
			code = append(code, with(localGet, f.params), constant(i64Const, v&0xffff), instruction{i64Or})
		case op >= localGet && op <= localTee && i.number() >= f.params:
			code = append(code, with(op, i.number()+1))
		default:
			code = append(code, i)
		}
	}
	f.code = code
	f.locals = append(append(binary.AppendUvarint(nil, 1), typeI64), f.locals...)
	f.groups++
}

// long is the number of an i64.const, where it has five bytes.
func (i instruction) long() (v int, is bool) {
	if i.op() != i64Const || len(i) != 1+5 {
		return 0, false
	}
	v = i.number()
	return v, v > 0
}
