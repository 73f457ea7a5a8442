// Package fault is the one error type of the house.
//
// A fault carries what a person may read (Msg and Fields) apart from what only
// a log may keep (Err), so that no handler has to guess which is which.
package fault

import (
	"errors"
	"strings"
)

// Kind says what went wrong in a way that every door (page, script, command)
// can turn into its own answer.
type Kind int

const (
	Internal        Kind = iota // our own doing; the person can only try again
	Malformed                   // not even readable as what it claims to be
	Unauthenticated             // nobody is signed in
	Forbidden                   // signed in, but not for this
	NotFound                    // no such thing, or somebody else's
	Conflict                    // true on its own, but something newer is in the way
	TooLarge                    // more than is accepted at once
	Invalid                     // readable, and wrong in the named fields
	Unavailable                 // a service is away for the moment
	TooOften                    // asked too often; later it is answered
)

var kindNames = [...]string{"internal", "malformed", "unauthenticated", "forbidden", "not-found", "conflict", "too-large", "invalid", "unavailable", "too-often"}

func (k Kind) String() string {
	if k < 0 || int(k) >= len(kindNames) {
		return "internal"
	}
	return kindNames[k]
}

// Field is a fault of one field of a form or one path of a document.
type Field struct {
	Name string // the field's name as posted, or a path such as readings.ph_late
	Kind string // one of the FieldKind constants
	Text string // one sentence for the person who typed it
	// Confirm is what a repeated post sends as confirm=NAME=VALUE to say
	// "yes, I mean it"; empty where there is nothing to confirm.
	Confirm string
}

// What can be wrong with a field.
const (
	Missing    = "missing"    // nothing typed where something must be
	NotNumber  = "number"     // not a number
	NotUnit    = "unit"       // a unit that is not known or does not fit
	NotChoice  = "choice"     // not one of the choices
	NotDate    = "date"       // not a date or a time
	Impossible = "impossible" // cannot be true
	Unlikely   = "unlikely"   // asked about once
	Ambiguous  = "ambiguous"  // can be read in two ways; asked about
	TooLong    = "too-long"   // more text than is kept
	Unknown    = "unknown"    // a field or key nobody knows
	Taken      = "taken"      // must be unique and is not
)

// Fields collects every fault of a post, in the order of the form.
type Fields []Field

// Add appends a fault of the named field.
func (fs *Fields) Add(name, kind, format string, args ...any) {
	*fs = append(*fs, Field{Name: name, Kind: kind, Text: sprintf(format, args...)})
}

// On returns the faults of one field.
func (fs Fields) On(name string) Fields {
	var out Fields
	for _, f := range fs {
		if f.Name == name {
			out = append(out, f)
		}
	}
	return out
}

// OnlyQuestions reports whether each of the faults is a question that the
// person can answer with yes (unlikely or ambiguous), and there is at least one.
func (fs Fields) OnlyQuestions() bool {
	for _, f := range fs {
		if f.Kind != Unlikely && f.Kind != Ambiguous {
			return false
		}
	}
	return len(fs) > 0
}

// Err returns the fields as an Invalid error, or nil where there are none.
func (fs Fields) Err() error {
	if len(fs) == 0 {
		return nil
	}
	return &Error{Kind: Invalid, Msg: "Some of what was typed needs another look.", Fields: fs}
}

// Error is what every package returns across its border.
type Error struct {
	Kind   Kind
	Code   string // a stable word for scripts, such as other-content; may be empty
	Msg    string // for the person; one or two sentences
	Fields Fields // for the person, beside the fields
	Err    error  // for the log only
}

func (e *Error) Error() string {
	var b strings.Builder
	b.WriteString(e.Kind.String())
	if e.Msg != "" {
		b.WriteString(": ")
		b.WriteString(e.Msg)
	}
	for _, f := range e.Fields {
		b.WriteString("; ")
		b.WriteString(f.Name)
		b.WriteString(": ")
		b.WriteString(f.Text)
	}
	if e.Err != nil {
		b.WriteString(": ")
		b.WriteString(e.Err.Error())
	}
	return b.String()
}

func (e *Error) Unwrap() error { return e.Err }

// New makes a fault that a person may read.
func New(kind Kind, format string, args ...any) *Error {
	return &Error{Kind: kind, Msg: sprintf(format, args...)}
}

// Wrap keeps err for the log behind a sentence for the person.
func Wrap(kind Kind, err error, format string, args ...any) *Error {
	return &Error{Kind: kind, Msg: sprintf(format, args...), Err: err}
}

// Of returns the fault in err's chain, or an Internal one that wraps err.
// It returns nil for nil.
func Of(err error) *Error {
	if err == nil {
		return nil
	}
	var f *Error
	if errors.As(err, &f) {
		return f
	}
	return &Error{Kind: Internal, Err: err}
}

// Is reports whether err is a fault of the kind.
func Is(err error, kind Kind) bool {
	var f *Error
	return errors.As(err, &f) && f.Kind == kind
}
