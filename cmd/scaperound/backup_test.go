package main

import (
	"bytes"
	"context"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"scaperound/migrations"
	"scaperound/store"
	"scaperound/store/localpg"
	"scaperound/store/storetest"
)

func TestBackupAndRestore(t *testing.T) {
	from := "DATABASE_URL=" + storetest.EmptyURL(t)
	into := "DATABASE_URL=" + storetest.EmptyURL(t)
	data := "SCAPEROUND_DATA=" + t.TempDir()
	do := func(database, stdin string, args ...string) string {
		t.Helper()
		status, out, errs := said(t, []string{database, data}, stdin, args...)
		if status != statusOK {
			t.Fatalf("%q: exit status %d, said %q", args, status, errs)
		}
		return out
	}
	do(from, "", "migrate")
	do(from, "nine green stones\n", "user", "add", "maren@fernweir.example", "--role", "owner")
	file := filepath.Join(t.TempDir(), "shop.backup")
	do(from, "", "backup", file)
	if info, err := os.Stat(file); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("the backup: %v, %v", info, err)
	}
	do(into, "", "restore", file)
	email := func(database string) string {
		t.Helper()
		db := storetest.Open(t, strings.TrimPrefix(database, "DATABASE_URL="))
		p, _, err := db.PersonByEmail(context.Background(), "maren@fernweir.example")
		if err != nil {
			t.Fatal(err)
		}
		return p.ID
	}
	if email(from) != email(into) {
		t.Error("the owner came back as somebody else")
	}

	// A second time there is something in the way; nothing is harmed.
	if status, _, errs := said(t, []string{into, data}, "", "restore", file); status == statusOK || errs == "" {
		t.Errorf("a restore over a shop: exit status %d, said %q", status, errs)
	}
	if status, _, errs := said(t, []string{from, data}, "", "backup", file); status == statusOK || !strings.Contains(errs, file) {
		t.Errorf("a backup over a file: exit status %d, said %q", status, errs)
	}

	// By standard output and input.
	piped := do(from, "", "backup", "-")
	third := "DATABASE_URL=" + storetest.EmptyURL(t)
	do(third, piped, "restore", "-")
	if email(third) != email(from) {
		t.Error("piped, the owner came back as somebody else")
	}
	// Damaged on the way.
	fourth := "DATABASE_URL=" + storetest.EmptyURL(t)
	if status, _, errs := said(t, []string{fourth, data}, piped[:len(piped)/2], "restore", "-"); status == statusOK || errs == "" {
		t.Errorf("half a backup: exit status %d, said %q", status, errs)
	}
	if status, _, _ := said(t, []string{fourth, data}, "", "restore", filepath.Join(t.TempDir(), "none")); status != statusUsage {
		t.Errorf("no file: exit status %d", status)
	}
}

// Before a private database is migrated, what it held is in a backup.
func TestMigrationOfAPrivateDatabaseIsPrecededByABackup(t *testing.T) {
	needPostgres(t)
	ctx, dir := context.Background(), newFolder(t)
	server, err := localpg.Start(ctx, localpg.Options{Data: dir})
	if err != nil {
		t.Fatal(err)
	}
	defer server.Stop(ctx)
	older := fstest.MapFS{}
	names, err := fs.Glob(migrations.FS, "*.sql")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names[:len(names)-1] {
		text, err := fs.ReadFile(migrations.FS, name)
		if err != nil {
			t.Fatal(err)
		}
		older[name] = &fstest.MapFile{Data: text}
	}
	old, err := store.Open(ctx, server.URL(), store.WithMigrations(older))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := old.Migrate(ctx); err != nil {
		t.Fatal(err)
	}
	old.Close()

	db, err := store.Open(ctx, server.URL())
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	d := &database{DB: db, url: server.URL(), private: server}
	var told bytes.Buffer
	for range 2 { // the second time there is nothing to do
		if err := d.bringUpToDate(ctx, dir, &told); err != nil {
			t.Fatal(err)
		}
	}
	if err := db.CheckSchema(ctx); err != nil {
		t.Error(err)
	}
	backups, err := filepath.Glob(filepath.Join(dir, "backups", "*.backup"))
	if err != nil || len(backups) != 1 || strings.Count(told.String(), backups[0]) != 1 {
		t.Fatalf("backups %v, told %q; %v", backups, told.String(), err)
	}
	copied := storetest.Open(t, storetest.EmptyURL(t))
	if _, err := copied.RestoreFile(ctx, backups[0], nil); err != nil {
		t.Errorf("the backup cannot be restored: %v", err)
	}
}
