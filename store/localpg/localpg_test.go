//go:build linux || darwin

package localpg

import (
	"context"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/jackc/pgx/v5"
)

// dataFolder is a new folder that the server's account can reach, which the
// test framework's own is not when started as root.
func dataFolder(t testing.TB) string {
	t.Helper()
	return filepath.Join(openFolder(t), "data")
}

func openFolder(t testing.TB) string {
	t.Helper()
	dir, err := os.MkdirTemp("", "scaperound-localpg-")
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod(dir, 0o711); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.RemoveAll(dir) })
	return dir
}

// pristine is a database that was made and stopped in order, once for all tests.
var pristine = sync.OnceValues(func() (root string, err error) {
	if root, err = os.MkdirTemp("", "scaperound-localpg-"); err != nil {
		return "", err
	}
	pristineRoot = root
	if err := os.Chmod(root, 0o711); err != nil {
		return root, err
	}
	s, err := Start(context.Background(), Options{Data: filepath.Join(root, "data")})
	if err != nil {
		return root, err
	}
	return root, s.Stop(context.Background())
})

// pristineRoot is what the tests' end removes.
var pristineRoot string

// oldFolder is a data folder of the test's own with a database in it.
func oldFolder(t testing.TB) string {
	t.Helper()
	need(t)
	root, err := pristine()
	if err != nil {
		t.Fatal(err)
	}
	data := dataFolder(t)
	if out, err := exec.Command("cp", "-a", filepath.Join(root, "data"), data).CombinedOutput(); err != nil {
		t.Fatalf("copy the database: %v\n%s", err, out)
	}
	return data
}

func need(t testing.TB) {
	t.Helper()
	if _, err := FindBinaries(); err != nil {
		// The sentence is storetest's, which this package cannot import.
		if strings.Contains(os.Getenv("SCAPEROUND_REQUIRE"), "db") {
			t.Fatal(err)
		}
		t.Skipf("SKIPPED for want of db: %v", err)
	}
}

// start starts a server that ends with the test.
func start(t testing.TB, data string) *Server {
	t.Helper()
	need(t)
	s, err := Start(context.Background(), Options{Data: data})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { stop(t, s) })
	return s
}

func stop(t testing.TB, s *Server) {
	t.Helper()
	if err := s.Stop(context.Background()); err != nil {
		t.Errorf("stop: %v", err)
	}
}

func connect(t testing.TB, url string) *pgx.Conn {
	t.Helper()
	conn, err := pgx.Connect(context.Background(), url)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { conn.Close(context.Background()) })
	return conn
}

func ask(t testing.TB, conn *pgx.Conn, sql string, args ...any) (answer string) {
	t.Helper()
	if err := conn.QueryRow(context.Background(), sql, args...).Scan(&answer); err != nil {
		t.Fatalf("%s: %v", sql, err)
	}
	return answer
}

func TestNewClusterIsAsPromised(t *testing.T) {
	t.Parallel()
	data := dataFolder(t)
	s := start(t, data)
	conn := connect(t, s.URL())
	for sql, want := range map[string]string{
		`SELECT current_user::text`:                                                                Role,
		`SELECT current_database()::text`:                                                          Database,
		`SELECT rolsuper::text FROM pg_roles WHERE rolname = current_user`:                         "false",
		`SELECT pg_get_userbyid(datdba)::text FROM pg_database WHERE datname = current_database()`: Role,
		`SHOW data_checksums`:                                                                      "on",
		`SHOW server_encoding`:                                                                     "UTF8",
		`SELECT datcollate::text FROM pg_database WHERE datname = current_database()`:              "C",
		`SHOW listen_addresses`:                                                                    "",
		`SHOW unix_socket_permissions`:                                                             "0700",
		`SHOW password_encryption`:                                                                 "scram-sha-256",
		`SHOW fsync`:                                                                               "on",
		`SHOW timezone`:                                                                            "UTC",
	} {
		if got := ask(t, conn, sql); got != want {
			t.Errorf("%s: %q, want %q", sql, got, want)
		}
	}
	for _, private := range []string{filepath.Join(data, "postgres"), s.sock} {
		if info, err := os.Stat(private); err != nil || info.Mode().Perm() != 0o700 {
			t.Errorf("%s: %v, %v; want 0700", private, info.Mode(), err)
		}
	}
	if info, err := os.Stat(s.files.passwords()); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("the passwords' file: %v, %v; want 0600", info, err)
	}
	stranger := strings.Replace(s.URL(), s.pass.role, "guessed", 1)
	if _, err := pgx.Connect(t.Context(), stranger); err == nil {
		t.Error("a wrong password was let in")
	}
}

func TestWhatWasWrittenIsThereAfterStopAndStart(t *testing.T) {
	t.Parallel()
	data := oldFolder(t)
	s := start(t, data)
	conn := connect(t, s.URL())
	if _, err := conn.Exec(t.Context(), `CREATE TABLE note (body text); INSERT INTO note VALUES ('kept')`); err != nil {
		t.Fatal(err)
	}
	stop(t, s) // with the connection still open
	select {
	case <-s.Done():
	default:
		t.Error("Done is open after Stop")
	}
	if s.Err() != nil {
		t.Errorf("an orderly stop left %v", s.Err())
	}
	again := start(t, data)
	if got := ask(t, connect(t, again.URL()), `SELECT body FROM note`); got != "kept" {
		t.Errorf("got %q", got)
	}
	if s.URL() != again.URL() {
		t.Errorf("the address changed from %s to %s", s.URL(), again.URL())
	}
}

func TestSecondProgramIsRefused(t *testing.T) {
	t.Parallel()
	data := oldFolder(t)
	start(t, data)
	_, err := Start(t.Context(), Options{Data: data})
	if !errors.Is(err, ErrLocked) || !strings.Contains(err.Error(), data) {
		t.Errorf("got %v, want a refusal that names %s", err, data)
	}
}

func TestOddFolderNames(t *testing.T) {
	t.Parallel()
	for _, name := range []string{`we ird, "quoted" [x]* ü`, strings.Repeat("long", 30)} {
		t.Run(name, func(t *testing.T) {
			data := filepath.Join(openFolder(t), name)
			s := start(t, data)
			connect(t, s.URL())
			if !fitsSocket(s.sock) {
				t.Errorf("the socket's folder %s is too long", s.sock)
			}
			sock := s.sock
			stop(t, s)
			if strings.HasPrefix(sock, data) {
				return
			}
			if _, err := os.Stat(sock); err == nil {
				t.Errorf("%s was left under the temporary folder", sock)
			}
		})
	}
}

func TestForeignSurroundingsDoNotReachTheServer(t *testing.T) {
	for name, value := range map[string]string{
		"PGDATA": "/nowhere", "PGPORT": "1", "PGHOST": "nowhere.example", "PGUSER": "nobody",
		"PGDATABASE": "nothing", "PGOPTIONS": "-c nonsense=1", "PGSERVICE": "none", "LC_ALL": "xx_XX", "PGSSLMODE": "verify-full",
		"PGTARGETSESSIONATTRS": "read-only", "PGTZ": "Nowhere/Land",
	} {
		t.Setenv(name, value)
	}
	s := start(t, oldFolder(t))
	connect(t, s.URL())
}

func TestLogKeepsNoRows(t *testing.T) {
	t.Parallel()
	s := start(t, oldFolder(t))
	conn := connect(t, s.URL())
	_, err := conn.Exec(t.Context(), `CREATE TABLE door (code text PRIMARY KEY)`)
	if err != nil {
		t.Fatal(err)
	}
	for range 2 {
		_, err = conn.Exec(t.Context(), `INSERT INTO door VALUES ($1)`, "1-3-5-7-hush")
	}
	if err == nil {
		t.Fatal("the duplicate was accepted")
	}
	raw, err := os.ReadFile(s.files.serverLog())
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(raw), "duplicate key") {
		t.Errorf("the log lacks the error itself: %s", raw)
	}
	if strings.Contains(string(raw), "hush") {
		t.Errorf("the log quotes the row: %s", raw)
	}
}

func TestNoBinariesSaysWhereItLookedAndWhatToDo(t *testing.T) {
	empty := t.TempDir()
	found, looked := installed([]string{empty, filepath.Join(empty, "*/bin")})
	if len(found) != 0 {
		t.Fatalf("found %v in an empty folder", found)
	}
	err := notFound("Postgres 15 or later", found, looked)
	if !errors.Is(err, ErrNoBinaries) {
		t.Errorf("%v is not ErrNoBinaries", err)
	}
	for _, want := range []string{empty, InstallCommand(), BinariesEnv, "DATABASE_URL"} {
		if !strings.Contains(err.Error(), want) {
			t.Errorf("the error lacks %q: %v", want, err)
		}
	}
}

func TestBinariesAreJudgedByWhatTheySay(t *testing.T) {
	t.Parallel()
	root := t.TempDir()
	install := func(dir, says string) {
		dir = filepath.Join(root, dir)
		if err := os.MkdirAll(dir, 0o755); err != nil {
			t.Fatal(err)
		}
		for _, name := range []string{"postgres", "initdb"} {
			script := "#!/bin/sh\necho '" + says + "'\n"
			if err := os.WriteFile(filepath.Join(dir, name), []byte(script), 0o755); err != nil {
				t.Fatal(err)
			}
		}
	}
	install("9/bin", "postgres (PostgreSQL) 14.3")
	install("a/bin", "postgres (PostgreSQL) 18beta1")
	install("b/bin", "postgres (PostgreSQL) 16.4 (Debian 16.4-1)")
	install("c/bin", "something else")
	found, _ := installed([]string{filepath.Join(root, "*/bin")})
	var majors []int
	for _, b := range found {
		majors = append(majors, b.Major)
	}
	if len(majors) != 3 || majors[0] != 18 || majors[1] != 16 || majors[2] != 14 {
		t.Errorf("found %v, want 18, 16, 14", majors)
	}
}
