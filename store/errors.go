package store

import (
	"context"
	"errors"
	"io"
	"net"
	"strings"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"

	"scaperound/domain/fault"
)

// constraintFault says what a broken constraint means to a person.
type constraintFault struct {
	kind  fault.Kind
	code  string // stable word for scripts; may be empty
	msg   string // for the whole answer; may be empty where field is set
	field string // the form's field, where one is to blame
	why   string // the field's fault kind
	text  string // the sentence beside the field
}

// constraints names every constraint that a person can break. The rest are
// broken by our own mistakes only and stay internal.
var constraints = map[string]constraintFault{
	"staff_email_taken": {kind: fault.Invalid, field: "email", why: fault.Taken,
		text: "Somebody signs in with this address already."},
	"site_key_number_taken": {kind: fault.Invalid, field: "number", why: fault.Taken,
		text: "Another key has this number already."},
	"van_name_taken": {kind: fault.Invalid, field: "name", why: fault.Taken,
		text: "Another van has this name already."},
	"profile_name_taken": {kind: fault.Invalid, field: "name", why: fault.Taken,
		text: "Another target profile has this name already."},
	"site_away_order": {kind: fault.Invalid, field: "to", why: fault.Impossible,
		text: "The last day lies before the first."},
	"agreement_once":       sameMoment("the agreement"),
	"tank_setup_once":      sameMoment("the set-up"),
	"profile_version_once": sameMoment("the target profile"),
	"source_version_once":  sameMoment("the source water"),
	"visit_revision_base_taken": {kind: fault.Conflict, code: "edited-meanwhile",
		msg: "Somebody else has amended this visit in the meantime."},
	// The same post twice at the same time: sent again, it finds the first.
	"visit_revision_pkey": {kind: fault.Unavailable, code: "in-progress",
		msg: "This visit is just being stored. Please send it again in a moment."},
	"link_one_per_tank": {kind: fault.Conflict,
		msg: "This tank has a link already; withdraw that one first."},
	"link_one_per_site": {kind: fault.Conflict,
		msg: "This site has a link already; withdraw that one first."},
	"invite_token_taken": {kind: fault.Unavailable,
		msg: "The address could not be made just now. Please try again."},
}

// sameMoment is two people changing one dated record at the same moment.
func sameMoment(what string) constraintFault {
	return constraintFault{kind: fault.Conflict, code: "edited-meanwhile",
		msg: "Somebody else changed " + what + " at the same moment. Please look at theirs first."}
}

// asFault turns any error of the driver into a fault. It is nil for nil, and a
// fault passes through as it is.
func asFault(err error) error {
	if err == nil {
		return nil
	}
	var f *fault.Error
	if errors.As(err, &f) {
		return err
	}
	var pg *pgconn.PgError
	switch {
	case errors.Is(err, pgx.ErrNoRows):
		return fault.Wrap(fault.NotFound, err, "There is no such record.")
	case errors.Is(err, context.Canceled), errors.Is(err, context.DeadlineExceeded):
		return fault.Wrap(fault.Unavailable, err, "This took too long and was stopped; nothing was changed. Please try again.")
	case errors.As(err, &pg):
		return pgFault(pg, err)
	case isConnectionTrouble(err):
		return fault.Wrap(fault.Unavailable, err, "The database does not answer at the moment. Please try again.")
	}
	return &fault.Error{Kind: fault.Internal, Err: err}
}

func pgFault(pg *pgconn.PgError, err error) error {
	if c, known := constraints[pg.ConstraintName]; known && pg.ConstraintName != "" {
		f := &fault.Error{Kind: c.kind, Code: c.code, Msg: c.msg, Err: err}
		if c.field != "" {
			f.Fields = fault.Fields{{Name: c.field, Kind: c.why, Text: c.text}}
		}
		return f
	}
	switch pg.Code {
	case "40001", "40P01", "55P03": // serialization, deadlock, lock timeout
		return fault.Wrap(fault.Unavailable, err, "Somebody else was writing the same record just now. Nothing was changed; please try again.")
	case "57014": // statement cancelled
		return fault.Wrap(fault.Unavailable, err, "This took too long and was stopped; nothing was changed. Please try again.")
	}
	switch {
	case strings.HasPrefix(pg.Code, "08"), // connection
		strings.HasPrefix(pg.Code, "53"),                                         // out of disk, memory or connections
		strings.HasPrefix(pg.Code, "57P"),                                        // shutting down, starting up
		strings.HasPrefix(pg.Code, "28"), pg.Code == "3D000", pg.Code == "25P03": // not let in; no such database; idle too long
		return fault.Wrap(fault.Unavailable, err, "The database does not answer at the moment. Please try again.")
	}
	return &fault.Error{Kind: fault.Internal, Err: err}
}

// isConnectionTrouble reports whether the server could not be reached or went
// away, as opposed to having said no.
func isConnectionTrouble(err error) bool {
	var (
		connect *pgconn.ConnectError
		network net.Error
		op      *net.OpError
	)
	return errors.As(err, &connect) || errors.As(err, &op) || errors.As(err, &network) ||
		errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) || errors.Is(err, net.ErrClosed) ||
		pgconn.SafeToRetry(err) || pgconn.Timeout(err) ||
		// The pool's own word while the server shuts down; it exports no value.
		strings.HasSuffix(err.Error(), "closed pool")
}
