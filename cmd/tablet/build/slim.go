package main

import (
	"bytes"
	"encoding/binary"
	"errors"
	"slices"
)

// slim takes out of a Go program what the wire need not carry and no answer
// depends on: the many addresses of its segments, what only a traceback reads,
// what is never called, and what its code repeats. It does what it can: an error says what it left
// as it was, and the program that comes with it is whole.
func slim(file []byte) ([]byte, error) {
	p, err := readProgram(file)
	if err != nil {
		return file, err
	}
	forgetReasons(p.memory)
	err = errors.Join(p.neverCalled(), forgetLines(p.memory), p.rewrite())
	return p.bytes(), err
}

// The table of functions, as runtime/symtab.go has it: a header, names, the files
// of each unit, files, the tables by program counter, and a record for each
// function. Numbers are places within the header or a record.
const (
	headMagic                         = "\xf1\xff\xff\xff\x00\x00\x01\x08"
	headSize                          = 72
	headCount, headNames, headRecords = 8, 32, 64
	recordSize                        = 44 // and four bytes for each of its tables and pieces of data

	recordEntry, recordName, recordSP     = 0, 4, 16
	recordFile, recordLine, recordTables  = 20, 24, 28
	recordUnit, recordStart, recordPieces = 32, 36, 43

	// Of a function's tables and pieces of data, by internal/abi/symtab.go: where
	// it may be stopped by a signal, which a page has none of, and which arguments
	// a traceback shows.
	tableOfStops, tableOfArguments    = 0, 3
	pieceOfArguments, pieceOfLiveOnes = 5, 6
	noTable, noPiece                  = 0, 0xffffffff

	nameOfOthers, nameOfRuntime = 0, 1
	runtimeNames                = "runtime."
)

var errOtherTable = errors.New("its table of functions is not as this build knows it; the toolchain is newer than cmd/tablet/build/slim.go")

// forgetLines blanks the names, files and lines of all functions: a third of
// what is said about them, and a twelfth of the wire. The runtime itself asks
// only whether a goroutine of its own starts it, by the first letters of a name.
// A traceback then says ? for each; the program's one caller gets a fault anyway.
//
// Nothing is moved. Every record must lie where the one before it ends and point
// into its tables, or the layout is another one, and all stays as it is.
func forgetLines(memory []byte) error {
	at := bytes.Index(memory, []byte(headMagic))
	if at < 0 || bytes.Contains(memory[at+1:], []byte(headMagic)) || at+headSize > len(memory) {
		return errOtherTable
	}
	table := memory[at:]
	var head [8]int // functions, files, text, then where the five parts begin
	for i := range head {
		head[i] = int(binary.LittleEndian.Uint64(table[8+8*i:]))
	}
	count, names, units, files, counters, records := head[0], head[3], head[4], head[5], head[6], head[7]
	parts := []int{headSize, names, units, files, counters, records, records + 8*count, len(table)}
	if count < 1 || !slices.IsSorted(parts) || units-names < len(runtimeNames)+2 {
		return errOtherTable
	}
	kept, all := []int{}, []int{counters, records} // tables by program counter
	functions := make([][]byte, count)
	next := 0
	for i := range functions {
		index := table[records+8*i:]
		from := int(binary.LittleEndian.Uint32(index[4:]))
		if i > 0 && from != next || records+from+recordSize > len(table) {
			return errOtherTable
		}
		f := table[records+from:]
		word := func(at int) int { return int(binary.LittleEndian.Uint32(f[at:])) }
		tables, pieces := word(recordTables), int(f[recordPieces])
		next = (from + recordSize + 4*tables + 4*pieces + 7) &^ 7
		name := names + word(recordName)
		if word(recordEntry) != int(binary.LittleEndian.Uint32(index)) || tables > 32 || records+next > len(table) ||
			name >= units || name > names && table[name-1] != 0 {
			return errOtherTable
		}
		kept = append(kept, counters+word(recordSP))
		all = append(all, counters+word(recordFile), counters+word(recordLine))
		for t := range tables {
			at := counters + word(recordSize+4*t)
			if t == tableOfStops || t == tableOfArguments {
				all = append(all, at)
			} else {
				kept = append(kept, at)
			}
		}
		functions[i] = f
	}
	all = append(all, kept...)
	slices.Sort(all)
	all = slices.Compact(all)
	slices.Sort(kept)
	for _, from := range all {
		if from < counters || from > records || from < records && from > counters && table[from-1] != 0 {
			return errOtherTable // each ends with a zero
		}
	}

	for _, f := range functions {
		name := uint32(nameOfOthers)
		if bytes.HasPrefix(table[names+int(binary.LittleEndian.Uint32(f[recordName:])):], []byte(runtimeNames)) {
			name = nameOfRuntime
		}
		binary.LittleEndian.PutUint32(f[recordName:], name)
		for _, at := range []int{recordFile, recordLine, recordUnit, recordStart} {
			binary.LittleEndian.PutUint32(f[at:], 0)
		}
		tables := int(binary.LittleEndian.Uint32(f[recordTables:]))
		for _, t := range []int{tableOfStops, tableOfArguments} {
			if t < tables {
				binary.LittleEndian.PutUint32(f[recordSize+4*t:], noTable)
			}
		}
		for _, piece := range []int{pieceOfArguments, pieceOfLiveOnes} {
			if piece < int(f[recordPieces]) {
				binary.LittleEndian.PutUint32(f[recordSize+4*(tables+piece):], noPiece)
			}
		}
	}
	clear(table[names:counters])
	copy(table[names+nameOfRuntime:], runtimeNames)
	for i, from := range all[:len(all)-1] {
		if _, used := slices.BinarySearch(kept, from); !used && from > counters {
			clear(table[from:all[i+1]])
		}
	}
	return nil
}
