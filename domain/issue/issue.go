// Package issue keeps what was sent: numbered, dated, unchangeable copies of documents, and what changed from one to
// the next.
//
// The idea: an issue is the bytes that went out, their SHA-256, and the document's content as lines that carry what
// they are about. The hash of the log's head is printed on it, and the log's next entry holds the hash of the bytes:
// whoever holds the paper holds an anchor of the log, and whoever holds the log one of the paper. Items are numbered by
// what they are about (an assembly taken out, one repair in one face of one surface), never by their place in a list: an
// item keeps its number from issue to issue, and the number of one that is gone is not given again.
//
// Looking for
//
//   - an issue, its lines: this file; the lines of each document: lines.go
//   - numbers that last: number.go; what changed since the last issue: compare.go, and why: because.go
//   - what stops an issue: stop.go
package issue

import (
	"slices"
	"strings"
	"unicode"

	"unpick/domain"
)

// Issue is one document as it was sent. Number counts from 1 for each document of a fit-out.
type Issue struct {
	Document  string   `json:"document"` // the document's name: "reinstatement.xlsx"
	Number    int      `json:"number"`
	Title     string   `json:"title"`
	MediaType string   `json:"media_type"`
	SHA256    string   `json:"sha256"` // of its bytes, lower-case hexadecimal
	Size      int      `json:"bytes"`
	Head      string   `json:"log_head"`       // hash of the newest log entry that it covers, printed on it
	HeadEntry int64    `json:"log_head_entry"` // and that entry's number
	Entry     int64    `json:"log_entry"`      // the log entry that says it was issued
	At        string   `json:"issued_at"`      // the server's time, as in the log
	By        string   `json:"issued_by"`
	To        []string `json:"sent_to"`
	Note      string   `json:"note,omitempty"`
	Currency  string   `json:"currency"`
	Scope     string   `json:"scope,omitempty"` // how much of the works it is for, in words; "" is all of them
	Print     *Print   `json:"print,omitempty"` // nil for a document that is not printed apart, and for issues of older programs
	Lines     []Line   `json:"lines,omitempty"`
}

// Print is the same issue to print: written at the same moment with the same number, date and head, and hashed beside it.
type Print struct {
	Document  string `json:"document"` // its name: "reinstatement.pdf"
	MediaType string `json:"media_type"`
	SHA256    string `json:"sha256"` // of its bytes, lower-case hexadecimal
	Size      int    `json:"bytes"`
}

// Day is the date of an issue, ISO 8601.
func (i Issue) Day() string { return i.At[:min(len("2026-03-14"), len(i.At))] }

// Line is one item of an issued document as it went out.
type Line struct {
	Key         string  `json:"key"`            // what it is about, the same in every issue
	Number      int     `json:"item,omitempty"` // 0 where the document names its items by code
	Group       string  `json:"group"`
	Clause      string  `json:"clause,omitempty"`
	Where       string  `json:"where,omitempty"`
	What        string  `json:"what"`
	How         string  `json:"how,omitempty"`
	Evidence    string  `json:"evidence,omitempty"` // where to look it up: not compared
	Quantity    float64 `json:"quantity"`           // to three decimals
	Unit        string  `json:"unit"`
	RateMinor   int64   `json:"rate_minor"`
	RateKnown   bool    `json:"rate_known"`
	AmountMinor int64   `json:"amount_minor"`
	Provisional bool    `json:"provisional,omitempty"`
	Free        bool    `json:"nothing_to_pay,omitempty"` // stays in place: no quantity and no rate
}

// Sent is what a person says when they issue a document.
type Sent struct {
	To   []string // names or firms, at least one
	Note string
}

// Longest things that are kept with an issue, in letters.
const (
	mostRecipients   = 20
	longestRecipient = 200
	longestNote      = 2000
)

// Check tidies who it went to and refuses an issue that went to nobody.
func (s *Sent) Check() error {
	var faults domain.Errors
	var to []string
	for _, name := range s.To {
		name = strings.Join(strings.Fields(name), " ")
		switch {
		case name == "" || slices.Contains(to, name):
			continue
		case len(name) > longestRecipient || strings.ContainsFunc(name, unicode.IsControl):
			faults.Addf(domain.Invalid, "/to", "a name has at most %d letters", longestRecipient)
		}
		to = append(to, name)
	}
	s.To, s.Note = to, strings.TrimSpace(s.Note)
	if len(to) == 0 {
		faults.Addf(domain.Invalid, "/to", "say who it goes to: an issue that went to nobody anchors nothing")
	}
	if len(to) > mostRecipients {
		faults.Addf(domain.Invalid, "/to", "at most %d names", mostRecipients)
	}
	if len(s.Note) > longestNote {
		faults.Addf(domain.Invalid, "/note", "at most %d letters", longestNote)
	}
	return faults.OrNil()
}

// Logged is what the log keeps of an issue: everything but the bytes and the lines, which the hash stands for.
type Logged struct {
	Kind  domain.ChangeKind `json:"kind"`
	What  string            `json:"what"`
	Issue Issue             `json:"issue"`
}
