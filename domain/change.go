package domain

// Actor is who changes something: a name for the log, and the time on their device where one was sent.
type Actor struct {
	Name       string
	DeviceTime string // RFC 3339, "" when none was sent
}

// ChangeKind says what sort of entry a change makes in the log.
type ChangeKind string

// The kinds of change. Appending never conflicts with another append; amending and striking check the version
// of the record they touch.
const (
	Append ChangeKind = "append"
	Amend  ChangeKind = "amend"
	Strike ChangeKind = "strike"
)

// Change is what a pure function answers when asked to change a register: the records to add, those to put in
// place of older ones (each carries the version it was read at), a sentence for the log, and the advice that
// was given. Storing it is one transaction with the log entry, or nothing.
type Change struct {
	Kind   ChangeKind `json:"kind"`
	What   string     `json:"what"` // "stud wall W1: 33 elements, 614 screws"
	Add    Records    `json:"add,omitzero"`
	Put    Records    `json:"put,omitzero"`      // amended or struck records, whole
	Was    Records    `json:"was,omitzero"`      // the first form of those put for the first time, filled in as it is stored
	FitOut *FitOut    `json:"fit_out,omitempty"` // the amended terms of the fit-out itself, whole
	Advice []Advice   `json:"advice,omitempty"`
}

// Severity orders advice.
type Severity string

// The severities.
const (
	Note    Severity = "note"
	Warning Severity = "warning"
	Stop    Severity = "stop" // refused unless a reason is given
)

// Advice is what a good foreman would say at the moment of logging: what makes the strip-out harder, and the mend.
type Advice struct {
	Kind     string   `json:"kind"` // "destructive-fixing", "never-surface", "over-agreed", ...
	Severity Severity `json:"severity"`
	Codes    []string `json:"codes,omitempty"`
	Text     string   `json:"text"` // what is wrong
	Mend     string   `json:"mend,omitempty"`
}
