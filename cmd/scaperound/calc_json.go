package main

import (
	"bufio"
	"bytes"
	"errors"
	"io"

	"scaperound/domain/fault"
	"scaperound/domain/wire"
)

// longestLine is more than any calculation needs.
const longestLine = 1 << 20

// calcLines answers line by line until the input ends. Only a failing stream ends
// it early.
func calcLines(in io.Reader, out io.Writer) error {
	sc := bufio.NewScanner(in)
	sc.Buffer(make([]byte, 0, 64<<10), longestLine)
	for sc.Scan() {
		line := bytes.TrimSpace(sc.Bytes())
		if len(line) == 0 {
			continue
		}
		// Each answer goes out at once: a program may wait for it.
		if _, err := out.Write(append(wire.Calc(line), '\n')); err != nil {
			return fault.Wrap(fault.Unavailable, err, "The answers cannot be written.")
		}
	}
	if errors.Is(sc.Err(), bufio.ErrTooLong) {
		return fault.New(fault.TooLarge, "A line is longer than 1 MiB; the lines before it are answered.")
	}
	return sc.Err()
}
