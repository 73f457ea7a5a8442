package store_test

import (
	"bytes"
	"compress/gzip"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/fault"
	"scaperound/store"
	"scaperound/store/storetest"
)

// shopRows has what is hard to bring back: two tables that refer to each other,
// rows that no trigger lets anybody change, numbers that the database gives,
// and text that looks like COPY's own marks.
const shopRows = `
BEGIN;
INSERT INTO shop (name, zone, locale, decimal_mark, units, updated_at)
	VALUES (E'Fernweir\tAquascapes \\N \\. "ü"', 'Europe/Dublin', 'en-IE', '.', 'metric', '2026-11-24 09:00:00.123456+00');
INSERT INTO staff (id, name, email, email_folded, role, password_hash, created_at, updated_at)
	VALUES ('00000000-0000-7000-8000-000000000001', 'Maren Tolland', 'maren@fernweir.example', 'maren@fernweir.example', 'owner', 'x', now(), now());
INSERT INTO sessions VALUES ('token', 'data', now() + interval '1 day');
INSERT INTO customer (id, name, phones, search, sort_key, created_at, updated_at)
	VALUES ('00000000-0000-7000-8000-000000000002', E'line\nbreak', ARRAY['+353 1 555 0101', E'with "quotes", and \\ slash'], '', '', now(), now());
INSERT INTO site (id, customer, name, lat, lon, search, sort_key, created_at, updated_at)
	VALUES ('00000000-0000-7000-8000-000000000003', '00000000-0000-7000-8000-000000000002', 'Millrace 4', 53.1::float8 + 0.2::float8, -6.25, '', '', now(), now());
INSERT INTO tank (id, name, state, search, sort_key, created_at, updated_at)
	VALUES ('00000000-0000-7000-8000-000000000004', 'Window tank', 'running', '', '', now(), now());
INSERT INTO visit (id, tank, kind, performer, performed_at, head, created_at)
	VALUES ('00000000-0000-7000-8000-000000000005', '00000000-0000-7000-8000-000000000004', 'routine', '00000000-0000-7000-8000-000000000001', now(), '00000000-0000-7000-8000-000000000006', now());
INSERT INTO visit_revision (id, visit, no, raw, sha256, wire, performed_at, received_at, staff)
	VALUES ('00000000-0000-7000-8000-000000000006', '00000000-0000-7000-8000-000000000005', 1, '\x00ff5c4e0a', '\x01', '1', now(), now(), '00000000-0000-7000-8000-000000000001');
INSERT INTO evaluation (id, revision, tank, performed_at, at, cause, rules, input_sha256, status, urgency, document)
	VALUES ('00000000-0000-7000-8000-000000000007', '00000000-0000-7000-8000-000000000006', '00000000-0000-7000-8000-000000000004', now(), now(), 'first', '1', '\x02', 'fine', 'routine', '{"a": "\\n"}');
INSERT INTO sheet (id, evaluation, tank, visit, document, sha256, wire, released_by, given_at)
	VALUES ('00000000-0000-7000-8000-000000000008', '00000000-0000-7000-8000-000000000007', '00000000-0000-7000-8000-000000000004', '00000000-0000-7000-8000-000000000005', 'words', '\x03', '1', '00000000-0000-7000-8000-000000000001', now());
INSERT INTO audit (at, verb, noun, noun_id, before, after) SELECT now(), 'made', 'tank', n::text, NULL, '{"n": [1, null]}' FROM generate_series(1, 5000) AS n;
COMMIT;`

func exec(t *testing.T, db *store.DB, sql string) {
	t.Helper()
	if _, err := db.Pool().Exec(t.Context(), sql); err != nil {
		t.Fatal(err)
	}
}

// contents is every row of every table as Postgres prints it.
func contents(t *testing.T, db *store.DB) map[string]string {
	t.Helper()
	tables := tableNames(t, db)
	all := map[string]string{}
	for _, table := range tables {
		var rows string
		if err := db.Pool().QueryRow(t.Context(), fmt.Sprintf(
			`SELECT coalesce(string_agg(r::text, E'\n' ORDER BY r::text COLLATE "C"), '') FROM %s AS r`, table)).Scan(&rows); err != nil {
			t.Fatal(err)
		}
		all[table] = rows
	}
	return all
}

func tableNames(t *testing.T, db *store.DB) []string {
	t.Helper()
	rows, err := db.Pool().Query(t.Context(), `SELECT relname::text FROM pg_class WHERE relkind = 'r' AND relnamespace = 'public'::regnamespace`)
	if err != nil {
		t.Fatal(err)
	}
	names, err := pgx.CollectRows(rows, pgx.RowTo[string])
	if err != nil {
		t.Fatal(err)
	}
	return names
}

// rules is every constraint and trigger, to see that a restore puts them back.
func rules(t *testing.T, db *store.DB) (all string) {
	t.Helper()
	if err := db.Pool().QueryRow(t.Context(), `SELECT string_agg(line, E'\n' ORDER BY line COLLATE "C") FROM (
		SELECT conrelid::regclass || ' ' || conname || ' ' || pg_get_constraintdef(oid) FROM pg_constraint WHERE connamespace = 'public'::regnamespace
		UNION ALL
		SELECT pg_get_triggerdef(oid) || ' ' || tgenabled::text FROM pg_trigger WHERE NOT tgisinternal) AS each (line)`).Scan(&all); err != nil {
		t.Fatal(err)
	}
	return all
}

func backup(t *testing.T, db *store.DB) []byte {
	t.Helper()
	var file bytes.Buffer
	if _, err := db.Backup(t.Context(), &file, nil); err != nil {
		t.Fatal(err)
	}
	return file.Bytes()
}

func TestBackupAndRestoreBringEverythingBack(t *testing.T) {
	db := storetest.New(t)
	exec(t, db, shopRows)
	path := filepath.Join(t.TempDir(), "shop.backup")
	made, err := db.BackupFile(t.Context(), path, nil)
	if err != nil {
		t.Fatal(err)
	}
	if info, err := os.Stat(path); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("the file is %v, %v; want 0600", info.Mode(), err)
	}
	back := storetest.Empty(t)
	read, err := back.RestoreFile(t.Context(), path, nil)
	if err != nil {
		t.Fatal(err)
	}
	if made.Rows() != read.Rows() || made.Rows() < 5008 {
		t.Errorf("%d rows out, %d rows in, want at least 5008", made.Rows(), read.Rows())
	}
	want, got := contents(t, db), contents(t, back)
	delete(want, "goose_db_version") // has times of its own
	want["sessions"] = ""            // everybody signs in again
	for table, rows := range want {
		if got[table] != rows {
			t.Errorf("%s came back as %.200q, was %.200q", table, got[table], rows)
		}
	}
	if rules(t, db) != rules(t, back) {
		t.Errorf("constraints or triggers differ:\n%s\nwere\n%s", rules(t, back), rules(t, db))
	}
	if err := back.CheckSchema(t.Context()); err != nil {
		t.Error(err)
	}
	var next int
	if err := back.Pool().QueryRow(t.Context(), `INSERT INTO audit (at, verb, noun, noun_id) VALUES (now(), 'v', 'n', '1') RETURNING id`).Scan(&next); err != nil || next != 5001 {
		t.Errorf("the next number is %d, %v; want 5001", next, err)
	}
	if _, err := db.BackupFile(t.Context(), path, nil); !fault.Is(err, fault.Invalid) {
		t.Errorf("a file that was there was written over: %v", err)
	}
}

func TestRestoreOfAnOlderBackupMigrates(t *testing.T) {
	old := notesDB(t)
	exec(t, old, `INSERT INTO note (id, body) VALUES (7, 'kept')`)
	file := backup(t, old)
	back := storetest.Empty(t, store.WithMigrations(notes(first, second)))
	if _, err := back.Restore(t.Context(), bytes.NewReader(file), nil); err != nil {
		t.Fatal(err)
	}
	var body, author string
	if err := back.Pool().QueryRow(t.Context(), `SELECT body, author FROM note`).Scan(&body, &author); err != nil || body != "kept" || author != "nobody" {
		t.Errorf("got %q, %q, %v", body, author, err)
	}
	if err := back.CheckSchema(t.Context()); err != nil {
		t.Error(err)
	}
}

// untouched checks that nothing was made in an empty database.
func untouched(t *testing.T, db *store.DB) {
	t.Helper()
	if tables := tableNames(t, db); len(tables) > 0 {
		t.Errorf("the database has tables %v", tables)
	}
}

func TestRestoreRefusesANewerBackup(t *testing.T) {
	current := storetest.Empty(t, store.WithMigrations(notes(first, second)))
	if _, err := current.Migrate(t.Context()); err != nil {
		t.Fatal(err)
	}
	old := storetest.Empty(t, store.WithMigrations(notes(first)))
	_, err := old.Restore(t.Context(), bytes.NewReader(backup(t, current)), nil)
	if !fault.Is(err, fault.Invalid) || !strings.Contains(fault.Of(err).Msg, second) {
		t.Errorf("got %v, want a refusal that names %s", err, second)
	}
	untouched(t, old)
}

func TestRestoreRefusesADamagedFile(t *testing.T) {
	db := notesDB(t)
	exec(t, db, `INSERT INTO note (id, body) SELECT n, md5(n::text) FROM generate_series(1, 200) AS n`)
	whole := backup(t, db)
	back := storetest.Empty(t, store.WithMigrations(notes(first)))
	refused := func(what string, file []byte) {
		t.Helper()
		_, err := back.Restore(t.Context(), bytes.NewReader(file), nil)
		if err == nil || fault.Of(err).Code != store.CodeDamaged {
			t.Fatalf("%s: got %v, want %s", what, err, store.CodeDamaged)
		}
	}
	refused("empty", nil)
	refused("no backup at all", []byte("-- a dump of something else\n"))
	for cut := 1; cut < len(whole); cut += len(whole)/40 + 1 {
		refused(fmt.Sprintf("cut at %d of %d", cut, len(whole)), whole[:cut])
	}
	refused("last byte missing", whole[:len(whole)-1])
	for at := 10; at < len(whole); at += len(whole)/60 + 1 { // bytes 4 to 9 are the packer's remarks
		bad := bytes.Clone(whole)
		bad[at] ^= 0x10
		refused(fmt.Sprintf("byte %d of %d turned", at, len(whole)), bad)
	}
	// Packed again, so that only our own sums can tell.
	refused("one letter of a row altered", repack(t, whole, func(tar []byte) {
		at := bytes.Index(tar, []byte("1\tc4ca4238a0b923820dcc509a6f75849b"))
		if at < 0 {
			t.Fatal("the row is not where it was thought to be")
		}
		tar[at+2] = 'd'
	}))
	untouched(t, back)
	if _, err := back.Restore(t.Context(), bytes.NewReader(whole), nil); err != nil {
		t.Errorf("the whole file: %v", err)
	}
}

func repack(t *testing.T, file []byte, alter func(tar []byte)) []byte {
	t.Helper()
	r, err := gzip.NewReader(bytes.NewReader(file))
	if err != nil {
		t.Fatal(err)
	}
	plain, err := io.ReadAll(r)
	if err != nil {
		t.Fatal(err)
	}
	alter(plain)
	var out bytes.Buffer
	w := gzip.NewWriter(&out)
	if _, err := w.Write(plain); err != nil {
		t.Fatal(err)
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

func TestRestoreRefusesADatabaseWithSomethingInIt(t *testing.T) {
	db := notesDB(t)
	exec(t, db, `INSERT INTO note (id, body) VALUES (1, 'mine')`)
	_, err := db.Restore(t.Context(), bytes.NewReader(backup(t, db)), nil)
	if err == nil || fault.Of(err).Code != store.CodeNotEmpty {
		t.Errorf("got %v, want %s", err, store.CodeNotEmpty)
	}
	if n := count(t, db); n != 1 {
		t.Errorf("%d rows, want 1", n)
	}
}

func TestRestoreThatFailsLeavesTheDatabaseEmpty(t *testing.T) {
	file := backup(t, notesDB(t))
	back := storetest.Empty(t, store.WithMigrations(notes(first)))
	ctx, cancel := context.WithCancel(t.Context())
	_, err := back.Restore(ctx, bytes.NewReader(file), func(line string) {
		if strings.HasPrefix(line, "note") {
			cancel()
		}
	})
	if !errors.Is(err, context.Canceled) {
		t.Fatalf("got %v, want the cancellation", err)
	}
	untouched(t, back)
}

func TestRestoreThatWasKilledIsRunAgain(t *testing.T) {
	db := notesDB(t)
	exec(t, db, `INSERT INTO note (id, body) VALUES (1, 'kept')`)
	file := backup(t, db)
	// As a kill between the migrations and the rows leaves it.
	back := notesDB(t)
	exec(t, back, `CREATE TABLE restore_unfinished (since timestamptz NOT NULL DEFAULT now())`)
	if err := back.CheckSchema(t.Context()); err == nil || fault.Of(err).Code != store.CodeUnfinished {
		t.Errorf("got %v, want %s", err, store.CodeUnfinished)
	}
	if _, err := back.Migrate(t.Context()); err == nil || fault.Of(err).Code != store.CodeUnfinished {
		t.Errorf("a half-restored database was migrated: %v", err)
	}
	if _, err := back.Restore(t.Context(), bytes.NewReader(file), nil); err != nil {
		t.Fatal(err)
	}
	if n := count(t, back); n != 1 {
		t.Errorf("%d rows, want 1", n)
	}
	if err := back.CheckSchema(t.Context()); err != nil {
		t.Error(err)
	}
}

func TestBackupIsOfOneMoment(t *testing.T) {
	two := fstest.MapFS{"20260101000000_two.sql": {Data: []byte("-- +goose Up\nCREATE TABLE a (n int);\nCREATE TABLE b (n int);\n")}}
	db := storetest.Empty(t, store.WithMigrations(two))
	if _, err := db.Migrate(t.Context()); err != nil {
		t.Fatal(err)
	}
	m, err := db.Backup(t.Context(), &bytes.Buffer{}, func(line string) {
		if strings.HasPrefix(line, "a:") { // b is still to come
			exec(t, db, `INSERT INTO a VALUES (1)`)
			exec(t, db, `INSERT INTO b VALUES (1)`)
		}
	})
	if err != nil {
		t.Fatal(err)
	}
	if m.Rows() != 0 {
		t.Errorf("the backup has %d rows of a later moment", m.Rows())
	}
}

func TestMigrateAfterBackup(t *testing.T) {
	url, dir := storetest.EmptyURL(t), filepath.Join(t.TempDir(), "backups")
	old := storetest.Open(t, url, store.WithMigrations(notes(first)))
	if kept, applied, err := old.MigrateAfterBackup(t.Context(), dir, nil); err != nil || kept != "" || len(applied) != 1 {
		t.Fatalf("an empty database: backup %q, applied %v, %v", kept, applied, err)
	}
	exec(t, old, `INSERT INTO note (id, body) VALUES (1, 'kept')`)
	current := storetest.Open(t, url, store.WithMigrations(notes(first, second)))
	kept, applied, err := current.MigrateAfterBackup(t.Context(), dir, nil)
	if err != nil || len(applied) != 1 {
		t.Fatalf("applied %v, %v", applied, err)
	}
	// The way back: the older program restores what was kept.
	back := storetest.Empty(t, store.WithMigrations(notes(first)))
	if _, err := back.RestoreFile(t.Context(), kept, nil); err != nil {
		t.Fatal(err)
	}
	if n := count(t, back); n != 1 {
		t.Errorf("%d rows, want 1", n)
	}
	if again, _, err := current.MigrateAfterBackup(t.Context(), dir, nil); err != nil || again != "" {
		t.Errorf("nothing to do, and a backup %q, %v", again, err)
	}
}
