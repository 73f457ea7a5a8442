package main

import (
	"bufio"
	"crypto/rand"
	"errors"
	"fmt"
	"io"
	"math/big"
	"os"
	"strings"

	"golang.org/x/term"
)

// readPassword asks for a new password without showing it, twice; where
// standard input is no terminal it takes the first line.
func readPassword(e *env) (string, error) {
	if f, ok := e.stdin.(*os.File); ok && term.IsTerminal(int(f.Fd())) {
		return askPassword(e, int(f.Fd()))
	}
	line, err := bufio.NewReader(io.LimitReader(e.stdin, 64<<10)).ReadString('\n')
	if err != nil && !errors.Is(err, io.EOF) {
		return "", fmt.Errorf("read the password: %w", err)
	}
	return strings.TrimRight(line, "\r\n"), nil
}

func askPassword(e *env, fd int) (string, error) {
	ask := func(prompt string) (string, error) {
		fmt.Fprint(e.stderr, prompt)
		typed, err := term.ReadPassword(fd)
		fmt.Fprintln(e.stderr)
		return string(typed), err
	}
	first, err := ask("Password (it is not shown): ")
	if err != nil {
		return "", fmt.Errorf("read the password: %w", err)
	}
	second, err := ask("Once more: ")
	if err != nil {
		return "", fmt.Errorf("read the password: %w", err)
	}
	if first != second {
		return "", usage("the two were not the same; nothing was changed")
	}
	return first, nil
}

// Short words without a neighbour that is easily mistaken for them.
var easyWords = strings.Fields(`
	amber anchor autumn basket birch bramble breeze bridge bronze candle canyon
	cedar cherry cinder clover cobble copper coral cotton cricket dapple delta
	ember fennel fern fiddle flint forest garnet ginger glacier granite harbour
	hazel heron hollow indigo island ivory jasper juniper kettle lantern laurel
	linen lupin maple marble meadow mellow mirror morning nettle oakum olive
	orchard otter paddle pebble pepper pewter pigeon plover pocket poplar
	quarry quill raven ribbon river rowan russet saddle saffron shingle silver
	sparrow spruce summer sunset tallow tangle thicket thimble thistle timber
	tundra umber valley velvet violet walnut willow winter woodland yarrow`)

// easyPassword is one that can be typed on a tablet: three words and four
// digits, some 33 bits, for the made-up shop's people only.
func easyPassword() (string, error) {
	var parts []string
	for range 3 {
		n, err := rand.Int(rand.Reader, big.NewInt(int64(len(easyWords))))
		if err != nil {
			return "", err
		}
		parts = append(parts, easyWords[n.Int64()])
	}
	n, err := rand.Int(rand.Reader, big.NewInt(10000))
	if err != nil {
		return "", err
	}
	return fmt.Sprintf("%s-%04d", strings.Join(parts, "-"), n), nil
}
