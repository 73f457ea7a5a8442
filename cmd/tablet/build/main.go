// Command build makes the browser build of the domain: assess.wasm, packed as
// .br and .gz, the toolchain's wasm_exec.js, and assess.sum, which says what it
// was made from. It does nothing where that is still so.
//
//	go run scaperound/cmd/tablet/build -o static
package main

import (
	"bytes"
	"compress/gzip"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"

	"github.com/andybalholm/brotli"

	"scaperound/static"
)

// Flags of the build. Without inlining it is an eighth smaller on the wire, and
// quick enough for one visit at a time.
var Flags = []string{"-trimpath", "-ldflags=-s -w", "-gcflags=all=-l"}

const module = "scaperound/"

func main() {
	out := flag.String("o", ".", "`folder` that the files go into")
	tags := flag.String("tags", "", "further build tags, for tests")
	force := flag.Bool("force", false, "build even where nothing has changed")
	flag.Parse()
	if err := run(*out, *tags, *force); err != nil {
		fmt.Fprintln(os.Stderr, "browser build:", err)
		os.Exit(1)
	}
}

func run(out, tags string, force bool) error {
	top, err := ask("go", "list", "-m", "-f", "{{.Dir}}")
	if err != nil {
		return err
	}
	sum, err := sumOf(top)
	if err != nil {
		return err
	}
	sumFile := filepath.Join(out, "assess.sum")
	if had, err := os.ReadFile(sumFile); err == nil && string(had) == sum && tags == "" && !force && whole(out) {
		return nil
	}
	goroot, err := ask("go", "env", "GOROOT")
	if err != nil {
		return err
	}
	exec, err := os.ReadFile(filepath.Join(goroot, "lib", "wasm", "wasm_exec.js"))
	if err != nil {
		return err
	}
	wasm, err := build(top, tags)
	if err != nil {
		return err
	}
	if tags != "" { // a test's build: the file alone
		return write(out, map[string][]byte{"assess.wasm": wasm, "wasm_exec.js": exec})
	}
	files := map[string][]byte{"assess.wasm": wasm, "wasm_exec.js": exec}
	if files["assess.wasm.br"], err = brotlied(wasm); err != nil {
		return err
	}
	if files["assess.wasm.gz"], err = gzipped(wasm); err != nil {
		return err
	}
	if err := write(out, files); err != nil {
		return err
	}
	// Last: where it is missing or old, the rest is made again.
	if err := write(out, map[string][]byte{"assess.sum": []byte(sum)}); err != nil {
		return err
	}
	fmt.Printf("browser build: %d bytes, %d by brotli, %d by gzip\n", len(wasm), len(files["assess.wasm.br"]), len(files["assess.wasm.gz"]))
	return nil
}

// sumOf is a line for the toolchain and one for each of our packages in it.
func sumOf(top string) (string, error) {
	version, err := ask("go", "env", "GOVERSION")
	if err != nil {
		return "", err
	}
	list, err := wasmGo(top, "list", "-deps", "./cmd/tablet")
	if err != nil {
		return "", err
	}
	var b strings.Builder
	fmt.Fprintf(&b, "toolchain %s\n", version)
	for pkg := range strings.FieldsSeq(string(list) + module + "cmd/tablet/build") {
		dir, ours := strings.CutPrefix(pkg, module)
		if !ours {
			continue
		}
		sum, err := static.SourceSum(os.DirFS(top), dir)
		if err != nil {
			return "", err
		}
		fmt.Fprintf(&b, "%s %s\n", dir, sum)
	}
	return b.String(), nil
}

func whole(out string) bool {
	for _, name := range []string{"assess.wasm", "assess.wasm.br", "assess.wasm.gz", "wasm_exec.js"} {
		if _, err := os.Stat(filepath.Join(out, name)); err != nil {
			return false
		}
	}
	return true
}

func build(top, tags string) ([]byte, error) {
	dir, err := os.MkdirTemp("", "scaperound-wasm-")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	file := filepath.Join(dir, "assess.wasm")
	args := append([]string{"build", "-o", file, "-tags", tags, "-buildvcs=false"}, Flags...)
	if _, err := wasmGo(top, append(args, "./cmd/tablet")...); err != nil {
		return nil, err
	}
	made, err := os.ReadFile(file)
	if err != nil {
		return nil, err
	}
	slimmed, err := slim(made)
	if err != nil { // it works all the same, and the test of its size will say so too
		fmt.Fprintf(os.Stderr, "browser build: larger than it need be: %v\n", err)
	}
	return slimmed, nil
}

func wasmGo(top string, args ...string) ([]byte, error) {
	cmd := exec.Command("go", args...)
	cmd.Dir = top
	// What the surroundings ask for must not change the build.
	cmd.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "GOWASM=", "GOFLAGS=", "CGO_ENABLED=0")
	cmd.Stderr = os.Stderr
	out, err := cmd.Output()
	if err != nil {
		return nil, fmt.Errorf("go %s: %w", args[0], err)
	}
	return out, nil
}

func ask(name string, args ...string) (string, error) {
	out, err := exec.Command(name, args...).Output()
	if err != nil {
		return "", fmt.Errorf("%s %s: %w", name, strings.Join(args, " "), err)
	}
	return strings.TrimSpace(string(out)), nil
}

// window is 2 to its power of bytes: the largest that browsers read.
const window = 24

func brotlied(plain []byte) ([]byte, error) {
	var b bytes.Buffer
	w := brotli.NewWriterOptions(&b, brotli.WriterOptions{Quality: brotli.BestCompression, LGWin: window})
	if _, err := w.Write(plain); err != nil {
		return nil, err
	}
	err := w.Close()
	return b.Bytes(), err
}

func gzipped(plain []byte) ([]byte, error) {
	var b bytes.Buffer
	w, err := gzip.NewWriterLevel(&b, gzip.BestCompression)
	if err != nil {
		return nil, err
	}
	if _, err := w.Write(plain); err != nil {
		return nil, err
	}
	err = w.Close()
	return b.Bytes(), err
}

func write(out string, files map[string][]byte) error {
	for name, body := range files {
		if err := os.WriteFile(filepath.Join(out, name), body, 0o644); err != nil {
			return err
		}
	}
	return nil
}
