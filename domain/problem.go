package domain

import (
	"errors"
	"fmt"
	"strings"
)

// Code says what kind of thing a person is told. Everything without a code is for the log, not for people.
type Code string

// The codes. The API turns each into one status; the commands into one exit status.
const (
	Invalid   Code = "invalid"   // a value breaks a rule; Field says which
	NotFound  Code = "not-found" // no such record
	Exists    Code = "exists"    // the code is taken
	Stale     Code = "stale"     // somebody changed the record since it was read
	Refused   Code = "refused"   // valid, but a rule of the trade or the register forbids it
	Cycle     Code = "cycle"     // the register says that two pieces each wait for the other
	TooLarge  Code = "too-large" // more than the program takes
	Unclean   Code = "unclean"   // a plan that does not replay clean: never issued
	Unmatched Code = "unmatched" // the same key came with another body
)

// Error is something a person may be told: one sentence with the mend in it, and the place.
type Error struct {
	Code  Code
	Field string // JSON pointer to the place, "" when it is the whole: "/assemblies/3/recipe/height_mm"
	Text  string
}

func (e *Error) Error() string {
	if e.Field == "" {
		return e.Text
	}
	return e.Field + ": " + e.Text
}

// Errorf is an error that a person may be told.
func Errorf(code Code, format string, args ...any) error {
	return &Error{Code: code, Text: fmt.Sprintf(format, args...)}
}

// FieldErrorf is an error about one place, given as a JSON pointer.
func FieldErrorf(code Code, field, format string, args ...any) error {
	return &Error{Code: code, Field: field, Text: fmt.Sprintf(format, args...)}
}

// CodeOf is the code of the first coded error in err, or "" for one that is only for the log.
func CodeOf(err error) Code {
	if e, ok := errors.AsType[*Error](err); ok {
		return e.Code
	}
	return ""
}

// Errors is every fault found at once, so that a person mends a file in one go.
type Errors []*Error

func (es Errors) Error() string {
	lines := make([]string, len(es))
	for i, e := range es {
		lines[i] = e.Error()
	}
	return strings.Join(lines, "\n")
}

// Unwrap lets errors.Is, errors.As and CodeOf see every fault.
func (es Errors) Unwrap() []error {
	out := make([]error, len(es))
	for i, e := range es {
		out[i] = e
	}
	return out
}

// Addf records one more fault at a place.
func (es *Errors) Addf(code Code, field, format string, args ...any) {
	*es = append(*es, &Error{Code: code, Field: field, Text: fmt.Sprintf(format, args...)})
}

// Beyond is es without the faults that old has too: a rule may be younger than a record, and what was wrong before does
// not stop a change that leaves it.
func (es Errors) Beyond(old Errors) Errors {
	had := make(map[string]bool, len(old))
	for _, e := range old {
		had[e.Text] = true
	}
	var out Errors
	for _, e := range es {
		if !had[e.Text] {
			out = append(out, e)
		}
	}
	return out
}

// OrNil is es as an error, nil when nothing was found.
func (es Errors) OrNil() error {
	if len(es) == 0 {
		return nil
	}
	return es
}

// Unplannable reports whether a register has no plan for what is logged in it: a cycle, work that does not replay clean, or
// something left by consent that stands on what comes out. Everything that needs no plan can still be shown, with the reason.
func Unplannable(err error) bool {
	switch CodeOf(err) {
	case Cycle, Unclean, Refused:
		return true
	}
	return false
}
