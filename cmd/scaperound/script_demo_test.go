package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// dryRun calls deploy/demo --dry-run with a PATH of its own making.
func dryRun(t *testing.T, path, pgBin string, flags ...string) (string, error) {
	t.Helper()
	cmd := exec.Command("/bin/sh", append([]string{filepath.Join(root(t), "deploy", "demo")}, flags...)...)
	cmd.Env = []string{"PATH=" + path, "SCAPEROUND_POSTGRES_BIN=" + pgBin, "HOME=" + t.TempDir()}
	out, err := cmd.CombinedOutput()
	return string(out), err
}

// tools makes a folder with the programs that a shell script cannot do
// without, and the named ones, which do nothing.
func tools(t *testing.T, named ...string) string {
	t.Helper()
	dir := t.TempDir()
	for _, name := range []string{"dirname", "sed", "id", "sort", "head"} {
		full, err := exec.LookPath(name)
		if err != nil {
			t.Skip("this system has no " + name)
		}
		if err := os.Symlink(full, filepath.Join(dir, name)); err != nil {
			t.Fatal(err)
		}
	}
	for _, name := range named {
		if err := os.WriteFile(filepath.Join(dir, name), []byte("#!/bin/sh\necho \"$0 was called\" >&2\nexit 9\n"), 0o755); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

func TestDemoScriptSaysWhatItWouldDo(t *testing.T) {
	if _, err := os.Stat("/bin/sh"); err != nil {
		t.Skip("this system has no /bin/sh")
	}
	postgres := tools(t, "initdb", "postgres")
	for _, c := range []struct {
		name   string
		path   string
		pgBin  string
		says   []string
		silent []string
	}{
		{"all is there", tools(t, "apt-get", "go"), postgres,
			[]string{"Nothing to install", "bin/scaperound demo --data moss --seed 3"}, []string{"apt-get"}},
		{"Postgres is missing on Debian", tools(t, "apt-get", "go"), t.TempDir(),
			[]string{"apt-get update && apt-get install -y --no-install-recommends postgresql"}, []string{"Nothing to install"}},
		{"Postgres is missing on a Mac", tools(t, "brew", "go"), t.TempDir(),
			[]string{"brew install postgresql@17"}, []string{"apt-get"}},
		{"Postgres is missing on an unknown system", tools(t, "go"), t.TempDir(),
			[]string{"initdb and postgres"}, []string{"apt-get", "brew"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			before, _ := os.Stat(filepath.Join(root(t), "bin"))
			out, err := dryRun(t, c.path, c.pgBin, "--data", "moss", "--dry-run", "--seed", "3")
			if err != nil {
				t.Fatalf("%v\n%s", err, out)
			}
			for _, s := range c.says {
				if !strings.Contains(out, s) {
					t.Errorf("it does not say %q:\n%s", s, out)
				}
			}
			for _, s := range append(c.silent, "was called", "--dry-run") {
				if strings.Contains(out, s) {
					t.Errorf("it says %q:\n%s", s, out)
				}
			}
			after, _ := os.Stat(filepath.Join(root(t), "bin"))
			if before == nil && after != nil {
				t.Error("something was built")
			}
		})
	}
}

// Where it cannot install, it stops before building and prints the command.
func TestDemoScriptRefusesWithoutPostgres(t *testing.T) {
	if _, err := os.Stat("/bin/sh"); err != nil {
		t.Skip("this system has no /bin/sh")
	}
	out, err := dryRun(t, tools(t, "brew", "go"), t.TempDir(), "--yes")
	if err == nil || !strings.Contains(out, "brew install postgresql@17") || strings.Contains(out, "was called") {
		t.Errorf("error %v, said:\n%s", err, out)
	}
}

// With --yes it installs as root without asking, sets up no database service of
// the system, and builds. Everything it calls writes down its name instead.
func TestDemoScriptInstalls(t *testing.T) {
	if _, err := os.Stat("/bin/sh"); err != nil {
		t.Skip("this system has no /bin/sh")
	}
	for _, c := range []struct {
		name, aptStatus string
		calls           []string
		says            string
	}{
		{"and builds", "0", []string{
			"mkdir -p /etc/postgresql-common/createcluster.d", "tee /etc/postgresql-common/createcluster.d/scaperound-once.conf",
			"apt-get update -q", "apt-get install -q -y --no-install-recommends postgresql",
			"rm -f /etc/postgresql-common/createcluster.d/scaperound-once.conf", "go build",
		}, "Building"},
		{"and stops where that fails", "100", []string{
			"mkdir -p /etc/postgresql-common/createcluster.d", "tee /etc/postgresql-common/createcluster.d/scaperound-once.conf",
			"apt-get update -q",
			"rm -f /etc/postgresql-common/createcluster.d/scaperound-once.conf",
		}, "could not install: postgresql"},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := tools(t)
			called := filepath.Join(dir, "called")
			program := func(name, body string) {
				t.Helper()
				os.Remove(filepath.Join(dir, name))
				text := "#!/bin/sh\n" + body + "\n"
				if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o755); err != nil {
					t.Fatal(err)
				}
			}
			note := `echo "${0##*/} $*" >>` + called
			program("id", "echo 0")
			program("env", `while case $1 in *=*) true ;; *) false ;; esac; do shift; done; exec "$@"`)
			for _, name := range []string{"mkdir", "tee", "rm"} {
				program(name, note)
			}
			program("apt-get", note+"\nexit "+c.aptStatus)
			program("go", `case $1 in env) echo go1.99.1 ;; build) echo "go build" >>`+called+"; exit 9 ;; esac")
			out, err := dryRun(t, dir, t.TempDir(), "--yes")
			if err == nil {
				t.Errorf("it went on after a failure:\n%s", out)
			}
			text, _ := os.ReadFile(called)
			if got := strings.Split(strings.TrimSpace(string(text)), "\n"); !slices.Equal(got, c.calls) {
				t.Errorf("it called\n%s\nwant\n%s\nand said:\n%s", strings.Join(got, "\n"), strings.Join(c.calls, "\n"), out)
			}
			if !strings.Contains(out, c.says) {
				t.Errorf("it does not say %q:\n%s", c.says, out)
			}
		})
	}
}
