package store

import (
	"archive/tar"
	"bufio"
	"compress/gzip"
	"context"
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/jackc/pgx/v5"
)

// foreignKey is one that is taken away while rows come in any order.
type foreignKey struct{ table, name, definition string }

// loosen empties the tables of what migrations wrote, and takes away what would
// object to rows that come back as they were: tables refer to each other in
// circles, and triggers refuse or add rows.
func loosen(ctx context.Context, tx Tx, tables []TableCopy) ([]foreignKey, error) {
	rows, err := tx.Query(ctx, `
		SELECT conrelid::regclass::text, conname, pg_get_constraintdef(oid) FROM pg_constraint
		WHERE contype = 'f' AND connamespace = 'public'::regnamespace AND conparentid = 0 ORDER BY 1, 2`)
	if err != nil {
		return nil, err
	}
	keys, err := pgx.CollectRows(rows, func(row pgx.CollectableRow) (k foreignKey, err error) {
		return k, row.Scan(&k.table, &k.name, &k.definition)
	})
	if err != nil {
		return nil, err
	}
	for _, k := range keys {
		if _, err := tx.Exec(ctx, `ALTER TABLE `+k.table+` DROP CONSTRAINT `+pgx.Identifier{k.name}.Sanitize()); err != nil {
			return nil, err
		}
	}
	var all []string
	for _, t := range tables {
		all = append(all, t.ident())
		if _, err := tx.Exec(ctx, `ALTER TABLE `+t.ident()+` DISABLE TRIGGER USER`); err != nil {
			return nil, err
		}
	}
	if len(all) > 0 {
		_, err = tx.Exec(ctx, `TRUNCATE `+strings.Join(all, ", "))
	}
	return keys, err
}

// tighten puts back what loosen took away; each key is checked again.
func tighten(ctx context.Context, tx Tx, tables []TableCopy, keys []foreignKey) error {
	for _, t := range tables {
		if _, err := tx.Exec(ctx, `ALTER TABLE `+t.ident()+` ENABLE TRIGGER USER`); err != nil {
			return err
		}
	}
	for _, k := range keys {
		if _, err := tx.Exec(ctx, `ALTER TABLE `+k.table+` ADD CONSTRAINT `+pgx.Identifier{k.name}.Sanitize()+` `+k.definition); err != nil {
			return err
		}
	}
	return nil
}

// copyIn reads the tables' rows into the database and counts them.
func copyIn(ctx context.Context, tx Tx, r io.Reader, m Manifest, progress Progress) error {
	packed, err := gzip.NewReader(bufio.NewReaderSize(r, 1<<16))
	if err != nil {
		return damaged(err, "it changed while it was read")
	}
	in := &tableReader{tar: tar.NewReader(packed)}
	for _, t := range m.Tables {
		in.table = t.Name
		tag, err := tx.tx.Conn().PgConn().CopyFrom(ctx, in, t.copySQL("FROM STDIN"))
		if err != nil {
			return fmt.Errorf("table %s: %w", t.Name, err)
		}
		if tag.RowsAffected() != t.Rows {
			return damaged(nil, fmt.Sprintf("the table %s gave %d rows and should have %d", t.Name, tag.RowsAffected(), t.Rows))
		}
		progress.say("%s: %d rows", t.Name, t.Rows)
	}
	return nil
}

// tableReader reads the parts of one table after the other, and stands before
// the first entry that belongs to another.
type tableReader struct {
	tar   *tar.Reader
	table string
	next  *tar.Header // read and not used yet
	open  bool        // within an entry of the table
}

func (r *tableReader) Read(p []byte) (int, error) {
	for {
		if r.open {
			n, err := r.tar.Read(p)
			if errors.Is(err, io.EOF) {
				r.open = false
				err = nil
			}
			if n > 0 || err != nil {
				return n, err
			}
			continue
		}
		if r.next == nil {
			h, err := r.tar.Next()
			if err != nil {
				return 0, err
			}
			r.next = h
		}
		table, isTable := tableOf(r.next.Name)
		switch {
		case !isTable && r.next.Name != manifestName: // README.txt
			r.next = nil
		case isTable && table == r.table:
			r.next, r.open = nil, true
		default:
			return 0, io.EOF
		}
	}
}
