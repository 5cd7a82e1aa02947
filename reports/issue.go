package reports

import (
	"fmt"
	"strings"

	"unpick/domain/issue"
)

const draftWords = "DRAFT, not issued"

// The facts on the cover by which a copy that comes back is known again; reports/returned looks for them.
const (
	FactFitOut   = "Fit-out code"
	FactDocument = "Document"
	FactIssue    = "Issue"
	FactHead     = "Head of the log"
)

// issued says which copy this is: the one issue that it is, with the other party's anchor, or a draft.
func (in Input) issued() []fact {
	is := in.Issue
	if is == nil {
		return []fact{{FactIssue, draftWords + ": made from the register as it stands, without a number. Only an issue can be answered."}}
	}
	out := []fact{{FactFitOut, in.Register.FitOut.Code}, {FactDocument, is.Document}, {FactIssue, fmt.Sprint(is.Number)}, {"Issued on", is.Day()},
		{"Sent to", strings.Join(is.To, "; ")}, {"Note", is.Note}, {FactHead, is.Head},
		{"What the head is", fmt.Sprintf("The SHA-256 hash of entry %d of the register's log, the newest that this issue covers. Every entry holds the hash of the one before: keep this figure, and nobody can alter what was logged up to this issue without it showing. The entry behind it holds the SHA-256 of this file.", is.HeadEntry)}}
	if in.Before > 0 {
		out = append(out, fact{fmt.Sprintf("Since issue %d", in.Before), ChangesInWords(in.Changes)})
	}
	return out
}

// Stamp says which copy a drawing is, in short in its first line.
func Stamp(in Input) string {
	is := in.Issue
	if is == nil {
		return draftWords
	}
	return fmt.Sprintf("Issue %d, %s\nTo %s. Head of the log: entry %d, %s", is.Number, is.Day(), strings.Join(is.To, "; "), is.HeadEntry, is.Head)
}

// ChangesInWords counts changes: "2 added, 1 gone, 3 changed".
func ChangesInWords(changes []issue.Change) string {
	n := map[string]int{}
	for _, c := range changes {
		n[c.Kind]++
	}
	if len(changes) == 0 {
		return "nothing changed"
	}
	return fmt.Sprintf("%d added, %d gone, %d changed: listed under Changes", n[issue.Added], n[issue.Gone], n[issue.Changed])
}

// changes lists what changed since the issue before, a row for each value. An item keeps its number from issue to issue,
// and the number of one that is gone is not given again.
func (b *book) changes() {
	if b.in.Issue == nil || b.in.Before == 0 || b.err != nil {
		return
	}
	currency := b.in.Register.FitOut.Currency
	rows := 0
	for _, c := range b.in.Changes {
		rows += max(len(c.Fields), 1)
	}
	t := b.newTable("Changes", []column{{"Item", 16, plain}, {"What happened", 12, strong}, {"Item in words", 44, plain}, {"Value", 13, plain}, {"Was", 34, plain}, {"Is", 34, plain},
		{"Change of the total (" + currency + ")", 16, money}}, a4, rows)
	total := int64(0)
	for _, c := range b.in.Changes {
		fields := c.Fields
		if len(fields) == 0 {
			fields = []issue.FieldChange{{}}
		}
		for i, f := range fields {
			delta := any(nil)
			if i == 0 {
				delta = b.major(c.DeltaMinor)
			}
			t.add(c.Name(), c.Kind, c.What, f.Field, f.Was, f.Is, delta)
		}
		total += c.DeltaMinor
	}
	t.total("All", "A", sum{"G", b.major(total), ""})
	t.end()
}

// said is what a party last said to an item, as its two cells hold it.
func (b *book) said(remarks string, figureMinor *int64) (words, figure any) {
	if figureMinor == nil {
		return remarks, nil
	}
	return remarks, b.major(*figureMinor)
}
