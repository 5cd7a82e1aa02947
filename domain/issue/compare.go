package issue

import (
	"fmt"
	"strconv"
	"strings"

	"unpick/domain"
)

// How an item differs from the issue before.
const (
	Added   = "added"
	Gone    = "gone"
	Changed = "changed"
)

// Change is one item that is not as it was.
type Change struct {
	Kind   string        `json:"kind"` // added, gone or changed
	Key    string        `json:"key"`
	Number int           `json:"item,omitempty"`
	What   string        `json:"what"`
	Fields []FieldChange `json:"fields,omitempty"` // of an item that changed
	// DeltaMinor is what it does to the total: 0 where neither has a rate.
	DeltaMinor int64 `json:"delta_minor"`
	// AgreedMinor is the figure that both parties stood at, which the change undoes; nil where nothing was agreed.
	AgreedMinor *int64 `json:"was_agreed_minor,omitempty"`
	// Apart says that the issue is of a part, which words and counts in its own way: in the whole it stands as agreed.
	Apart bool `json:"agreed_in_the_whole,omitempty"`
	// Because is why, where the issues alone do not show it: a condition record that was entered since, work that was signed for.
	Because string `json:"because,omitempty"`
}

// Agreed is one item that both parties stand at one figure for, unchanged since.
type Agreed struct {
	Number      int    `json:"item"`
	What        string `json:"what"`
	AgreedMinor int64  `json:"agreed_minor"`
}

// Notes say in words what the figures of a change do not: what was agreed, and why it changed.
func (c Change) Notes(currency string) string {
	var out []string
	if c.AgreedMinor != nil {
		was := "was agreed at " + domain.FormatMoney(*c.AgreedMinor, currency)
		switch {
		case c.Apart:
			was += ", and stays so in the whole: this issue is of a part"
		case c.Kind != Gone:
			was += ": to be agreed anew"
		}
		out = append(out, was)
	}
	if c.Because != "" {
		out = append(out, c.Because)
	}
	return strings.Join(out, "; ")
}

// Words are an item that stays agreed.
func (a Agreed) Words(currency string) string {
	return "agreed at " + domain.FormatMoney(a.AgreedMinor, currency) + ", and stays so"
}

// FieldChange is one value that is not as it was, in words.
type FieldChange struct {
	Field string `json:"field"`
	Was   string `json:"was"`
	Is    string `json:"is"`
}

// Compare lists what changed from one issue to the next, item by item: in the order of the later, then what is gone in
// the order of the earlier. Where to look something up is not compared. Together the deltas are the later total less the
// earlier one.
func Compare(before, after []Line, currency string) []Change {
	old := make(map[string]*Line, len(before))
	for i := range before {
		old[before[i].Key] = &before[i]
	}
	out := []Change{}
	stays := make(map[string]bool, len(after))
	for i := range after {
		is := &after[i]
		stays[is.Key] = true
		was, ok := old[is.Key]
		if !ok {
			out = append(out, Change{Kind: Added, Key: is.Key, Number: is.Number, What: is.What, DeltaMinor: is.AmountMinor})
			continue
		}
		if fields := Differ(*was, *is, currency); len(fields) > 0 {
			out = append(out, Change{Kind: Changed, Key: is.Key, Number: is.Number, What: is.What, Fields: fields, DeltaMinor: is.AmountMinor - was.AmountMinor})
		}
	}
	for i := range before {
		if was := &before[i]; !stays[was.Key] {
			out = append(out, Change{Kind: Gone, Key: was.Key, Number: was.Number, What: was.What, DeltaMinor: -was.AmountMinor})
		}
	}
	return out
}

// Differ lists the values in which one item differs between two issues; none where it is the same item at the same
// figure.
func Differ(was, is Line, currency string) []FieldChange {
	var out []FieldChange
	for _, f := range []FieldChange{
		{"group", was.Group, is.Group}, {"clause", was.Clause, is.Clause}, {"where", was.Where, is.Where},
		{"what", was.What, is.What}, {"how", was.How, is.How},
		{"quantity", quantity(was), quantity(is)}, {"rate", was.rate(currency), is.rate(currency)},
		{"amount", was.Amount(currency), is.Amount(currency)}, {"provisional", yesNo(was.Provisional), yesNo(is.Provisional)},
	} {
		if f.Was != f.Is {
			out = append(out, f)
		}
	}
	return out
}

const free = "nothing to pay"

func quantity(l Line) string { return strconv.FormatFloat(l.Quantity, 'f', -1, 64) + " " + l.Unit }

func (l Line) rate(currency string) string {
	if l.Free {
		return free
	}
	if !l.RateKnown {
		return "no rate"
	}
	return domain.FormatMoney(l.RateMinor, currency)
}

// Amount is an item's figure in words.
func (l Line) Amount(currency string) string {
	if l.Free {
		return free
	}
	if !l.RateKnown {
		return "no rate"
	}
	return domain.FormatMoney(l.AmountMinor, currency)
}

// Name is what an item is called: its number, or what it is about where it has none.
func (c Change) Name() string {
	if c.Number > 0 {
		return fmt.Sprint(c.Number)
	}
	return c.Key
}

func yesNo(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}
