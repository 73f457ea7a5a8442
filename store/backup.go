package store

import (
	"archive/tar"
	"bytes"
	"compress/gzip"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"hash"
	"io"
	"os"
	"path/filepath"
	"slices"
	"time"

	"github.com/jackc/pgx/v5"
)

// leftOut are the tables that no backup holds, and why.
var leftOut = map[string]string{
	versionTable:    "its numbers are in the manifest",
	unfinishedTable: "it only marks a restore that was cut short",
	"sessions":      "everybody signs in again after a restore",
}

// Progress hears a line for each step of a backup or a restore; nil is silence.
type Progress func(line string)

func (p Progress) say(format string, args ...any) {
	if p != nil {
		p(fmt.Sprintf(format, args...))
	}
}

// BackupFile writes a backup to a file that only its owner may read. A file of
// that name is refused; one that was cut short is never left under it.
func (db *DB) BackupFile(ctx context.Context, path string, progress Progress) (m Manifest, err error) {
	if _, err := os.Lstat(path); err == nil {
		return m, backupFault("There is a file %s already; choose another name.", path)
	}
	part := path + ".part"
	f, err := os.OpenFile(part, os.O_WRONLY|os.O_CREATE|os.O_TRUNC, 0o600)
	if err != nil {
		return m, backupWrap(err, "The backup file cannot be made.")
	}
	defer os.Remove(part) // gone already where all went well
	to := &fileWriter{f: f}
	m, err = db.Backup(ctx, to, progress)
	if err == nil {
		to.err = f.Sync()
	}
	if to.err = errors.Join(to.err, f.Close()); to.err != nil {
		return m, backupWrap(to.err, "The backup file cannot be written; what there was of it is removed.")
	}
	if err != nil {
		return m, err
	}
	// A link fails where the name was taken meanwhile; a rename would not.
	if err := os.Link(part, path); err != nil {
		if err = os.Rename(part, path); err != nil {
			return m, backupWrap(err, "The backup file cannot be given its name.")
		}
	}
	if dir, err := os.Open(filepath.Dir(path)); err == nil {
		_ = dir.Sync() // some systems cannot
		dir.Close()
	}
	return m, nil
}

// fileWriter remembers what went wrong with the file, as opposed to the database.
type fileWriter struct {
	f   *os.File
	err error
}

func (w *fileWriter) Write(p []byte) (int, error) {
	n, err := w.f.Write(p)
	if err != nil {
		w.err = err
	}
	return n, err
}

// Backup writes every table as of one moment, with the numbers of the
// migrations, row counts and sha256 sums. It works on a database of any age and
// disturbs nobody. Keys and passwords of files are not in it.
func (db *DB) Backup(ctx context.Context, w io.Writer, progress Progress) (m Manifest, err error) {
	err = db.Snapshot(ctx, func(ctx context.Context, tx Tx) error {
		// No migration may alter the tables between the catalogue and the copy.
		if _, err := tx.Exec(ctx, `SELECT pg_advisory_xact_lock_shared($1)`, migrationLock); err != nil {
			return err
		}
		var err error
		m, err = writeBackup(ctx, tx, w, progress)
		return err
	})
	return m, err
}

func writeBackup(ctx context.Context, tx Tx, w io.Writer, progress Progress) (Manifest, error) {
	m := Manifest{Format: backupFormat, MadeAt: tx.Now, LeftOut: leftOut, Keys: "not included"}
	var err error
	if m.Migrations, err = appliedVersions(ctx, tx); err != nil {
		return m, err
	}
	if m.Tables, err = readTables(ctx, tx); err != nil {
		return m, err
	}
	if m.Sequences, err = readSequences(ctx, tx); err != nil {
		return m, err
	}
	packed := gzip.NewWriter(w)
	out := &archive{tar: tar.NewWriter(packed), at: tx.Now}
	if err := out.add("README.txt", []byte(backupReadme)); err != nil {
		return m, err
	}
	for i := range m.Tables {
		t := &m.Tables[i]
		parts := &partWriter{out: out, table: t.Name, sum: sha256.New()}
		tag, err := tx.tx.Conn().PgConn().CopyTo(ctx, parts, t.copySQL("TO STDOUT"))
		if err == nil {
			err = parts.flush()
		}
		if err != nil {
			return m, err
		}
		t.Rows, t.Bytes, t.SHA256 = tag.RowsAffected(), parts.bytes, hex.EncodeToString(parts.sum.Sum(nil))
		progress.say("%s: %d rows", t.Name, t.Rows)
	}
	raw, err := json.MarshalIndent(m, "", "  ")
	if err != nil {
		return m, err
	}
	if err := out.add(manifestName, append(raw, '\n')); err != nil {
		return m, err
	}
	if err := out.add(sumsName, out.sums.Bytes()); err != nil {
		return m, err
	}
	return m, errors.Join(out.tar.Close(), packed.Close())
}

// readTables lists the tables of a backup and their columns. A generated column
// is not copied: the database makes it again.
func readTables(ctx context.Context, q Querier) ([]TableCopy, error) {
	rows, err := q.Query(ctx, `
		SELECT c.relname, array_agg(a.attname::text ORDER BY a.attnum)
		FROM pg_class c JOIN pg_attribute a ON a.attrelid = c.oid
		WHERE c.relnamespace = 'public'::regnamespace AND c.relkind = 'r'
		  AND a.attnum > 0 AND NOT a.attisdropped AND a.attgenerated = ''
		GROUP BY c.relname ORDER BY c.relname`)
	if err != nil {
		return nil, err
	}
	tables, err := pgx.CollectRows(rows, func(row pgx.CollectableRow) (t TableCopy, err error) {
		return t, row.Scan(&t.Name, &t.Columns)
	})
	return slices.DeleteFunc(tables, func(t TableCopy) bool { return leftOut[t.Name] != "" }), err
}

// readSequences reads where the running numbers stand.
func readSequences(ctx context.Context, q Querier) ([]Sequence, error) {
	rows, err := q.Query(ctx, `
		SELECT s.relname, coalesce(t.relname, '')
		FROM pg_class s
		LEFT JOIN pg_depend d ON d.objid = s.oid AND d.classid = 'pg_class'::regclass AND d.deptype IN ('a', 'i')
		LEFT JOIN pg_class t ON t.oid = d.refobjid
		WHERE s.relkind = 'S' AND s.relnamespace = 'public'::regnamespace ORDER BY s.relname`)
	if err != nil {
		return nil, err
	}
	type owned struct{ name, table string }
	all, err := pgx.CollectRows(rows, func(row pgx.CollectableRow) (o owned, err error) {
		return o, row.Scan(&o.name, &o.table)
	})
	if err != nil {
		return nil, err
	}
	var sequences []Sequence
	for _, o := range all {
		if leftOut[o.table] != "" {
			continue
		}
		s := Sequence{Name: o.name}
		if err := q.QueryRow(ctx, `SELECT last_value, is_called FROM `+pgx.Identifier{"public", o.name}.Sanitize()).Scan(&s.Last, &s.Called); err != nil {
			return nil, err
		}
		sequences = append(sequences, s)
	}
	return sequences, nil
}

// archive writes the entries and remembers their sums.
type archive struct {
	tar  *tar.Writer
	at   time.Time
	sums bytes.Buffer // as sha256sum writes and checks them
}

func (a *archive) add(name string, content []byte) error {
	if err := a.tar.WriteHeader(&tar.Header{
		Typeflag: tar.TypeReg, Name: name, Size: int64(len(content)), Mode: 0o600, ModTime: a.at.Truncate(time.Second),
	}); err != nil {
		return err
	}
	if _, err := a.tar.Write(content); err != nil {
		return err
	}
	fmt.Fprintf(&a.sums, "%x  %s\n", sha256.Sum256(content), name)
	return nil
}

// partSize is about how much of a table goes into one entry: an entry's size
// must be known before it is written, and a table may not fit the memory.
const partSize = 1 << 20 // bytes

// partWriter cuts one table's rows into entries. Each Write is a whole row.
type partWriter struct {
	out   *archive
	table string
	sum   hash.Hash
	buf   []byte
	part  int
	bytes int64
}

func (p *partWriter) Write(row []byte) (int, error) {
	p.sum.Write(row)
	p.bytes += int64(len(row))
	p.buf = append(p.buf, row...)
	if len(p.buf) >= partSize {
		return len(row), p.flush()
	}
	return len(row), nil
}

func (p *partWriter) flush() error {
	if len(p.buf) == 0 {
		return nil
	}
	p.part++
	err := p.out.add(fmt.Sprintf("%s%s/%06d.copy", tablesPrefix, p.table, p.part), p.buf)
	p.buf = p.buf[:0]
	return err
}
