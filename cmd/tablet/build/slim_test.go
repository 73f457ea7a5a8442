package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"
)

// However the segments lie, memory is the same before the program runs.
func TestSegmentsFillTheSameMemory(t *testing.T) {
	memory := make([]byte, 200_000)
	for _, at := range []int{1, 63, 64, 127, 128, 8191, 8192, 8192 + gap, 8193 + 2*gap, 70_000, 131_071, 199_000} {
		memory[at] = byte(at) | 1
	}
	for at := 150_000; at < 160_000; at += 100 {
		memory[at] = 7
	}
	body := writeSegments(memory)
	got := readSegments(body)
	if want := bytes.TrimRight(memory, "\x00"); !bytes.Equal(got, want) {
		t.Error("what was read is not what was written")
	}
	if body[0] > 10 {
		t.Errorf("%d segments", body[0])
	}
	for name, wrong := range map[string][]byte{
		"two memories":   {1, 2, 0, i32Const, 8, end, 1, 7},
		"passive":        {1, 1, 1, 7},
		"other constant": {1, inMemory, 0x23, 0, end, 1, 7},
		"below zero":     {1, inMemory, i32Const, 0x7f, end, 1, 7},
		"cut short":      {1, inMemory, i32Const, 8, end, 2, 7},
		"more behind":    {1, inMemory, i32Const, 8, end, 1, 7, 7},
	} {
		if readSegments(wrong) != nil {
			t.Errorf("%s: was read", name)
		}
	}
}

const small = `package main

import "errors"

func main() {
	defer func() { println(recover().(error).Error()) }()
	panic(errors.New("it ran"))
}
`

// What this toolchain makes is known, loses its names and lines, has shorter
// code, and nothing else is altered.
func TestSlimKeepsTheRest(t *testing.T) {
	dir := t.TempDir()
	for name, text := range map[string]string{"main.go": small, "go.mod": "module small\n"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	cmd := exec.Command("go", append(slices.Concat([]string{"build"}, Flags), "-o", "small.wasm", ".")...)
	cmd.Dir, cmd.Env = dir, append(os.Environ(), "GOOS=js", "GOARCH=wasm", "GOWORK=off", "GOFLAGS=")
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	file, err := os.ReadFile(filepath.Join(dir, "small.wasm"))
	if err != nil {
		t.Fatal(err)
	}
	before, err := readProgram(file)
	if err != nil {
		t.Fatal(err)
	}
	slimmed, err := slim(file)
	if err != nil {
		t.Fatal(err)
	}
	after, err := readProgram(slimmed)
	if err != nil {
		t.Fatal(err)
	}
	if len(after.memory) != len(before.memory) || len(after.sections) != len(before.sections) {
		t.Fatal("not the same program")
	}
	for i, s := range before.sections {
		if same := bytes.Equal(s.body, after.sections[i].body); same != (s.id != codeSection) {
			t.Errorf("section %d is the same: %t", s.id, same)
		}
	}
	table := bytes.Index(before.memory, []byte(headMagic))
	if !bytes.Equal(before.memory[:table+headSize], after.memory[:table+headSize]) {
		t.Error("something before the table has changed")
	}
	if !bytes.Contains(before.memory, []byte("runtime.gopanic\x00")) || bytes.Contains(after.memory, []byte("runtime.gopanic\x00")) {
		t.Error("the names are not gone")
	}
	if full, rest := bytes.Count(before.memory, []byte{0}), bytes.Count(after.memory, []byte{0}); rest-full < 100_000 {
		t.Errorf("only %d bytes were blanked", rest-full)
	}

	// A layout that is not known is left alone.
	for _, at := range []int{table + headSize - 8, table + headSize - 16, table + headSize - 40} {
		other := slices.Clone(before.memory)
		other[at] += 8
		was := slices.Clone(other)
		if forgetLines(other) == nil {
			t.Errorf("a header that is wrong by byte %d is taken for a right one", at-table)
		}
		if !bytes.Equal(other, was) {
			t.Error("and something was altered")
		}
	}
}
