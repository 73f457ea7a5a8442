package main

import (
	"crypto/rand"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"scaperound/domain/share"
)

// The folder's name below the place where programs keep their state.
const (
	serveFolder = "scaperound"
	demoFolder  = "scaperound-demo"
)

// dataFolder is the folder to use: the flag's, else the variable's, else the
// system's usual place for it.
func dataFolder(e *env, flag, variable, name string) (string, error) {
	for _, named := range []string{flag, variable} {
		if named != "" {
			return filepath.Abs(named)
		}
	}
	if os.Geteuid() == 0 {
		return filepath.Join("/var/lib", name), nil
	}
	if state, _ := e.get("XDG_STATE_HOME"); filepath.IsAbs(state) {
		return filepath.Join(state, name), nil
	}
	home, err := os.UserHomeDir()
	if err != nil {
		return "", fmt.Errorf("there is no home folder to keep the data in; name one with --data: %w", err)
	}
	return filepath.Join(home, ".local", "state", name), nil
}

// makeFolder makes the data folder where it is missing. As root it lets others
// pass through, for Postgres does not run as root; the files inside are closed.
func makeFolder(dir string) error {
	mode := fs.FileMode(0o700)
	if os.Geteuid() == 0 {
		mode = 0o711
	}
	if err := os.MkdirAll(filepath.Dir(dir), 0o755); err != nil {
		return fmt.Errorf("make the data folder: %w", err)
	}
	if err := os.Mkdir(dir, mode); err != nil {
		if errors.Is(err, fs.ErrExist) {
			return nil
		}
		return fmt.Errorf("make the data folder: %w", err)
	}
	return os.Chmod(dir, mode)
}

// writePrivately puts a file in place whole, readable by its owner alone: a
// kill leaves the old file or the new one.
func writePrivately(path string, content []byte) error {
	f, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+"-*")
	if err != nil {
		return err
	}
	defer os.Remove(f.Name())
	_, err = f.Write(content)
	if err := errors.Join(err, f.Chmod(0o600), f.Sync(), f.Close()); err != nil {
		return err
	}
	return os.Rename(f.Name(), path)
}

// linkKeyFile holds the key under the care-sheet links, in hexadecimal digits.
const linkKeyFile = "link.key"

// loadLinkKey returns the configured key, else the folder's, which is made the
// first time. A key file that cannot be used is never replaced: with another
// key every printed link is dead.
func loadLinkKey(c *config, dir string) (key share.Key, err error) {
	if c.linkKey != "" {
		return parseLinkKey(c.linkKey)
	}
	path := filepath.Join(dir, linkKeyFile)
	text, err := os.ReadFile(path)
	switch {
	case err == nil:
		key, err = parseLinkKey(strings.TrimSpace(string(text)))
		if err != nil {
			return key, fmt.Errorf("the key file %s cannot be used: %w. Put the right one back; without it the links that customers have are dead", path, err)
		}
		return key, nil
	case !errors.Is(err, fs.ErrNotExist):
		return key, fmt.Errorf("read the key file: %w", err)
	}
	if err := makeFolder(dir); err != nil {
		return key, err
	}
	if _, err := rand.Read(key[:]); err != nil {
		return key, err
	}
	if err := writePrivately(path, []byte(hex.EncodeToString(key[:])+"\n")); err != nil {
		return key, fmt.Errorf("make the key file: %w", err)
	}
	return key, nil
}
