//go:build linux || darwin

package localpg

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
)

// Running returns the address of a data folder's database, for the ordinary
// role, where another program runs it at the moment. It is for commands that
// work beside a running server; it starts nothing and makes no folder.
func Running(data string) (url string, ok bool) {
	data, err := filepath.Abs(data)
	if err != nil {
		return "", false
	}
	if data, err = filepath.EvalSymlinks(data); err != nil {
		return "", false
	}
	f := files{data: data}
	if _, err := os.Stat(f.lock()); err != nil {
		return "", false
	}
	lock, err := LockFile(f.lock(), false, false)
	if err == nil {
		lock.Close()
		return "", false
	}
	if !errors.Is(err, ErrLocked) {
		return "", false
	}
	raw, err := os.ReadFile(f.passwords())
	if err != nil {
		return "", false
	}
	lines := strings.Fields(string(raw))
	if len(lines) != 2 {
		return "", false
	}
	sock := f.nearSocket()
	if far, err := os.ReadFile(f.farSocket()); err == nil {
		sock = strings.TrimSpace(string(far))
	}
	return address(Role, lines[1], sock, Database), true
}
