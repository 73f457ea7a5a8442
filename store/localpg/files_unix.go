//go:build linux || darwin

package localpg

import (
	"crypto/rand"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"time"
)

// files knows the names inside the data folder.
type files struct {
	data    string // the program's
	account Account
}

func (f files) lock() string       { return filepath.Join(f.data, "lock") }
func (f files) passwords() string  { return filepath.Join(f.data, "postgres-passwords") }
func (f files) serverLog() string  { return filepath.Join(f.data, "postgres.log") }
func (f files) farSocket() string  { return filepath.Join(f.data, "postgres-socket-folder") }
func (f files) server() string     { return filepath.Join(f.data, "postgres") }
func (f files) pgdata() string     { return filepath.Join(f.server(), "pgdata") }
func (f files) pidFile() string    { return filepath.Join(f.pgdata(), "postmaster.pid") }
func (f files) nearSocket() string { return filepath.Join(f.server(), "sock") }

// newFiles makes the folders and checks that the server's account reaches them.
func newFiles(data string) (files, error) {
	if data == "" {
		return files{}, errors.New("no data folder was named")
	}
	account, err := ServerAccount()
	if err != nil {
		return files{}, err
	}
	if data, err = filepath.Abs(data); err != nil {
		return files{}, err
	}
	mode := os.FileMode(0o700)
	if account.Other {
		mode = 0o711 // the server passes through, and reads nothing on the way
	}
	if err := os.MkdirAll(filepath.Dir(data), 0o755); err != nil {
		return files{}, fmt.Errorf("make the data folder: %w", err)
	}
	if err := os.Mkdir(data, mode); err == nil {
		err = os.Chmod(data, mode) // whatever the umask took away
		if err != nil {
			return files{}, err
		}
	} else if !errors.Is(err, fs.ErrExist) {
		return files{}, fmt.Errorf("make the data folder: %w", err)
	}
	// The server names its folder by its real path, and so must we.
	if data, err = filepath.EvalSymlinks(data); err != nil {
		return files{}, err
	}
	f := files{data: data, account: account}
	if err := account.CheckReach(data); err != nil {
		return files{}, err
	}
	if err := os.Mkdir(f.server(), 0o700); err != nil && !errors.Is(err, fs.ErrExist) {
		return files{}, err
	}
	return f, account.Own(f.server())
}

// version reads which major wrote the database folder; 0 means there is none.
func (f files) version() (int, error) {
	if _, err := os.Lstat(f.pgdata()); errors.Is(err, fs.ErrNotExist) {
		return 0, nil
	}
	raw, err := os.ReadFile(filepath.Join(f.pgdata(), "PG_VERSION"))
	if err != nil {
		return 0, fmt.Errorf("%s exists and is not a database folder of Postgres (%w). It is left as it is: move it away, or choose another folder with --data", f.pgdata(), err)
	}
	major, err := strconv.Atoi(strings.TrimSpace(string(raw)))
	if err != nil {
		return 0, fmt.Errorf("%s/PG_VERSION says %q, which is no version", f.pgdata(), raw)
	}
	return major, nil
}

// passwords of the two roles. They are useless outside the socket's folder.
type passwords struct{ admin, role string }

// loadPasswords reads the file or makes it. A cluster that does not know new
// ones yet is taught them when it refuses them.
func (f files) loadPasswords() (p passwords, err error) {
	raw, err := os.ReadFile(f.passwords())
	if err == nil {
		lines := strings.Fields(string(raw))
		if len(lines) == 2 {
			return passwords{admin: lines[0], role: lines[1]}, nil
		}
	} else if !errors.Is(err, fs.ErrNotExist) {
		return p, err
	}
	p = passwords{admin: rand.Text(), role: rand.Text()}
	return p, writeFile(f.passwords(), p.admin+"\n"+p.role+"\n")
}

// writeFile replaces a file so that a kill or a power cut leaves the old one or
// the new one whole.
func writeFile(path, content string) error {
	part := path + ".new"
	file, err := os.OpenFile(part, os.O_WRONLY|os.O_CREATE|os.O_TRUNC, 0o600)
	if err != nil {
		return err
	}
	_, err = file.WriteString(content)
	if err == nil {
		err = file.Sync()
	}
	if err := errors.Join(err, file.Close()); err != nil {
		return err
	}
	return renameFor(part, path)
}

// renameFor renames and makes the new name durable.
func renameFor(from, to string) error {
	if err := os.Rename(from, to); err != nil {
		return err
	}
	dir, err := os.Open(filepath.Dir(to))
	if err != nil {
		return err
	}
	return errors.Join(dir.Sync(), dir.Close())
}

// maxSocketPath is what every system's socket address holds besides its end mark.
const maxSocketPath = 103

// fitsSocket reports whether a socket can be in dir. In an address a comma
// parts two hosts.
func fitsSocket(dir string) bool {
	return len(filepath.Join(dir, ".s.PGSQL."+socketPort)) <= maxSocketPath && !strings.Contains(dir, ",")
}

const farSocketPrefix = "scaperound-pg-"

// socketFolder returns an empty folder for the socket that only the account may
// enter: inside the data folder, or where that path does not do for a socket, a
// random one under the temporary folder.
func (f files) socketFolder() (string, error) {
	f.dropFarSocket()
	near := f.nearSocket()
	if err := os.RemoveAll(near); err != nil {
		return "", err
	}
	if fitsSocket(near) {
		if err := os.Mkdir(near, 0o700); err != nil {
			return "", err
		}
		return near, f.account.Own(near)
	}
	far, err := os.MkdirTemp("", farSocketPrefix)
	if err == nil && !fitsSocket(far) {
		os.Remove(far)
		far, err = os.MkdirTemp("/tmp", farSocketPrefix)
	}
	if err != nil {
		return "", err
	}
	if err := f.account.Own(far); err != nil {
		return "", err
	}
	return far, writeFile(f.farSocket(), far)
}

// dropFarSocket removes the socket folder that an earlier run left under the
// temporary folder, if it is still the account's own.
func (f files) dropFarSocket() {
	raw, err := os.ReadFile(f.farSocket())
	if err != nil {
		return
	}
	dir := strings.TrimSpace(string(raw))
	info, err := os.Lstat(dir)
	if err == nil && info.IsDir() && strings.HasPrefix(filepath.Base(dir), farSocketPrefix) {
		if st, ok := info.Sys().(*syscall.Stat_t); ok && int(st.Uid) == f.account.UID {
			os.RemoveAll(dir)
		}
	}
	os.Remove(f.farSocket())
}

// lockWait is how long a program that is just ending may still hold the folder.
const lockWait = 2 * time.Second

// take locks the data folder for this process.
func (f files) take() (*os.File, error) {
	for start := time.Now(); ; time.Sleep(20 * time.Millisecond) {
		lock, err := LockFile(f.lock(), false, false)
		if err == nil {
			if err := lock.Truncate(0); err == nil {
				fmt.Fprintf(lock, "%d\n", os.Getpid())
			}
			return lock, nil
		}
		if !errors.Is(err, ErrLocked) {
			return nil, err
		}
		if time.Since(start) > lockWait {
			holder, _ := os.ReadFile(f.lock())
			return nil, fmt.Errorf("%w: another scaperound (process %s) uses the data folder %s. Stop it, or choose another folder with --data", ErrLocked, strings.TrimSpace(string(holder)), f.data)
		}
	}
}
