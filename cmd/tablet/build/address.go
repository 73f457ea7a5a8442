package main

import "encoding/binary"

// address leaves the sum that an address is to the load or store: where Go adds
// a constant to a pointer, the instruction has room for it. It would differ for
// an address just below 4 GiB alone, where the sum begins at zero again and no
// page's memory reaches.
func (f *function) address() {
	code := make([]instruction, 0, len(f.code))
	var values []int // of those on the stack, where in code each begins; unknown ones are left out
	for _, i := range f.code {
		takes, gives, plain := effect(i)
		if !plain { // a branch, a call: what is on the stack is not looked at behind it
			values = values[:0]
			code = append(code, i)
			continue
		}
		if op := i.op(); op >= firstLoad && op <= lastStore && len(values) >= takes {
			from, to := values[len(values)-takes], len(code)
			if takes == 2 {
				to = values[len(values)-1]
			}
			if sum, added := summed(code[from:to]); added >= 0 {
				code = append(code[:from+len(sum)], code[to:]...)
				if takes == 2 {
					values[len(values)-1] = from + len(sum)
				}
				i = moved(i, added)
			}
		}
		from := len(code)
		if takes > 0 && len(values) >= takes {
			from = values[len(values)-takes]
			values = values[:len(values)-takes]
		} else if takes > 0 {
			values, gives = values[:0], 0
		}
		code = append(code, i)
		if gives > 0 {
			values = append(values, from)
		}
	}
	f.code = code
}

// summed takes a constant off an address, in place; -1 where it adds none.
func summed(code []instruction) (rest []instruction, added int) {
	n := len(code)
	if n < 4 || code[n-1].op() != i32WrapI64 || code[n-2].op() != i64Add || code[n-3].op() != i64Const {
		return code, -1
	}
	const most = 1 << 27 // bytes; a larger structure is none of Go's
	if added = code[n-3].number(); added < 0 || added > most {
		return code, -1
	}
	if code[n-4].op() == i64ExtendI32 {
		return code[:n-4], added
	}
	return append(code[:n-3], instruction{i32WrapI64}), added
}

// moved is a load or store so many bytes further on.
func moved(i instruction, by int) instruction {
	r := reader{rest: i[1:]}
	align, offset := r.number(), r.number()
	return binary.AppendUvarint(with(i.op(), align), uint64(offset+by))
}

// effect is how many values an instruction takes from the stack and gives to it;
// plain is false for those that lead elsewhere.
func effect(i instruction) (takes, gives int, plain bool) {
	switch op := i.op(); {
	case op == 0x01: // nop
		return 0, 0, true
	case op == localGet, op == 0x23, op >= i32Const && op <= 0x44: // global.get; the constants
		return 0, 1, true
	case op == localSet, op == 0x24, op == 0x1a: // global.set, drop
		return 1, 0, true
	case op == localTee, op >= firstLoad && op <= lastLoad, op == 0x45, op == 0x50, // eqz
		op >= 0x67 && op <= 0x69, op >= 0x79 && op <= 0x7b, // clz, ctz, popcnt
		op >= 0x8b && op <= 0x91, op >= 0x99 && op <= 0x9f, // abs … sqrt
		op >= i32WrapI64 && op <= 0xc4, op == 0xfc && i[1] <= 7: // from type to type
		return 1, 1, true
	case op >= firstStore && op <= lastStore:
		return 2, 0, true
	case op == 0x1b: // select
		return 3, 1, true
	case op >= 0x46 && op <= 0xa6: // comparisons and arithmetic
		return 2, 1, true
	}
	return 0, 0, false
}
