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
		out = append(out, fact{fmt.Sprintf("Since issue %d", in.Before), ChangesInWords(in.Changes, in.Still)})
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

// ChangesInWords counts changes: "2 added, 1 gone, 3 changed, of which 1 was agreed; 4 stay agreed".
func ChangesInWords(changes []issue.Change, still []issue.Agreed) string {
	n, agreed := map[string]int{}, 0
	for _, c := range changes {
		n[c.Kind]++
		if c.AgreedMinor != nil && !c.Apart {
			agreed++
		}
	}
	words := "nothing changed"
	if len(changes) > 0 {
		words = fmt.Sprintf("%d added, %d gone, %d changed", n[issue.Added], n[issue.Gone], n[issue.Changed])
	}
	if agreed > 0 {
		words += ", of which " + countOf(agreed, "was agreed", "were agreed")
	}
	if len(still) > 0 {
		words += "; " + countOf(len(still), "stays agreed", "stay agreed")
	}
	if len(changes)+len(still) > 0 {
		words += ": listed under Changes"
	}
	return words
}

// staysAgreed is what is said to have happened to an item that is in an issue as it was agreed.
const staysAgreed = "as agreed"

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
	rows += len(b.in.Still)
	t := b.newTable("Changes", []column{{"Item", 16, plain}, {"What happened", 12, strong}, {"Item in words", 44, plain}, {"Value", 13, plain}, {"Was", 34, plain}, {"Is", 34, plain},
		{"Change of the total (" + currency + ")", 16, money}, {"What was agreed, and why it changed", 44, plain}}, a4, rows)
	total := int64(0)
	for _, c := range b.in.Changes {
		fields := c.Fields
		if len(fields) == 0 {
			fields = []issue.FieldChange{{}}
		}
		for i, f := range fields {
			delta, notes := any(nil), ""
			if i == 0 {
				delta, notes = b.major(c.DeltaMinor), c.Notes(currency)
			}
			t.add(c.Name(), c.Kind, c.What, f.Field, f.Was, f.Is, delta, notes)
		}
		total += c.DeltaMinor
	}
	for _, a := range b.in.Still {
		t.add(fmt.Sprint(a.Number), staysAgreed, a.What, "", "", "", nil, a.Words(currency))
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
