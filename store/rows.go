package store

import (
	"context"
	"strconv"
	"strings"

	"github.com/jackc/pgx/v5"
)

// rowBuffer collects the rows of one or many records, table by table, and
// writes them in as few round trips as there can be.
type rowBuffer struct {
	rows map[string][][]any
	n    int
}

// bufferOrder is the order of writing: a table stands behind those it refers to.
var bufferOrder = []string{"stop", "stop_staff", "visit", "visit_revision", "reading", "ppfd_point", "bucket_run", "observation", "since_last", "work",
	"between_visits", "leave_check", "movement", "gear_event", "evaluation", "finding", "sheet_hold", "task_answer"}

// copyFrom is the number of rows from which COPY beats a batch of INSERTs.
const copyFrom = 400

func (b *rowBuffer) add(table string, values ...any) {
	if b.rows == nil {
		b.rows = map[string][][]any{}
	}
	b.rows[table] = append(b.rows[table], values)
	b.n++
}

// flush writes everything and empties the buffer.
func (b *rowBuffer) flush(ctx context.Context, tx Tx) error {
	defer func() { *b = rowBuffer{} }()
	if b.n >= copyFrom {
		for _, table := range bufferOrder {
			if len(b.rows[table]) == 0 {
				continue
			}
			if _, err := tx.CopyFrom(ctx, pgx.Identifier{table}, bufferColumns[table], pgx.CopyFromRows(b.rows[table])); err != nil {
				return err
			}
		}
		return nil
	}
	batch := &pgx.Batch{}
	for _, table := range bufferOrder {
		for _, row := range b.rows[table] {
			batch.Queue(insertInto(table), row...)
		}
	}
	return tx.SendBatch(ctx, batch).Close()
}

// insertInto is the statement for one row of a table of bufferColumns.
func insertInto(table string) string { return insertStatements[table] }

var insertStatements = func() map[string]string {
	all := make(map[string]string, len(bufferColumns))
	for table, columns := range bufferColumns {
		marks := make([]string, len(columns))
		for i := range columns {
			marks[i] = "$" + strconv.Itoa(i+1)
		}
		all[table] = "INSERT INTO " + table + " (" + strings.Join(columns, ", ") + ") VALUES (" + strings.Join(marks, ", ") + ")"
	}
	return all
}()
