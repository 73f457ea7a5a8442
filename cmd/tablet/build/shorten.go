package main

import (
	"encoding/binary"
	"fmt"
)

const (
	typeSection     = 1
	functionSection = 3
	codeSection     = 10
)

// shorten writes the numbers that a function has many of in two parts. Go's calls
// each store where they return to, function<<16 + block: tens of thousands of
// numbers of five bytes, no two alike, that no packing makes smaller. What those
// of a function have in common goes into a local of its own; what is left is one
// byte. It computes the same, and asks nothing of the program but the format.
func (p *program) shorten() error {
	types, functions, code := p.section(typeSection), p.section(functionSection), p.section(codeSection)
	if types == nil || functions == nil || code == nil {
		return errNotKnown
	}
	params := paramsOf(types.body)
	kinds, bodies := reader{rest: functions.body}, reader{rest: code.body}
	count := kinds.number()
	if bodies.number() != count {
		return errNotKnown
	}
	out := binary.AppendUvarint(nil, uint64(count))
	for i := range count {
		kind, body := kinds.number(), bodies.take(bodies.number())
		if kinds.short || bodies.short || kind >= len(params) {
			return errNotKnown
		}
		body, err := shortened(body, params[kind])
		if err != nil {
			return fmt.Errorf("function %d: %w", i, err)
		}
		out = binary.AppendUvarint(out, uint64(len(body)))
		out = append(out, body...)
	}
	code.body = out
	return nil
}

// paramsOf is how many parameters each type of function has; none where one is
// no type of a function.
func paramsOf(types []byte) []int {
	r := reader{rest: types}
	var out []int
	for range r.number() {
		if r.byte() != 0x60 {
			return nil
		}
		n := r.number()
		r.take(n)
		r.take(r.number())
		out = append(out, n)
	}
	if r.short {
		return nil
	}
	return out
}

const (
	typeI64  = 0x7e
	localGet = 0x20
	localSet = 0x21
	localTee = 0x22
	i64Const = 0x42
	i64Or    = 0x84
)

// shortened is one function, its parameters given, with its long numbers in two
// parts. The new local comes before the function's own, so that it has the same
// place in all functions of a type: what repeats, packs. It is worth its place even
// where a function has one such number, for the same reason.
func shortened(body []byte, params int) ([]byte, error) {
	r := reader{rest: body}
	groups := r.number()
	locals := body[len(body)-len(r.rest):]
	for range groups {
		r.number()
		r.byte()
	}
	if r.short {
		return nil, errNotKnown
	}
	code := r.rest
	locals = locals[:len(locals)-len(code)]

	common, times := 0, map[int]int{}
	last := byte(0)
	for rest := code; len(rest) > 0; {
		n := instruction(rest)
		if n == 0 {
			return nil, fmt.Errorf("an instruction %#x that this build does not know", rest[0])
		}
		if v, is := longNumber(rest[:n]); is {
			high := v &^ 0xffff
			if times[high]++; times[high] > times[common] {
				common = high
			}
		}
		last, rest = rest[0], rest[n:]
	}
	if last != end {
		return nil, errNotKnown
	}
	if common == 0 {
		return body, nil
	}

	out := binary.AppendUvarint(nil, uint64(groups+1))
	out = append(out, 1, typeI64)
	out = append(out, locals...)
	out = appendSigned(append(out, i64Const), common)
	out = binary.AppendUvarint(append(out, localSet), uint64(params))
	for rest := code; len(rest) > 0; {
		n := instruction(rest)
		v, is := longNumber(rest[:n])
		switch op := rest[0]; {
		case is && v&^0xffff == common:
			out = binary.AppendUvarint(append(out, localGet), uint64(params))
			out = appendSigned(append(out, i64Const), v&0xffff)
			out = append(out, i64Or)
		case op >= localGet && op <= localTee:
			local, _ := binary.Uvarint(rest[1:])
			if local >= uint64(params) {
				local++
			}
			out = binary.AppendUvarint(append(out, op), local)
		default:
			out = append(out, rest[:n]...)
		}
		rest = rest[n:]
	}
	return out, nil
}

// longNumber is the number of an i64.const, where it has five bytes.
func longNumber(instruction []byte) (v int, is bool) {
	if instruction[0] != i64Const || len(instruction) != 1+5 {
		return 0, false
	}
	r := reader{rest: instruction[1:]}
	v = r.signed()
	return v, v > 0
}

// instruction is how many bytes the first one has, 0 where it is not known.
func instruction(code []byte) int {
	r := reader{rest: code}
	numbers, plain := 0, 0 // what follows: numbers of any length, and bytes
	switch op := r.byte(); {
	case op >= 0x02 && op <= 0x04, // block, loop, if
		op == 0x0c, op == 0x0d, op == 0x10, // br, br_if, call
		op >= 0x20 && op <= 0x24, // locals and globals
		op == i32Const, op == i64Const:
		numbers = 1
	case op == 0x0e: // br_table
		numbers = r.number() + 1
	case op == 0x11, op >= 0x28 && op <= 0x3e: // call_indirect, loads and stores
		numbers = 2
	case op == 0x3f, op == 0x40: // memory.size, memory.grow
		plain = 1
	case op == 0x43: // f32.const
		plain = 4
	case op == 0x44: // f64.const
		plain = 8
	case op == 0xfc:
		switch sub := r.byte(); {
		case sub <= 7: // to a whole number, saturating
		case sub == 10: // memory.copy
			plain = 2
		case sub == 11: // memory.fill
			plain = 1
		default:
			return 0
		}
	case op <= 0x01, op == 0x05, op == end, op == 0x0f, op == 0x1a, op == 0x1b, op >= 0x45 && op <= 0xc4:
	default:
		return 0
	}
	for range numbers {
		for r.byte() >= 0x80 && !r.short {
		}
	}
	r.take(plain)
	if r.short {
		return 0
	}
	return len(code) - len(r.rest)
}
