//go:build linux || darwin

package localpg

import (
	"fmt"
	"os"
	"os/user"
	"path/filepath"
	"strconv"
	"syscall"
)

// Account is the system user that the server's process runs as.
type Account struct {
	UID, GID int
	Name     string
	// Other is set where that is not the user who started the program.
	Other bool
}

// systemUser is who the server runs as when the program was started by root,
// which Postgres refuses to run as. The packages of Postgres make it.
const systemUser = "postgres"

// ServerAccount decides who the server runs as: the user at hand, or for root
// the system user postgres.
func ServerAccount() (Account, error) {
	if uid := os.Geteuid(); uid != 0 {
		return Account{UID: uid, GID: os.Getegid()}, nil
	}
	u, err := user.Lookup(systemUser)
	if err != nil {
		return Account{}, fmt.Errorf("started as root, and Postgres does not run as root: there is no system user %q to run it as (the package of Postgres makes it). Start as an ordinary user, or install it: %s", systemUser, InstallCommand())
	}
	uid, err := strconv.Atoi(u.Uid)
	if err != nil {
		return Account{}, err
	}
	gid, err := strconv.Atoi(u.Gid)
	if err != nil {
		return Account{}, err
	}
	return Account{UID: uid, GID: gid, Name: u.Username, Other: true}, nil
}

// Attr is how to start a child as the account, in a process group of its own so
// that Ctrl-C at the terminal reaches the program alone, which then stops the
// server in order.
func (a Account) Attr() *syscall.SysProcAttr {
	attr := &syscall.SysProcAttr{Setpgid: true}
	if a.Other {
		attr.Credential = &syscall.Credential{Uid: uint32(a.UID), Gid: uint32(a.GID)}
	}
	return attr
}

// Own gives a file or folder to the account.
func (a Account) Own(path string) error {
	if !a.Other {
		return nil
	}
	return os.Lchown(path, a.UID, a.GID)
}

// CheckReach returns an error that names the folder on the way to dir which the
// account cannot pass through.
func (a Account) CheckReach(dir string) error {
	if !a.Other {
		return nil
	}
	dir, err := filepath.Abs(dir)
	if err != nil {
		return err
	}
	if dir, err = filepath.EvalSymlinks(dir); err != nil {
		return err
	}
	var way []string
	for d := dir; ; d = filepath.Dir(d) {
		way = append([]string{d}, way...)
		if d == filepath.Dir(d) {
			break
		}
	}
	for _, d := range way {
		var st syscall.Stat_t
		if err := syscall.Stat(d, &st); err != nil {
			return fmt.Errorf("%s: %w", d, err)
		}
		bit := uint32(0o001)
		switch {
		case int(st.Uid) == a.UID:
			bit = 0o100
		case int(st.Gid) == a.GID:
			bit = 0o010
		}
		if uint32(st.Mode)&bit == 0 {
			return fmt.Errorf("the system user %q, which Postgres runs as when started by root, cannot pass through the folder %s (mode %04o). Choose another folder with --data, or start as an ordinary user, or let it pass: chmod o+x %s", a.Name, d, uint32(st.Mode)&0o7777, d)
		}
	}
	return nil
}
