package main

import (
	"encoding/binary"
	"errors"
)

// A program is a WebAssembly file taken apart as far as slimming needs it: its
// sections, and what its data section puts into memory before the program runs.
type program struct {
	head     []byte
	sections []section
	memory   []byte
}

type section struct {
	id   byte
	body []byte // nil of the data section: memory is what it holds
}

const dataSection = 11

var errNotKnown = errors.New("its sections are not as this build knows them")

func readProgram(file []byte) (p program, err error) {
	r := reader{rest: file}
	p.head = r.take(8)
	if string(p.head) != "\x00asm\x01\x00\x00\x00" {
		return p, errNotKnown
	}
	for len(r.rest) > 0 && !r.short {
		s := section{id: r.byte()}
		s.body = r.take(r.number())
		if s.id == dataSection {
			p.memory, s.body, err = readSegments(s.body), nil, nil
			if p.memory == nil {
				return p, errNotKnown
			}
		}
		p.sections = append(p.sections, s)
	}
	if r.short || p.memory == nil {
		return p, errNotKnown
	}
	return p, nil
}

// Parts of a segment: it lies in the one memory, at an address that is an
// i32.const and nothing else.
const (
	inMemory = 0
	most     = 1 << 28 // bytes of memory; a segment further up is none of Go's
)

// readSegments lays all segments into one picture of the memory, nil where one
// is of another kind.
func readSegments(body []byte) []byte {
	r := reader{rest: body}
	memory := []byte{}
	for range r.number() {
		if r.byte() != inMemory || r.byte() != i32Const {
			return nil
		}
		at := r.signed()
		if r.byte() != end {
			return nil
		}
		text := r.take(r.number())
		if r.short || at < 0 || at+len(text) > most {
			return nil
		}
		if more := at + len(text) - len(memory); more > 0 {
			memory = append(memory, make([]byte, more)...)
		}
		copy(memory[at:], text)
	}
	if r.short || len(r.rest) > 0 {
		return nil
	}
	return memory
}

// section is the one with an id, nil where there is none.
func (p *program) section(id byte) *section {
	for i := range p.sections {
		if p.sections[i].id == id {
			return &p.sections[i]
		}
	}
	return nil
}

// bytes writes the program.
func (p *program) bytes() []byte {
	out := append([]byte{}, p.head...)
	for _, s := range p.sections {
		body := s.body
		if s.id == dataSection {
			body = writeSegments(p.memory)
		}
		out = append(out, s.id)
		out = binary.AppendUvarint(out, uint64(len(body)))
		out = append(out, body...)
	}
	return out
}

// gap is from how many zeros on a new segment begins. The linker begins one
// after eight: tens of thousands of addresses, that hardly pack, where zeros
// weigh nothing once packed.
const gap = 512

func writeSegments(memory []byte) []byte {
	var body []byte
	count, from, zeros := 0, -1, 0
	segment := func(to int) {
		if from < 0 {
			return
		}
		body = append(body, inMemory, i32Const)
		body = appendSigned(body, from)
		body = append(body, end)
		body = binary.AppendUvarint(body, uint64(to-from))
		body = append(body, memory[from:to]...)
		count, from = count+1, -1
	}
	for at, b := range memory {
		switch {
		case b == 0:
			if zeros++; zeros == gap {
				segment(at + 1 - gap)
			}
			continue
		case from < 0:
			from = at
		}
		zeros = 0
	}
	segment(len(memory) - zeros)
	return append(binary.AppendUvarint(nil, uint64(count)), body...)
}

// reader reads on until something is missing, and then says short.
type reader struct {
	rest  []byte
	short bool
}

func (r *reader) take(n int) []byte {
	if n < 0 || n > len(r.rest) {
		r.short, r.rest = true, nil
		return nil
	}
	out := r.rest[:n]
	r.rest = r.rest[n:]
	return out
}

func (r *reader) byte() byte {
	if b := r.take(1); b != nil {
		return b[0]
	}
	return 0xff
}

func (r *reader) number() int {
	v, n := binary.Uvarint(r.rest)
	if n <= 0 || v > most {
		r.short = true
		return 0
	}
	r.take(n)
	return int(v)
}

// signed reads the other way in which the format writes numbers: the sixth bit
// of the last byte is the sign.
func (r *reader) signed() int {
	v, shift := 0, 0
	for {
		b := r.byte()
		v |= int(b&0x7f) << shift
		shift += 7
		if b < 0x80 || r.short || shift > 35 {
			if b&0x40 != 0 {
				v -= 1 << shift
			}
			return v
		}
	}
}

func appendSigned(b []byte, v int) []byte {
	for v > 0x3f {
		b = append(b, byte(v)|0x80)
		v >>= 7
	}
	return append(b, byte(v))
}
