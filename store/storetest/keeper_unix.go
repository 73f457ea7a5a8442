//go:build linux || darwin

package storetest

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"time"

	"github.com/jackc/pgx/v5"

	"scaperound/store/localpg"
)

// keeperEnv makes a test binary the keeper of the cluster in the folder named.
const keeperEnv = "SCAPEROUND_STORETEST_KEEPER"

// linger is how long the cluster outlives its last user.
const linger = 5 * time.Second

// A test binary that was started as the keeper never gets to its tests.
func init() {
	if dir := os.Getenv(keeperEnv); dir != "" {
		if err := keep(dir); err != nil {
			fmt.Fprintf(os.NewFile(3, "answer"), "%q\n", err)
			os.Exit(1)
		}
		os.Exit(0)
	}
}

// join makes sure that the folder's cluster runs. It runs for as long as users
// is referenced and open.
func join(dir string) (c cluster, users *os.File, err error) {
	// One process at a time looks and starts.
	starting, err := localpg.LockFile(filepath.Join(dir, "starting"), false, true)
	if err != nil {
		return c, nil, err
	}
	defer starting.Close()
	// This waits while a keeper is just leaving.
	if users, err = localpg.LockFile(filepath.Join(dir, "users"), true, true); err != nil {
		return c, nil, err
	}
	if c, ok := running(dir); ok {
		return c, users, nil
	}
	c, err = startKeeper(dir)
	return c, users, err
}

// cluster is how to reach the running one.
type cluster struct {
	admin    string // the superuser's address
	ordinary string // the server's role's
	keeper   string // process number
}

func (c cluster) String() string { return c.admin + " " + c.ordinary + " " + c.keeper }

func readCluster(line string) (c cluster, ok bool) {
	fields := strings.Fields(line)
	if len(fields) != 3 {
		return c, false
	}
	return cluster{fields[0], fields[1], fields[2]}, true
}

// clusterFolder returns the folder that all processes of this user share, in
// memory where there is room. Its name can be guessed, so it counts only while
// it is our own and closed to others.
func clusterFolder() (string, error) {
	base := os.TempDir()
	var st syscall.Statfs_t
	const room = 2 << 30 // bytes; some containers have 64 MB
	if err := syscall.Statfs("/dev/shm", &st); err == nil && uint64(st.Bavail)*uint64(st.Bsize) > room {
		base = "/dev/shm"
	}
	// The number in it is raised when keepers of before and after this file was
	// changed would not understand each other.
	dir := filepath.Join(base, fmt.Sprintf("scaperound-test2-%d", os.Getuid()))
	// The server may run as another user and passes through.
	if err := os.Mkdir(dir, 0o711); err != nil && !errors.Is(err, fs.ErrExist) {
		return "", err
	}
	info, err := os.Lstat(dir)
	if err != nil {
		return "", err
	}
	owner, ok := info.Sys().(*syscall.Stat_t)
	if !info.IsDir() || !ok || int(owner.Uid) != os.Getuid() || info.Mode().Perm()&0o022 != 0 {
		return "", fmt.Errorf("%s is not a folder of our own", dir)
	}
	return dir, nil
}

// running reads where the keeper said the cluster is, and tries it.
func running(dir string) (c cluster, ok bool) {
	raw, err := os.ReadFile(filepath.Join(dir, "cluster"))
	if err != nil {
		return c, false
	}
	if c, ok = readCluster(string(raw)); !ok {
		return c, false
	}
	// A busy machine answers late. Only a socket that is not there, or that
	// nobody listens on, says that the cluster is gone: a second one would take
	// the place of the first under its users.
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	defer cancel()
	for ctx.Err() == nil {
		conn, err := pgx.Connect(ctx, c.admin)
		if err == nil {
			return c, conn.Close(ctx) == nil
		}
		if errors.Is(err, syscall.ENOENT) || errors.Is(err, syscall.ECONNREFUSED) {
			break
		}
		time.Sleep(100 * time.Millisecond)
	}
	return c, false
}

// startKeeper runs this test binary again as the keeper and waits for its word.
func startKeeper(dir string) (c cluster, err error) {
	self, err := os.Executable()
	if err != nil {
		return c, err
	}
	r, w, err := os.Pipe()
	if err != nil {
		return c, err
	}
	defer r.Close()
	cmd := exec.Command(self)
	cmd.Env = append(os.Environ(), keeperEnv+"="+dir)
	cmd.Dir = dir
	// Not our output: go test would wait for the keeper to close it.
	cmd.ExtraFiles = []*os.File{w}
	cmd.SysProcAttr = &syscall.SysProcAttr{Setsid: true}
	err = cmd.Start()
	w.Close()
	if err != nil {
		return c, err
	}
	go func() { _ = cmd.Wait() }() // no zombie, where the keeper goes first
	answer, err := bufio.NewReader(r).ReadString('\n')
	if err != nil {
		return c, fmt.Errorf("the keeper said %q: %w", answer, err)
	}
	c, ok := readCluster(answer)
	if !ok {
		return c, fmt.Errorf("the keeper failed: %s", strings.TrimSpace(answer))
	}
	return c, nil
}

// keep runs the cluster until nobody has used it for a while.
func keep(dir string) error {
	ctx := context.Background()
	// Whatever an earlier keeper left when it was killed.
	old, err := filepath.Glob(filepath.Join(dir, "run-*"))
	if err != nil {
		return err
	}
	data, err := os.MkdirTemp(dir, "run-")
	if err != nil {
		return err
	}
	if err := os.Chmod(data, 0o711); err != nil {
		return err
	}
	for _, left := range old {
		_ = os.RemoveAll(left)
	}
	server, err := localpg.Start(ctx, localpg.Options{Data: data, Throwaway: true})
	if err != nil {
		return err
	}
	c := cluster{server.AdminURL(), server.URL(), strconv.Itoa(os.Getpid())}
	known := filepath.Join(dir, "cluster")
	if err := os.WriteFile(known, []byte(c.String()), 0o600); err != nil {
		return err
	}
	answer := os.NewFile(3, "answer")
	fmt.Fprintln(answer, c)
	answer.Close()

	lock := filepath.Join(dir, "users")
	idle := time.Now()
	for {
		select {
		case <-server.Done():
			return server.Err()
		case <-time.After(250 * time.Millisecond):
		}
		mine, err := localpg.LockFile(lock, false, false)
		if err != nil {
			idle = time.Now()
			sweep(ctx, server.AdminURL())
			continue
		}
		if time.Since(idle) < linger {
			mine.Close()
			continue
		}
		// New users wait for the lock and then find nothing and start anew.
		err = errors.Join(os.Remove(known), server.Stop(ctx), os.RemoveAll(data), os.Remove(lock))
		mine.Close()
		return err
	}
}

// maxLeft is how many databases of ended processes may pile up, about 9 MB each.
const maxLeft = 150

// sweep drops the databases of ended processes once there are many, so that
// packages tested in turn for hours do not fill the memory.
func sweep(ctx context.Context, admin string) {
	conn, err := pgx.Connect(ctx, admin)
	if err != nil {
		return
	}
	defer conn.Close(ctx)
	rows, err := conn.Query(ctx, `SELECT datname FROM pg_database WHERE datname LIKE 't\_%'`)
	if err != nil {
		return
	}
	names, err := pgx.CollectRows(rows, pgx.RowTo[string])
	if err != nil || len(names) < maxLeft {
		return
	}
	for _, name := range names {
		pid, err := strconv.Atoi(strings.Split(name, "_")[1])
		if err == nil && errors.Is(syscall.Kill(pid, 0), syscall.ESRCH) {
			_, _ = conn.Exec(ctx, `DROP DATABASE IF EXISTS `+name+` WITH (FORCE)`)
		}
	}
}
