//go:build linux || darwin

package storetest

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"os"
	"sync"
	"sync/atomic"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgxpool"

	"scaperound/migrations"
	"scaperound/store"
	"scaperound/store/localpg"
)

// Clone returns the address of a database of the test's own with every
// migration applied. It is not dropped: the whole cluster is thrown away, and
// dropping takes longer than copying.
func Clone(t testing.TB) string {
	t.Helper()
	return create(t, true)
}

// EmptyURL returns the address of a database of the test's own without tables.
func EmptyURL(t testing.TB) string {
	t.Helper()
	return create(t, false)
}

var (
	process struct {
		once     sync.Once
		cluster  cluster
		admin    *pgxpool.Pool // connections of the superuser
		template string
		err      error
		// users is this process's share of the lock that keeps the cluster
		// alive; it stays referenced since collecting it would drop the lock.
		users *os.File
	}
	serial atomic.Int64
)

func create(t testing.TB, migrated bool) string {
	t.Helper()
	ctx := context.Background()
	process.once.Do(func() { process.err = prepare(ctx) })
	if errors.Is(process.err, localpg.ErrNoBinaries) {
		SkipFor(t, "db", "%v", process.err)
	}
	if process.err != nil {
		t.Fatalf("the tests' Postgres: %v", process.err)
	}
	name := fmt.Sprintf("t_%d_%d", os.Getpid(), serial.Add(1))
	template := "template0"
	if migrated {
		template = process.template
	}
	// Copying files beats replaying them through the log for a small template.
	if _, err := process.admin.Exec(ctx, fmt.Sprintf(`CREATE DATABASE %s TEMPLATE %s OWNER %s STRATEGY file_copy`, name, template, localpg.Role)); err != nil {
		t.Fatalf("make the test's database: %v", err)
	}
	return withDatabase(process.cluster.ordinary, name)
}

func prepare(ctx context.Context) (err error) {
	if _, err := localpg.FindBinaries(); err != nil {
		return err
	}
	dir, err := clusterFolder()
	if err != nil {
		return err
	}
	if process.cluster, process.users, err = join(dir); err != nil {
		return err
	}
	if process.admin, err = pgxpool.New(ctx, process.cluster.admin); err != nil {
		return err
	}
	hash, err := schemaHash(migrations.FS)
	if err != nil {
		return err
	}
	process.template = "tpl_" + hash
	return buildTemplate(ctx)
}

// buildTemplate migrates the template once, whichever process comes first.
func buildTemplate(ctx context.Context) error {
	// The lock is the session's, so all of it is one connection's work.
	admin, err := pgx.Connect(ctx, process.cluster.admin)
	if err != nil {
		return err
	}
	defer admin.Close(ctx)
	const lock = 0x7e391a7e
	if _, err := admin.Exec(ctx, `SELECT pg_advisory_lock($1)`, lock); err != nil {
		return err
	}
	var there bool
	if err := admin.QueryRow(ctx, `SELECT EXISTS (SELECT FROM pg_database WHERE datname = $1)`, process.template).Scan(&there); err != nil || there {
		return err
	}
	half := process.template + "_new" // one that a killed process left
	for _, sql := range []string{
		`DROP DATABASE IF EXISTS ` + half + ` WITH (FORCE)`,
		`CREATE DATABASE ` + half + ` TEMPLATE template0 OWNER ` + localpg.Role + ` STRATEGY file_copy`,
	} {
		if _, err := admin.Exec(ctx, sql); err != nil {
			return err
		}
	}
	db, err := store.Open(ctx, withDatabase(process.cluster.ordinary, half))
	if err != nil {
		return err
	}
	_, err = db.Migrate(ctx)
	db.Close()
	if err != nil {
		return err
	}
	for _, sql := range []string{
		`ALTER DATABASE ` + half + ` WITH ALLOW_CONNECTIONS false`,
		`ALTER DATABASE ` + half + ` RENAME TO ` + process.template,
	} {
		if _, err := admin.Exec(ctx, sql); err != nil {
			return err
		}
	}
	return nil
}

// schemaHash names the template: another set of migrations, another template.
func schemaHash(schema fs.FS) (string, error) {
	names, err := fs.Glob(schema, "*.sql")
	if err != nil {
		return "", err
	}
	h := sha256.New()
	for _, name := range names {
		content, err := fs.ReadFile(schema, name)
		if err != nil {
			return "", err
		}
		fmt.Fprintf(h, "%s %d\n", name, len(content))
		h.Write(content)
	}
	return hex.EncodeToString(h.Sum(nil))[:16], nil
}

func withDatabase(address, name string) string {
	u, err := url.Parse(address)
	if err != nil {
		panic(err) // localpg made it
	}
	u.Path = "/" + name
	return u.String()
}
