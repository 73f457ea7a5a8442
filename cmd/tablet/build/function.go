package main

import (
	"encoding/binary"
	"fmt"
)

// Of the format, what follows needs by name.
const (
	typeSection     = 1
	functionSection = 3
	codeSection     = 10

	unreachable                     = 0x00
	block, loop, cond, end          = 0x02, 0x03, 0x04, 0x0b
	branch, branchIf, branchTable   = 0x0c, 0x0d, 0x0e
	return_                         = 0x0f
	localGet, localSet, localTee    = 0x20, 0x21, 0x22
	firstLoad, firstStore           = 0x28, 0x36
	lastLoad, lastStore             = 0x35, 0x3e
	i32Const, i64Const              = 0x41, 0x42
	i64Add, i64Or                   = 0x7c, 0x84
	i32WrapI64, i64ExtendI32        = 0xa7, 0xad // the second without a sign
	typeNone, typeI64, typeFunction = 0x40, 0x7e, 0x60
)

// A function is one taken apart as far as its rewriting needs it.
type function struct {
	params int    // how many parameters it has: they are its first locals
	groups int    // so many times its locals are declared, a number and a type each,
	locals []byte // here
	code   []instruction
}

// An instruction is its bytes.
type instruction []byte

func (i instruction) op() byte { return i[0] }

// number is what follows the first byte, of those that have one number.
func (i instruction) number() int {
	r := reader{rest: i[1:]}
	if i[0] == i32Const || i[0] == i64Const {
		return r.signed()
	}
	return r.number()
}

// with is an instruction of a number without a sign.
func with(op byte, n int) instruction { return binary.AppendUvarint(instruction{op}, uint64(n)) }

// constant is i32Const or i64Const of a number that is not below zero.
func constant(op byte, n int) instruction { return appendSigned(instruction{op}, n) }

// rewrite makes every function smaller, in ways that compute the same and ask
// nothing of the program but the format. Where one is not understood, all stay
// as they are.
func (p *program) rewrite() error {
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
		f, err := readFunction(body, params[kind])
		if err != nil {
			return fmt.Errorf("function %d: %w", i, err)
		}
		f.leave()
		f.jump()
		f.address()
		f.shorten()
		body = f.bytes()
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
		if r.byte() != typeFunction {
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

func readFunction(body []byte, params int) (*function, error) {
	r := reader{rest: body}
	f := &function{params: params, groups: r.number()}
	f.locals = r.rest
	for range f.groups {
		r.number()
		r.byte()
	}
	if r.short {
		return nil, errNotKnown
	}
	f.locals = f.locals[:len(f.locals)-len(r.rest)]
	for rest := r.rest; len(rest) > 0; {
		n := length(rest)
		if n == 0 {
			return nil, fmt.Errorf("an instruction %#x that this build does not know", rest[0])
		}
		f.code = append(f.code, rest[:n:n])
		rest = rest[n:]
	}
	if n := len(f.code); n == 0 || f.code[n-1].op() != end {
		return nil, errNotKnown
	}
	return f, nil
}

func (f *function) bytes() []byte {
	out := binary.AppendUvarint(nil, uint64(f.groups))
	out = append(out, f.locals...)
	for _, i := range f.code {
		out = append(out, i...)
	}
	return out
}

// length is how many bytes the first instruction has, 0 where it is not known.
func length(code []byte) int {
	r := reader{rest: code}
	numbers, plain := 0, 0 // what follows: numbers of any length, and bytes
	switch op := r.byte(); {
	case op >= block && op <= cond, op == branch, op == branchIf, op == 0x10, // call
		op >= localGet && op <= 0x24, // and globals
		op == i32Const, op == i64Const:
		numbers = 1
	case op == branchTable:
		numbers = r.number() + 1
	case op == 0x11, op >= firstLoad && op <= lastStore: // call_indirect, loads and stores
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
	case op <= 0x01, op == 0x05, op == end, op == return_, op == 0x1a, op == 0x1b, op >= 0x45 && op <= 0xc4:
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
