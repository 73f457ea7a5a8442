package store

import (
	"time"

	"github.com/jackc/pgx/v5/pgtype"

	q "scaperound/domain/quantity"
)

// A column that may be null is an Opt in the domain: null is "not known".

type (
	optFloat[T ~float64]                      struct{ to *q.Opt[T] }
	optInt[T ~int | ~int16 | ~int32 | ~int64] struct{ to *q.Opt[T] }
	optDay                                    struct{ to *q.Opt[q.Date] }
	optTime                                   struct{ to *q.Opt[time.Time] }
	optBool                                   struct{ to *q.Opt[bool] }
	dayInto                                   struct{ to *q.Date }
	textOrEmpty                               struct{ to *string }
)

// maybe scans a number that may be null.
func maybe[T ~float64](to *q.Opt[T]) *optFloat[T] { return &optFloat[T]{to} }

// maybeInt scans a whole number that may be null.
func maybeInt[T ~int | ~int16 | ~int32 | ~int64](to *q.Opt[T]) *optInt[T] { return &optInt[T]{to} }

// maybeDay scans a date that may be null.
func maybeDay(to *q.Opt[q.Date]) *optDay { return &optDay{to} }

// maybeTime scans an instant that may be null.
func maybeTime(to *q.Opt[time.Time]) *optTime { return &optTime{to} }

// maybeBool scans a yes or no that may be null.
func maybeBool(to *q.Opt[bool]) *optBool { return &optBool{to} }

// day scans a date that is never null.
func day(to *q.Date) *dayInto { return &dayInto{to} }

// textOr scans a text or key that may be null as an empty string.
func textOr(to *string) *textOrEmpty { return &textOrEmpty{to} }

func (o *optFloat[T]) ScanFloat64(v pgtype.Float8) error {
	*o.to = q.Opt[T]{V: T(v.Float64), OK: v.Valid}
	return nil
}

func (o *optInt[T]) ScanInt64(v pgtype.Int8) error {
	*o.to = q.Opt[T]{V: T(v.Int64), OK: v.Valid}
	return nil
}

func (o *optDay) ScanDate(v pgtype.Date) error {
	*o.to = q.Opt[q.Date]{OK: v.Valid}
	if v.Valid {
		o.to.V = q.DateOf(v.Time)
	}
	return nil
}

func (o *optTime) ScanTimestamptz(v pgtype.Timestamptz) error {
	*o.to = q.Opt[time.Time]{OK: v.Valid}
	if v.Valid {
		o.to.V = v.Time.UTC()
	}
	return nil
}

func (o *optBool) ScanBool(v pgtype.Bool) error {
	*o.to = q.Opt[bool]{V: v.Bool, OK: v.Valid}
	return nil
}

func (d *dayInto) ScanDate(v pgtype.Date) error {
	*d.to = q.DateOf(v.Time)
	return nil
}

func (t *textOrEmpty) ScanText(v pgtype.Text) error {
	*t.to = v.String
	return nil
}

// null is the argument of a column that may be null.
func null[T any](o q.Opt[T]) any {
	if !o.OK {
		return nil
	}
	if d, isDay := any(o.V).(q.Date); isDay {
		return d.Midnight()
	}
	return o.V
}

// nullText is the argument of a key or text column in which empty is null.
func nullText(s string) any {
	if s == "" {
		return nil
	}
	return s
}
