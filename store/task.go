package store

import (
	"cmp"
	"context"
	"slices"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"

	"scaperound/domain/care"
	q "scaperound/domain/quantity"
	"scaperound/domain/visit"
	"scaperound/domain/wire"
)

// taskRow is a task with what became of it. Times are those of the visits, not
// of the server: a late visit settles tasks as of when it was performed.
type taskRow struct {
	care.Task
	tank      string
	openedBy  string // evaluation
	openedAt  time.Time
	renewedBy string
	state     string
	closedBy  string // revision
	closedAt  q.Opt[time.Time]
	staff     string
	reason    string
	who       string
	words     string
	skipWhy   string
}

const taskColumns = `id, tank, action, subject, who, due, opened_by, opened_at, renewed_by, document, look_on, state, closed_by, closed_at,
	closed_staff, reason, declined_who, declined_words, skips, skip_reason`

const taskInsert = `INSERT INTO task (` + taskColumns + `)
	VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15, $16, $17, $18, $19, $20)
	ON CONFLICT (id) DO UPDATE SET who = excluded.who, due = excluded.due, renewed_by = excluded.renewed_by, document = excluded.document,
		look_on = excluded.look_on, state = excluded.state, closed_by = excluded.closed_by, closed_at = excluded.closed_at,
		closed_staff = excluded.closed_staff, reason = excluded.reason, declined_who = excluded.declined_who,
		declined_words = excluded.declined_words, skips = excluded.skips, skip_reason = excluded.skip_reason`

func (t *taskRow) values() []any {
	return []any{t.ID, t.tank, t.Action, t.Subject, string(t.Who), string(t.When), nullText(t.openedBy), t.openedAt, nullText(t.renewedBy),
		string(wire.EncodeTask(t.Task)), null(t.LookOn), t.state, nullText(t.closedBy), null(t.closedAt), nullText(t.staff), t.reason, t.who, t.words,
		t.Skips, t.skipWhy}
}

func scanTask(row pgx.CollectableRow) (*taskRow, error) {
	var t taskRow
	var action, subject, who, due, document string
	var lookOn q.Opt[q.Date]
	var skips int
	err := row.Scan(&t.ID, &t.tank, &action, &subject, &who, &due, textOr(&t.openedBy), &t.openedAt, textOr(&t.renewedBy), &document, maybeDay(&lookOn),
		&t.state, textOr(&t.closedBy), maybeTime(&t.closedAt), textOr(&t.staff), &t.reason, &t.who, &t.words, &skips, &t.skipWhy)
	if err != nil {
		return nil, err
	}
	id := t.ID
	if t.Task, err = wire.DecodeTask([]byte(document)); err != nil {
		return nil, err
	}
	t.ID, t.Action, t.Subject, t.LookOn, t.Skips = id, action, subject, lookOn, skips
	return &t, nil
}

// taskBook is a tank's tasks while visits are settled one after the other.
type taskBook struct {
	tank    string
	byID    map[string]*taskRow
	touched []*taskRow
	seen    map[*taskRow]bool
}

func newTaskBook(tank string, rows []*taskRow) *taskBook {
	b := &taskBook{tank: tank, byID: map[string]*taskRow{}, seen: map[*taskRow]bool{}}
	for _, t := range rows {
		b.byID[t.ID] = t
	}
	return b
}

func (b *taskBook) touch(t *taskRow) {
	if !b.seen[t] {
		b.seen[t], b.touched = true, append(b.touched, t)
	}
}

// openBefore lists the tasks that stood open when a visit was performed, in
// the order in which they were opened.
func (b *taskBook) openBefore(at time.Time) []care.Task {
	var open []care.Task
	for _, t := range b.byID {
		if t.openedAt.Before(at) && (!t.closedAt.OK || !t.closedAt.V.Before(at)) {
			open = append(open, t.Task)
		}
	}
	sortTasks(open)
	return open
}

// followedDays is for how long a judgement looks back on what became of tasks.
const followedDays = 120

// closedBefore lists the tasks that were answered before a visit was performed,
// the oldest first.
func (b *taskBook) closedBefore(at time.Time) []care.Closed {
	var closed []care.Closed
	since := at.AddDate(0, 0, -followedDays)
	for _, t := range b.byID {
		if t.closedAt.OK && t.state != "withdrawn" && t.closedAt.V.Before(at) && t.closedAt.V.After(since) {
			closed = append(closed, care.Closed{Task: t.Task, State: t.state, On: q.DateOf(t.closedAt.V), Who: t.who})
		}
	}
	slices.SortFunc(closed, func(x, y care.Closed) int {
		return cmp.Or(cmp.Compare(x.On, y.On), strings.Compare(x.Task.Key(), y.Task.Key()), strings.Compare(x.Task.ID, y.Task.ID))
	})
	return closed
}

// hear takes down what a visit says of the tasks that stood open before it:
// what somebody ticked, and what its work and readings say by themselves. It
// returns the visit as it was heard.
func (b *taskBook) hear(r visit.Record) visit.Record {
	open := b.openBefore(r.Performed)
	r.Tasks = care.Answers(open, &r)
	b.answer(&r)
	return r
}

// openNow lists the tasks that are open after all that was settled.
func (b *taskBook) openNow() []care.Task {
	var open []care.Task
	for _, t := range b.byID {
		if t.state == "open" {
			open = append(open, t.Task)
		}
	}
	sortTasks(open)
	return open
}

// answer closes or counts what the technician said of tasks. A tick is taken
// even where the task was withdrawn meanwhile: it was done, after all.
func (b *taskBook) answer(r *visit.Record) {
	for _, a := range r.Tasks {
		t, ok := b.byID[a.Task]
		if !ok {
			continue
		}
		b.touch(t)
		if a.State == "skipped" {
			t.Skips++
			t.skipWhy = a.Reason
			continue
		}
		t.state, t.closedBy, t.closedAt, t.staff = a.State, r.Revision, q.Some(r.Performed), r.Staff
		t.reason, t.who, t.words = a.Reason, a.Who, a.Words
	}
}

// unanswer takes back what earlier revisions of a visit said, before the newer
// one is heard.
func (b *taskBook) unanswer(old []visit.TaskAnswer, revisions map[string]bool) {
	for _, a := range old {
		t, ok := b.byID[a.Task]
		if !ok {
			continue
		}
		b.touch(t)
		if a.State == "skipped" {
			t.Skips = max(0, t.Skips-1)
		} else if revisions[t.closedBy] && b.open(t.Key()) == nil {
			t.state, t.closedBy, t.closedAt, t.staff, t.reason, t.who, t.words = "open", "", q.Opt[time.Time]{}, "", "", "", ""
		}
	}
}

func (b *taskBook) open(key string) *taskRow {
	for _, t := range b.byID {
		if t.state == "open" && t.Key() == key {
			return t
		}
	}
	return nil
}

// settle brings the open tasks in line with the assessment of the newest visit:
// renewed, changed, opened, or withdrawn where they are no longer called for.
// It fills in the ids of the assessment's tasks.
func (b *taskBook) settle(a *care.Assessment, evaluation string, at time.Time) {
	wanted := map[string]bool{}
	for i := range a.Tasks {
		n := &a.Tasks[i]
		if care.ActionOf(n.Action).Told {
			continue // nothing to be answered for
		}
		wanted[n.Key()] = true
		if t := b.open(n.Key()); t != nil {
			n.ID, n.Opened, n.Skips = t.ID, t.Opened, t.Skips
			t.Task, t.renewedBy = *n, evaluation
			b.touch(t)
			continue
		}
		n.ID = NewID()
		n.Opened = q.Some(a.Day)
		t := &taskRow{Task: *n, tank: b.tank, openedBy: evaluation, openedAt: at, state: "open"}
		b.byID[t.ID] = t
		b.touch(t)
	}
	for _, n := range a.Later {
		wanted[n.Key()] = true
	}
	for _, t := range b.byID {
		// What a person has to answer for stays until they do.
		if t.state == "open" && !wanted[t.Key()] && t.Action != care.PhoneCustomer && t.openedBy != "" {
			t.state, t.closedAt = "withdrawn", q.Some(at)
			b.touch(t)
		}
	}
}

// save writes what was touched. Closed rows go first: an open task is unique
// per action and subject.
func (b *taskBook) save(ctx context.Context, tx Tx) error {
	batch := &pgx.Batch{}
	for _, open := range []bool{false, true} {
		for _, t := range b.touched {
			if (t.state == "open") == open {
				batch.Queue(taskInsert, t.values()...)
			}
		}
	}
	b.touched, b.seen = nil, map[*taskRow]bool{}
	if batch.Len() == 0 {
		return nil
	}
	return tx.SendBatch(ctx, batch).Close()
}

// relearn forgets what earlier revisions of a visit said of the tasks.
func (b *taskBook) relearn(ctx context.Context, tx Tx, visitID string) error {
	rows, err := tx.Query(ctx, `SELECT a.revision, a.task, a.state FROM task_answer a JOIN visit_revision r ON r.id = a.revision
		WHERE r.visit = $1 AND r.id <> (SELECT head FROM visit WHERE id = $1) AND r.no = (SELECT max(no) - 1 FROM visit_revision WHERE visit = $1)`, visitID)
	if err != nil {
		return err
	}
	revisions := map[string]bool{}
	var old []visit.TaskAnswer
	var rev, task, state string
	if _, err := pgx.ForEachRow(rows, []any{&rev, &task, &state}, func() error {
		revisions[rev] = true
		old = append(old, visit.TaskAnswer{Task: task, State: state})
		return nil
	}); err != nil {
		return err
	}
	b.unanswer(old, revisions)
	return nil
}

// saveAnswers writes what a visit's newest revision said of tasks that exist.
func (b *taskBook) saveAnswers(ctx context.Context, tx Tx, r *visit.Record) error {
	batch := &pgx.Batch{}
	for _, a := range r.Tasks {
		if _, ok := b.byID[a.Task]; ok {
			batch.Queue(`INSERT INTO task_answer (revision, task, state, reason, who, words) VALUES ($1, $2, $3, $4, $5, $6) ON CONFLICT DO NOTHING`,
				r.Revision, a.Task, a.State, a.Reason, a.Who, a.Words)
		}
	}
	if batch.Len() == 0 {
		return nil
	}
	return tx.SendBatch(ctx, batch).Close()
}
