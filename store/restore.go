package store

import (
	"context"
	"fmt"
	"io"
	"os"
	"slices"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/stdlib"

	"scaperound/domain/fault"
)

// unfinishedTable exists from the first step of a restore to its last.
const unfinishedTable = "restore_unfinished"

// CodeNotEmpty is the code of the fault that the database has something in it.
const CodeNotEmpty = "database-not-empty"

// RestoreFile restores a file that BackupFile made.
func (db *DB) RestoreFile(ctx context.Context, path string, progress Progress) (Manifest, error) {
	f, err := os.Open(path)
	if err != nil {
		return Manifest{}, backupWrap(err, "The backup file cannot be opened. The database was not touched.")
	}
	defer f.Close()
	return db.Restore(ctx, f, progress)
}

// Restore fills an empty database from a backup, at the migrations that it was
// made with, and then applies the newer ones. The backup is read and checked
// whole before the database is touched. What fails or is killed half-way can be
// run again: no program serves a half-restored database.
func (db *DB) Restore(ctx context.Context, r io.ReadSeeker, progress Progress) (Manifest, error) {
	m, err := CheckBackup(r)
	if err != nil {
		return m, err
	}
	progress.say("The backup of %s is whole: %d rows in %d tables.", m.MadeAt.Format("2006-01-02 15:04 MST"), m.Rows(), len(m.Tables))
	known, err := knownVersions(db.schema)
	if err != nil {
		return m, asFault(err)
	}
	for _, v := range m.Migrations {
		if !slices.Contains(known, v) {
			return m, backupFault("The backup was made by a newer scaperound (migration %d is not known here). Use that program. The database was not touched.", v)
		}
	}
	if _, err := r.Seek(0, io.SeekStart); err != nil {
		return m, asFault(err)
	}
	err = db.underMigrationLock(ctx, func() error {
		if err := db.beginRestore(ctx); err != nil {
			return err
		}
		err := db.fill(ctx, r, m, progress)
		if err != nil {
			// Empty again is better than half full; where even this fails, the
			// mark is left and the next restore does it.
			_ = db.Tx(context.WithoutCancel(ctx), wipe)
		}
		return err
	})
	if err != nil {
		return m, asFault(err)
	}
	applied, err := db.Migrate(ctx)
	if len(applied) > 0 {
		progress.say("Applied %d newer migrations.", len(applied))
	}
	return m, err
}

// beginRestore refuses a database with anything in it, clears up after a
// restore that was cut short, and sets the mark.
func (db *DB) beginRestore(ctx context.Context) error {
	s, err := db.Schema(ctx)
	if err != nil {
		return err
	}
	return db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		if s.Unfinished {
			if err := wipe(ctx, tx); err != nil {
				return err
			}
		}
		var left []string
		if err := tx.QueryRow(ctx, `
			SELECT coalesce(array_agg(relname::text ORDER BY relname), '{}') FROM pg_class
			WHERE relnamespace = 'public'::regnamespace AND relkind IN ('r', 'p', 'v', 'm', 'f')`).Scan(&left); err != nil {
			return err
		}
		if len(left) > 0 {
			f := backupFault("The database is not empty: it has %d tables, such as %s. Restore into a new data folder or a new database; nothing was changed.", len(left), left[0])
			f.Code = CodeNotEmpty
			return f
		}
		_, err := tx.Exec(ctx, `CREATE TABLE `+unfinishedTable+` (since timestamptz NOT NULL DEFAULT now())`)
		return err
	})
}

// wipe drops everything in the schema, which only a restore may ask for.
func wipe(ctx context.Context, tx Tx) error {
	var drops []string
	if err := tx.QueryRow(ctx, `
		SELECT coalesce(array_agg(sql ORDER BY rank), '{}') FROM (
			SELECT 1 AS rank, format('DROP %s IF EXISTS %I.%I CASCADE',
				CASE relkind WHEN 'v' THEN 'VIEW' WHEN 'm' THEN 'MATERIALIZED VIEW' WHEN 'S' THEN 'SEQUENCE' ELSE 'TABLE' END, 'public', relname) AS sql
			FROM pg_class WHERE relnamespace = 'public'::regnamespace AND relkind IN ('r', 'p', 'v', 'm', 'S')
			  AND NOT EXISTS (SELECT FROM pg_depend WHERE objid = pg_class.oid AND deptype IN ('a', 'i', 'e')) -- goes with its owner
			UNION ALL
			SELECT 2, format('DROP ROUTINE IF EXISTS %s CASCADE', oid::regprocedure)
			FROM pg_proc WHERE pronamespace = 'public'::regnamespace
			  AND NOT EXISTS (SELECT FROM pg_depend WHERE objid = pg_proc.oid AND deptype = 'e')
			UNION ALL
			SELECT 3, format('DROP TYPE IF EXISTS %s CASCADE', oid::regtype)
			FROM pg_type WHERE typnamespace = 'public'::regnamespace AND typtype IN ('e', 'd')
		) AS every`).Scan(&drops); err != nil {
		return err
	}
	for _, sql := range drops {
		if _, err := tx.Exec(ctx, sql); err != nil {
			return err
		}
	}
	return nil
}

// fill migrates the empty database to where the backup was and copies its rows.
func (db *DB) fill(ctx context.Context, r io.Reader, m Manifest, progress Progress) error {
	if err := db.applyExactly(ctx, m.Migrations); err != nil {
		return err
	}
	return db.Tx(ctx, func(ctx context.Context, tx Tx) error {
		tables, err := readTables(ctx, tx)
		if err != nil {
			return err
		}
		if err := sameTables(tables, m.Tables); err != nil {
			return err
		}
		keys, err := loosen(ctx, tx, tables)
		if err != nil {
			return err
		}
		if err := copyIn(ctx, tx, r, m, progress); err != nil {
			return err
		}
		if err := tighten(ctx, tx, tables, keys); err != nil {
			return err
		}
		for _, s := range m.Sequences {
			if _, err := tx.Exec(ctx, `SELECT setval($1::text::regclass, $2, $3)`, pgx.Identifier{"public", s.Name}.Sanitize(), s.Last, s.Called); err != nil {
				return err
			}
		}
		if _, err := tx.Exec(ctx, `DROP TABLE `+unfinishedTable); err != nil {
			return err
		}
		// Without figures about the tables the first queries are planned badly.
		_, err = tx.Exec(ctx, `ANALYZE`)
		return err
	})
}

// applyExactly applies the very migrations that the backup's database had.
func (db *DB) applyExactly(ctx context.Context, versions []int64) error {
	sqlDB := stdlib.OpenDBFromPool(db.pool)
	defer sqlDB.Close()
	provider, err := newProvider(sqlDB, db.schema)
	if err != nil {
		return err
	}
	for _, v := range versions {
		if _, err := provider.ApplyVersion(ctx, v, true); err != nil {
			return fmt.Errorf("migration %d: %w", v, err)
		}
	}
	return nil
}

// sameTables checks that the migrations made what the backup was taken from.
func sameTables(have, want []TableCopy) error {
	missing := func(a, b []TableCopy) string {
		for _, t := range a {
			if !slices.ContainsFunc(b, func(o TableCopy) bool { return o.Name == t.Name && slices.Equal(o.Columns, t.Columns) }) {
				return t.Name
			}
		}
		return ""
	}
	for _, name := range []string{missing(want, have), missing(have, want)} {
		if name != "" {
			return fault.New(fault.Internal, "The migrations of this program make another table %s than the backup holds, so it cannot be restored by this program.", name)
		}
	}
	return nil
}
