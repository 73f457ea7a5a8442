package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/stdlib"
	"github.com/pressly/goose/v3"

	"scaperound/domain/fault"
)

// migrationLock is the advisory lock that only one migrating program holds.
const migrationLock int64 = 0x5ca9e20d

// versionTable is where the numbers of the applied migrations are kept.
const versionTable = goose.DefaultTablename

// Codes of the faults that CheckSchema returns.
const (
	CodeBehind     = "schema-behind"      // migrations are missing in the database
	CodeNewer      = "schema-newer"       // the database has some that the program lacks
	CodeUnfinished = "restore-unfinished" // a restore was cut short
)

// Schema compares the database's migrations with the program's.
type Schema struct {
	At      int64   // newest applied migration, 0 on an empty database
	Newest  int64   // newest migration of the program
	Pending []int64 // the program's that are not applied, ascending
	Unknown []int64 // applied ones that the program does not have, ascending
	// Unfinished is set where a restore was cut short and must be run again.
	Unfinished bool
}

// Schema reads where the database stands. It changes nothing.
func (db *DB) Schema(ctx context.Context) (Schema, error) {
	known, err := knownVersions(db.schema)
	if err != nil {
		return Schema{}, err
	}
	applied, err := appliedVersions(ctx, db.pool)
	if err != nil {
		return Schema{}, asFault(err)
	}
	var s Schema
	if err := db.pool.QueryRow(ctx, `SELECT to_regclass('public.`+unfinishedTable+`') IS NOT NULL`).Scan(&s.Unfinished); err != nil {
		return Schema{}, asFault(err)
	}
	if len(known) > 0 {
		s.Newest = known[len(known)-1]
	}
	if len(applied) > 0 {
		s.At = applied[len(applied)-1]
	}
	for _, v := range known {
		if !slices.Contains(applied, v) {
			s.Pending = append(s.Pending, v)
		}
	}
	for _, v := range applied {
		if !slices.Contains(known, v) {
			s.Unknown = append(s.Unknown, v)
		}
	}
	return s, nil
}

// Err is nil where the program may use the database: an Unavailable fault with
// one of the codes above otherwise.
func (s Schema) Err() error {
	if s.Unfinished {
		return coded(CodeUnfinished, "A restore into this database was cut short, so it holds only a part of the shop. Run the restore again.")
	}
	if len(s.Unknown) > 0 {
		return coded(CodeNewer, "The database is at %d, which a newer scaperound made; this program knows it up to %d. Use the newer program, or restore a backup of the older time.", s.At, s.Newest)
	}
	if len(s.Pending) > 0 {
		return coded(CodeBehind, "The database is at %d and the program needs %d (%d steps). Make a backup, then run: scaperound migrate", s.At, s.Newest, len(s.Pending))
	}
	return nil
}

func coded(code, format string, args ...any) error {
	f := fault.New(fault.Unavailable, format, args...)
	f.Code = code
	return f
}

// CheckSchema returns a fault where the program may not use the database.
func (db *DB) CheckSchema(ctx context.Context) error {
	s, err := db.Schema(ctx)
	if err != nil {
		return err
	}
	return s.Err()
}

// Migrate brings the database to the program's schema and returns the numbers
// it applied. Each migration is a transaction of its own, so that a failure
// keeps those before it. Programs that migrate at the same time wait for each
// other. A database newer than the program is refused untouched.
func (db *DB) Migrate(ctx context.Context) (applied []int64, err error) {
	err = db.underMigrationLock(ctx, func() error {
		s, err := db.Schema(ctx)
		if err != nil {
			return err
		}
		if len(s.Unknown) > 0 || s.Unfinished {
			return s.Err()
		}
		if len(s.Pending) == 0 {
			return nil
		}
		applied, err = db.gooseUp(ctx)
		return err
	})
	return applied, asFault(err)
}

// MigrateAfterBackup is Migrate with a backup before it, where there is both
// something to keep and something to do. The backup goes into the folder dir,
// which is made where it is missing, and its path is returned.
func (db *DB) MigrateAfterBackup(ctx context.Context, dir string, progress Progress) (backup string, applied []int64, err error) {
	s, err := db.Schema(ctx)
	if err != nil {
		return "", nil, err
	}
	if s.At > 0 && len(s.Pending) > 0 && len(s.Unknown) == 0 && !s.Unfinished {
		if err := os.MkdirAll(dir, 0o700); err != nil {
			return "", nil, backupWrap(err, "The folder for backups cannot be made.")
		}
		backup = filepath.Join(dir, fmt.Sprintf("before-%d-%s.tar.gz", s.Newest, db.Now().Format("20060102T150405.000000Z")))
		if _, err := db.BackupFile(ctx, backup, progress); err != nil {
			return "", nil, err
		}
	}
	applied, err = db.Migrate(ctx)
	return backup, applied, err
}

func (db *DB) gooseUp(ctx context.Context) (applied []int64, err error) {
	sqlDB := stdlib.OpenDBFromPool(db.pool)
	defer sqlDB.Close()
	provider, err := newProvider(sqlDB, db.schema)
	if err != nil {
		return nil, err
	}
	results, err := provider.Up(ctx)
	var partial *goose.PartialError
	if errors.As(err, &partial) {
		results = partial.Applied
		err = fault.Wrap(fault.Internal, partial, "The migration %s failed and was undone; those before it are in place.", partial.Failed.Source.Path)
	}
	for _, r := range results {
		applied = append(applied, r.Source.Version)
	}
	return applied, err
}

func newProvider(sqlDB *sql.DB, schema fs.FS) (*goose.Provider, error) {
	return goose.NewProvider(goose.DialectPostgres, sqlDB, schema,
		goose.WithLogger(goose.NopLogger()), goose.WithDisableGlobalRegistry(true),
		// Two branches may land in another order than their times of writing.
		goose.WithAllowOutofOrder(true))
}

// underMigrationLock runs fn while this program alone may migrate.
func (db *DB) underMigrationLock(ctx context.Context, fn func() error) error {
	conn, err := db.pool.Acquire(ctx)
	if err != nil {
		return err
	}
	// Closing the session frees the lock whatever happened to ctx meanwhile.
	raw := conn.Hijack()
	defer raw.Close(context.WithoutCancel(ctx))
	if _, err := raw.Exec(ctx, `SET lock_timeout = 0`); err != nil {
		return err
	}
	if _, err := raw.Exec(ctx, `SELECT pg_advisory_lock($1)`, migrationLock); err != nil {
		return err
	}
	return fn()
}

// knownVersions lists the numbers of the migration files, ascending.
func knownVersions(schema fs.FS) ([]int64, error) {
	names, err := fs.Glob(schema, "*.sql")
	if err != nil {
		return nil, err
	}
	var versions []int64
	for _, name := range names {
		v, err := goose.NumericComponent(name)
		if err != nil {
			return nil, fmt.Errorf("migration %s: %w", name, err)
		}
		versions = append(versions, v)
	}
	slices.Sort(versions)
	return versions, nil
}

// appliedVersions lists what the database says was applied, ascending.
func appliedVersions(ctx context.Context, q Querier) ([]int64, error) {
	var there bool
	if err := q.QueryRow(ctx, `SELECT to_regclass('public.`+versionTable+`') IS NOT NULL`).Scan(&there); err != nil || !there {
		return nil, err
	}
	rows, err := q.Query(ctx, `SELECT DISTINCT version_id FROM `+versionTable+` WHERE is_applied AND version_id > 0 ORDER BY version_id`)
	if err != nil {
		return nil, err
	}
	return pgx.CollectRows(rows, pgx.RowTo[int64])
}
