package localpg

import (
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
)

// serverAttr makes the kernel ask the server for a fast shutdown when the
// program dies, even by kill -9.
func serverAttr(a Account) *syscall.SysProcAttr {
	attr := a.Attr()
	attr.Pdeathsig = syscall.SIGINT
	return attr
}

// initAttr ends a half-done initdb with the program.
func initAttr(a Account) *syscall.SysProcAttr {
	attr := a.Attr()
	attr.Pdeathsig = syscall.SIGKILL
	return attr
}

// processesIn lists the living Postgres processes whose working folder is dir:
// that is where a server and all its helpers stand. A person's shell may stand
// there too, and is none of ours.
func processesIn(dir string) ([]int, error) {
	links, err := filepath.Glob("/proc/[0-9]*/cwd")
	if err != nil {
		return nil, err
	}
	var pids []int
	for _, link := range links {
		// A foreign process cannot be read, and a dead one has no folder.
		if target, err := os.Readlink(link); err == nil && target == dir {
			if name, err := os.ReadFile(filepath.Join(filepath.Dir(link), "comm")); err != nil || strings.TrimSpace(string(name)) != "postgres" {
				continue
			}
			if pid, err := strconv.Atoi(filepath.Base(filepath.Dir(link))); err == nil {
				pids = append(pids, pid)
			}
		}
	}
	return pids, nil
}
