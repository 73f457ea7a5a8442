package store

import (
	"archive/tar"
	"bufio"
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"hash"
	"io"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/fault"
)

// A backup is a gzipped tar: README.txt, the tables as text of COPY, cut into
// parts, then the manifest, and last the sums of all entries before, in the
// form that sha256sum -c reads.
const (
	backupFormat = 1
	tablesPrefix = "tables/"
	manifestName = "manifest.json"
	sumsName     = "SHA256SUMS"
)

const backupReadme = `This is a backup of a Scaperound database.

Bring it back with:   scaperound restore FILE   (into an empty database)
Check it by hand:     tar xzf FILE && sha256sum -c SHA256SUMS

The key files of the data folder are NOT in here, so that whoever finds this
file cannot make links. Keep a copy of them in another place: with other keys
the links that customers hold no longer open, and new ones have to be given.

The tables are text as Postgres' COPY writes it, one row a line.
It holds names, addresses and alarm codes: keep it as you keep the keys.
`

// Manifest says what a backup holds.
type Manifest struct {
	Format     int               `json:"format"`
	MadeAt     time.Time         `json:"made_at"`
	Migrations []int64           `json:"migrations"` // applied ones, ascending
	Tables     []TableCopy       `json:"tables"`
	Sequences  []Sequence        `json:"sequences"`
	LeftOut    map[string]string `json:"left_out"` // tables that are not in it, and why
	Keys       string            `json:"keys"`
}

// Rows is how many rows the backup holds in all.
func (m Manifest) Rows() (n int64) {
	for _, t := range m.Tables {
		n += t.Rows
	}
	return n
}

// TableCopy is one table of a backup.
type TableCopy struct {
	Name    string   `json:"name"`
	Columns []string `json:"columns"`
	Rows    int64    `json:"rows"`
	Bytes   int64    `json:"bytes"`
	SHA256  string   `json:"sha256"` // of all its parts in order
}

func (t TableCopy) ident() string { return pgx.Identifier{"public", t.Name}.Sanitize() }

func (t TableCopy) copySQL(direction string) string {
	quoted := make([]string, len(t.Columns))
	for i, c := range t.Columns {
		quoted[i] = pgx.Identifier{c}.Sanitize()
	}
	return fmt.Sprintf("COPY %s (%s) %s", t.ident(), strings.Join(quoted, ", "), direction)
}

// Sequence is where one running number stands.
type Sequence struct {
	Name   string `json:"name"`
	Last   int64  `json:"last"`
	Called bool   `json:"called"` // false: Last is the next one
}

// CodeDamaged is the code of the fault of a backup that cannot be trusted.
const CodeDamaged = "backup-damaged"

func backupFault(format string, args ...any) *fault.Error {
	return fault.New(fault.Invalid, format, args...)
}

func backupWrap(err error, format string, args ...any) *fault.Error {
	return fault.Wrap(fault.Invalid, err, format, args...)
}

func damaged(err error, what string) error {
	f := backupWrap(err, "The backup file is damaged or was cut short (%s). The database was not touched.", what)
	f.Code = CodeDamaged
	return f
}

// CheckBackup reads a whole backup and returns its manifest, or a fault where a
// single byte of it is not as it was written.
func CheckBackup(r io.Reader) (m Manifest, err error) {
	packed, err := gzip.NewReader(bufio.NewReaderSize(r, 1<<16))
	if err != nil {
		return m, damaged(err, "it does not begin like a backup")
	}
	in := tar.NewReader(packed)
	var sums strings.Builder
	tables := map[string]hash.Hash{}
	sizes := map[string]int64{}
	var manifest, listed []byte
	for {
		h, err := in.Next()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return m, damaged(err, "an entry cannot be read")
		}
		if listed != nil {
			return m, damaged(nil, "something follows its end")
		}
		whole := sha256.New()
		to := []io.Writer{whole}
		var keep bytes.Buffer
		table, isTable := tableOf(h.Name)
		switch {
		case isTable:
			if tables[table] == nil {
				tables[table] = sha256.New()
			}
			to = append(to, tables[table])
			sizes[table] += h.Size
		case h.Name == manifestName, h.Name == sumsName:
			to = append(to, &keep)
		}
		if _, err := io.Copy(io.MultiWriter(to...), in); err != nil {
			return m, damaged(err, h.Name+" cannot be read")
		}
		switch h.Name {
		case sumsName:
			listed = keep.Bytes()
			continue
		case manifestName:
			manifest = keep.Bytes()
		}
		fmt.Fprintf(&sums, "%x  %s\n", whole.Sum(nil), h.Name)
	}
	// What follows the tar's end mark is read too: the packer's own check sum
	// comes last.
	if _, err := io.Copy(io.Discard, packed); err != nil {
		return m, damaged(err, "its end cannot be read")
	}
	switch {
	case listed == nil || manifest == nil:
		return m, damaged(nil, "its end is missing")
	case string(listed) != sums.String():
		return m, damaged(nil, "its sums do not agree")
	}
	if err := json.Unmarshal(manifest, &m); err != nil {
		return m, damaged(err, "its manifest cannot be read")
	}
	if m.Format != backupFormat {
		return m, backupFault("The backup is of format %d and this program reads format %d. Use the program that made it, or a newer one. The database was not touched.", m.Format, backupFormat)
	}
	for _, t := range m.Tables {
		sum := tables[t.Name]
		if sum == nil {
			sum = sha256.New()
		}
		if hex.EncodeToString(sum.Sum(nil)) != t.SHA256 || sizes[t.Name] != t.Bytes {
			return m, damaged(nil, "the table "+t.Name+" does not agree with its sum")
		}
		delete(tables, t.Name)
	}
	for name := range tables {
		return m, damaged(nil, "the table "+name+" is not in its manifest")
	}
	return m, nil
}

// tableOf tells which table an entry is a part of.
func tableOf(entry string) (table string, ok bool) {
	rest, ok := strings.CutPrefix(entry, tablesPrefix)
	if !ok {
		return "", false
	}
	table, _, ok = strings.Cut(rest, "/")
	return table, ok
}
