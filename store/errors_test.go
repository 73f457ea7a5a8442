package store

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"slices"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"

	"scaperound/domain/fault"
)

func TestAsFaultKinds(t *testing.T) {
	own := fault.New(fault.Forbidden, "no")
	pg := func(code, constraint string) error {
		return fmt.Errorf("insert: %w", &pgconn.PgError{Code: code, ConstraintName: constraint, Message: "m"})
	}
	for name, c := range map[string]struct {
		err  error
		want fault.Kind
	}{
		"a fault passes":          {fmt.Errorf("x: %w", own), fault.Forbidden},
		"no rows":                 {pgx.ErrNoRows, fault.NotFound},
		"cancelled":               {context.Canceled, fault.Unavailable},
		"deadline":                {context.DeadlineExceeded, fault.Unavailable},
		"known constraint":        {pg("23505", "staff_email_taken"), fault.Invalid},
		"known conflict":          {pg("23505", "visit_revision_base_taken"), fault.Conflict},
		"unknown constraint":      {pg("23505", "nobody_knows"), fault.Internal},
		"constraint without name": {pg("23502", ""), fault.Internal},
		"broken SQL":              {pg("42601", ""), fault.Internal},
		"serialization":           {pg("40001", ""), fault.Unavailable},
		"deadlock":                {pg("40P01", ""), fault.Unavailable},
		"lock timeout":            {pg("55P03", ""), fault.Unavailable},
		"too many connections":    {pg("53300", ""), fault.Unavailable},
		"disk full":               {pg("53100", ""), fault.Unavailable},
		"shutting down":           {pg("57P01", ""), fault.Unavailable},
		"starting up":             {pg("57P03", ""), fault.Unavailable},
		"connection lost":         {pg("08006", ""), fault.Unavailable},
		"password refused":        {pg("28P01", ""), fault.Unavailable},
		"the server hung up":      {fmt.Errorf("read: %w", io.ErrUnexpectedEOF), fault.Unavailable},
		"nothing listens":         {&net.OpError{Op: "dial", Err: errors.New("refused")}, fault.Unavailable},
		"something else of ours":  {errors.New("nil map"), fault.Internal},
	} {
		got := asFault(c.err)
		if fault.Of(got).Kind != c.want {
			t.Errorf("%s: %v, want %v", name, fault.Of(got).Kind, c.want)
		}
		if !errors.Is(got, c.err) && !errors.Is(got, own) {
			t.Errorf("%s: the cause is lost to the log", name)
		}
	}
	if asFault(nil) != nil {
		t.Error("nil became a fault")
	}
}

func TestConstraintFaultsHaveWords(t *testing.T) {
	for name, c := range constraints {
		if c.msg == "" && (c.field == "" || c.text == "") {
			t.Errorf("%s says nothing to the person", name)
		}
	}
}

// KnownConstraints is for the test that compares them with the schema.
func KnownConstraints() []string {
	var names []string
	for name := range constraints {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}
