package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"scaperound/cmd/scaperound/demoshop"
)

const (
	// demoMark is the file that says: what is in this folder is made up, and
	// may be thrown away. It keeps what a later --keep has to know.
	demoMark = "demo-shop.json"
	// demoReady tells other programs where the running demo is.
	demoReady = "demo.json"
)

// madeUp is what demoMark holds.
type madeUp struct {
	Seed   uint64        `json:"seed"`
	Today  string        `json:"today"`
	Staff  []signIn      `json:"staff"` // the owner first
	Shop   demoshop.Made `json:"shop"`
	Loaded bool          `json:"loaded"` // the database holds all of it
}

// signIn is what somebody of the made-up staff signs in with.
type signIn struct {
	Email    string `json:"email"`
	Password string `json:"password"`
}

// running is what demoReady holds; other programs read it.
type running struct {
	URL         string   `json:"url"`
	PID         int      `json:"pid"`
	DatabaseURL string   `json:"database_url"`
	Owner       signIn   `json:"owner"`
	Technicians []signIn `json:"technicians"`
	Tank        string   `json:"tank"`
	Tank2       string   `json:"tank2"`
	Tank2Name   string   `json:"tank2_name"`
	Link        string   `json:"link"`
	PrintURL    string   `json:"print_url"`
}

func isDemo(dir string) bool {
	_, err := os.Stat(filepath.Join(dir, demoMark))
	return err == nil
}

// claimDemoFolder makes the folder and marks it. One that holds anything else
// is refused: the demo throws away what it finds.
func claimDemoFolder(dir string) error {
	if err := makeFolder(dir); err != nil {
		return err
	}
	if isDemo(dir) {
		return nil
	}
	entries, err := os.ReadDir(dir)
	if err != nil {
		return err
	}
	if len(entries) > 0 {
		return fmt.Errorf("%s is not empty and is not a demo's folder; nothing in it was touched. Name an empty or a new one with --data", dir)
	}
	return writeMark(dir, madeUp{})
}

func writeMark(dir string, m madeUp) error { return writeJSON(filepath.Join(dir, demoMark), m) }

// readMark returns what an earlier demo left; Loaded is unset where that cannot
// be gone on with.
func readMark(dir string) madeUp {
	var m madeUp
	text, err := os.ReadFile(filepath.Join(dir, demoMark))
	if err != nil || json.Unmarshal(text, &m) != nil || len(m.Staff) != len(demoshop.People()) {
		return madeUp{}
	}
	return m
}

func writeJSON(path string, v any) error {
	var text bytes.Buffer
	enc := json.NewEncoder(&text)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false) // an address keeps its &, for whoever reads it with less than a parser
	if err := enc.Encode(v); err != nil {
		return err
	}
	return writePrivately(path, text.Bytes())
}

func removeIfThere(path string) error {
	if err := os.Remove(path); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return nil
}
