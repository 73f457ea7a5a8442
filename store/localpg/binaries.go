package localpg

import (
	"cmp"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"
)

// MinMajor is the oldest Postgres that the schema works on (it uses
// UNIQUE NULLS NOT DISTINCT, which is new in 15).
const MinMajor = 15

// Binaries is one installation of Postgres' programs.
type Binaries struct {
	Dir   string // holds postgres and initdb
	Major int    // 15, 16 …
}

// Postgres is the path of the server program.
func (b Binaries) Postgres() string { return filepath.Join(b.Dir, exe("postgres")) }

// Initdb is the path of the program that makes a new database folder.
func (b Binaries) Initdb() string { return filepath.Join(b.Dir, exe("initdb")) }

func exe(name string) string {
	if runtime.GOOS == "windows" {
		return name + ".exe"
	}
	return name
}

// ErrNoBinaries is in the chain of an error that no fitting Postgres is installed.
var ErrNoBinaries = errors.New("no fitting Postgres is installed")

// BinariesEnv names the environment variable that points at a folder with
// Postgres' programs and is looked at before all others.
const BinariesEnv = "SCAPEROUND_POSTGRES_BIN"

// InstallCommand is what installs Postgres on the system at hand.
func InstallCommand() string {
	if runtime.GOOS == "darwin" {
		return "brew install postgresql@17"
	}
	return "sudo apt-get install postgresql"
}

// FindBinaries returns the newest installed Postgres of MinMajor or later. The
// error lists where it looked and the command that installs one.
func FindBinaries() (Binaries, error) {
	found, looked := installed(searchPatterns())
	for _, b := range found {
		if b.Major >= MinMajor {
			return b, nil
		}
	}
	return Binaries{}, notFound(fmt.Sprintf("Postgres %d or later", MinMajor), found, looked)
}

// FindMajor returns an installed Postgres of one major version: a database
// folder can only be read by the major that wrote it.
func FindMajor(major int) (Binaries, error) {
	found, looked := installed(searchPatterns())
	for _, b := range found {
		if b.Major == major {
			return b, nil
		}
	}
	return Binaries{}, notFound(fmt.Sprintf("Postgres %d", major), found, looked)
}

func notFound(wanted string, found []Binaries, looked []string) error {
	var b strings.Builder
	fmt.Fprintf(&b, "%s was not found. Looked in:\n", wanted)
	for _, dir := range looked {
		fmt.Fprintf(&b, "  %s\n", dir)
	}
	for _, f := range found {
		fmt.Fprintf(&b, "Found Postgres %d in %s, which does not fit.\n", f.Major, f.Dir)
	}
	fmt.Fprintf(&b, "Install it with:\n  %s\nor set %s to the folder that holds postgres and initdb,\nor set DATABASE_URL to a Postgres that runs already", InstallCommand(), BinariesEnv)
	return fmt.Errorf("%w: %s", ErrNoBinaries, b.String())
}

// searchPatterns lists the folders to look in, as globs, in order.
func searchPatterns() []string {
	var patterns []string
	if dir := os.Getenv(BinariesEnv); dir != "" {
		patterns = append(patterns, dir)
	}
	patterns = append(patterns, filepath.SplitList(os.Getenv("PATH"))...)
	return append(patterns,
		"/usr/lib/postgresql/*/bin", // Debian and its kin
		"/usr/pgsql-*/bin",          // the RPM packages of the project
		"/usr/libexec/postgresql*",  // Alpine
		"/opt/homebrew/opt/postgresql@*/bin",
		"/usr/local/opt/postgresql@*/bin",
		"/opt/local/lib/postgresql*/bin",
		"/Applications/Postgres.app/Contents/Versions/*/bin",
	)
}

// installed returns every folder with both programs, newest first, and where
// it looked. A folder named by BinariesEnv comes first whatever its version.
func installed(patterns []string) (found []Binaries, looked []string) {
	seen := map[string]bool{}
	for _, pattern := range patterns {
		if pattern == "" || seen[pattern] {
			continue
		}
		seen[pattern] = true
		looked = append(looked, pattern)
		dirs, err := filepath.Glob(pattern)
		if err != nil {
			continue
		}
		for _, dir := range dirs {
			b := Binaries{Dir: dir}
			if !isProgram(b.Postgres()) || !isProgram(b.Initdb()) {
				continue
			}
			if b.Major, err = majorOf(b.Postgres()); err == nil {
				found = append(found, b)
			}
		}
	}
	preferred := os.Getenv(BinariesEnv)
	slices.SortStableFunc(found, func(a, b Binaries) int {
		if (a.Dir == preferred) != (b.Dir == preferred) {
			if a.Dir == preferred {
				return -1
			}
			return 1
		}
		return cmp.Compare(b.Major, a.Major)
	})
	return found, looked
}

func isProgram(path string) bool {
	info, err := os.Stat(path)
	return err == nil && info.Mode().IsRegular() && (runtime.GOOS == "windows" || info.Mode()&0o111 != 0)
}

// majorOf asks the program itself: folder names are habits, not facts.
func majorOf(postgres string) (int, error) {
	out, err := exec.Command(postgres, "--version").Output()
	if err != nil {
		return 0, err
	}
	// "postgres (PostgreSQL) 15.9 (Debian 15.9-0+deb12u1)"
	fields := strings.Fields(string(out))
	if len(fields) < 3 {
		return 0, fmt.Errorf("%s --version said %q", postgres, out)
	}
	digits := strings.TrimRightFunc(strings.SplitN(fields[2], ".", 2)[0], func(r rune) bool { return r < '0' || r > '9' })
	// "18beta1" has letters in the middle; keep what leads.
	for i, r := range digits {
		if r < '0' || r > '9' {
			digits = digits[:i]
			break
		}
	}
	return strconv.Atoi(digits)
}
