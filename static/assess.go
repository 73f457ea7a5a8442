package static

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"io/fs"
	"path"
	"strings"
)

//go:generate go run scaperound/cmd/tablet/build -o .

// Build is how the browser build of the domain stands.
type Build struct {
	Made  bool // it is part of this program
	Older bool // it was made from other sources than the program's own
	Brotli,
	Plain int // its size in bytes, packed and not
}

// BrowserBuild compares the browser build with the sources that the program
// itself was made from; code is the project's domain folder.
func BrowserBuild(code fs.FS) Build {
	f := files["assess.wasm"]
	sums, err := embedded.ReadFile("assess.sum")
	if f == nil || err != nil || files["wasm_exec.js"] == nil {
		return Build{}
	}
	b := Build{Made: true, Plain: len(f.plain), Brotli: len(f.brotlied)}
	for line := range strings.Lines(string(sums)) {
		dir, sum, _ := strings.Cut(strings.TrimSpace(line), " ")
		name, inDomain := strings.CutPrefix(dir, "domain/")
		if !inDomain {
			continue
		}
		if now, err := SourceSum(code, name); err != nil || now != sum {
			b.Older = true
		}
	}
	return b
}

// SourceSum is a hash of a folder's Go files but its tests.
func SourceSum(from fs.FS, dir string) (string, error) {
	entries, err := fs.ReadDir(from, dir)
	if err != nil {
		return "", err
	}
	sum := sha256.New()
	for _, e := range entries { // sorted by name
		if path.Ext(e.Name()) != ".go" || strings.HasSuffix(e.Name(), "_test.go") {
			continue
		}
		text, err := fs.ReadFile(from, path.Join(dir, e.Name()))
		if err != nil {
			return "", err
		}
		sum.Write([]byte(e.Name()))
		sum.Write([]byte{0})
		sum.Write(bytes.TrimSpace(text))
		sum.Write([]byte{0})
	}
	return hex.EncodeToString(sum.Sum(nil)), nil
}
