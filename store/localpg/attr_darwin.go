package localpg

import (
	"os/exec"
	"strconv"
	"strings"
	"syscall"
)

// serverAttr: this system does not tell a child of its parent's death, so a
// server outlives a killed program until the next Start ends it.
func serverAttr(a Account) *syscall.SysProcAttr { return a.Attr() }

func initAttr(a Account) *syscall.SysProcAttr { return a.Attr() }

// processesIn lists the servers that were started on dir. Their helpers rename
// themselves and cannot be told, but they leave by themselves soon after.
func processesIn(dir string) ([]int, error) {
	out, err := exec.Command("/bin/ps", "-axww", "-o", "pid=,command=").Output()
	if err != nil {
		return nil, err
	}
	var pids []int
	for line := range strings.Lines(string(out)) {
		pid, command, _ := strings.Cut(strings.TrimSpace(line), " ")
		if !strings.Contains(command, " -D "+dir+" ") {
			continue
		}
		if n, err := strconv.Atoi(pid); err == nil {
			pids = append(pids, n)
		}
	}
	return pids, nil
}
