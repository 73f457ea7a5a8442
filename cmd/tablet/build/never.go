package main

import (
	"bytes"
	"encoding/binary"
	"regexp"
)

// never are functions of the runtime that only an execution trace, a profile, the
// reading of metrics, a dump of the heap or a setting of GODEBUG asks for. A page
// begins none of these, and has no surroundings to set anything in; the linker
// cannot know that.
var never = regexp.MustCompile(`^runtime\.(` +
	`\(?traceLocker\)?\.[A-Zes].*|\(?trace(Event)?Writer\)?\..*|\(\*trace[A-Z][A-Za-z]*\)\..*|` +
	`trace(Advance|Stack|ReadCPU|StopReadCPU|RegisterLabelsAndReasons|SyncBatch|CPUFlush|BufFlush)(\..*)?|` +
	`makeTraceFrames?|startPCForTrace|goStatusToTraceGoStatus|fpunwindExpand|fpTracebackPartialExpand|` +
	`\(\*profBuf\)\..*|initMetrics(\..*)?|timeHistogramMetricsBuckets|makeStatDepSet|\(\*metricValue\)\..*|` +
	`schedtrace(\..*)?|printScavTrace|dumpScanStats|dump(StacksRec|TypesRec)|gcDumpObject|` +
	`checkFinalizersAndCleanups(\..*)?|startCheckmarks(\..*)?|setCheckmark|getCheckmark|runCheckmark|endCheckmarks` +
	`)$`)

// trap is the code of a function that is never called.
var trap = []byte{0, unreachable, end}

// neverCalled empties the functions of never. It must be asked while the table of
// functions still has its names.
func (p *program) neverCalled() error {
	at := bytes.Index(p.memory, []byte(headMagic))
	code := p.section(codeSection)
	if at < 0 || code == nil {
		return errOtherTable
	}
	table := p.memory[at:]
	word := func(at int) int {
		if at < 0 || at+4 > len(table) {
			return -1
		}
		return int(binary.LittleEndian.Uint32(table[at:]))
	}
	count, names, records := word(headCount), word(headNames), word(headRecords)
	bodies := reader{rest: code.body}
	if bodies.number() != count {
		return errOtherTable // each function of the file is one of the table's, in order
	}
	out := binary.AppendUvarint(nil, uint64(count))
	first := word(records)
	for i := range count {
		body := bodies.take(bodies.number())
		entry, record := word(records+8*i), word(records+8*i+4)
		name := names + word(records+record+recordName)
		if entry != first+i || name < 0 || name >= len(table) {
			return errOtherTable
		}
		end := bytes.IndexByte(table[name:], 0)
		if end < 0 || bodies.short {
			return errOtherTable
		}
		if never.Match(table[name : name+end]) {
			body = trap
		}
		out = binary.AppendUvarint(out, uint64(len(body)))
		out = append(out, body...)
	}
	code.body = out
	return nil
}
