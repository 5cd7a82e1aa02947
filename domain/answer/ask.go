package answer

import (
	"fmt"

	"unpick/domain"
)

// Ask is an answer that says two things at once, most of all "agreed" beside another figure: what it is taken as, and that
// somebody has to ask which is meant. Nothing of that kind is ever taken as agreement.
type Ask struct {
	At   string `json:"at,omitempty"` // the cell that it stands in; "" where it came in no workbook
	Item int    `json:"item"`
	Says string `json:"says"`
}

// Asks is what has to be asked about a statement before it is said to the item, "" for nothing.
func (p *Position) Asks(party Party, s Statement, currency string) string {
	if s.FigureMinor == nil {
		return ""
	}
	mine := domain.FormatMoney(*s.FigureMinor, currency)
	if p.Settled() && *s.FigureMinor != p.AgreedMinor && s.Verdict != Dispute {
		return fmt.Sprintf("the item was agreed at %s, and the %s’s figure is %s now: taken as a dispute. Ask the %s which is meant", domain.FormatMoney(p.AgreedMinor, currency), party, mine, party)
	}
	if s.Verdict != Agree {
		return ""
	}
	theirs, known := p.Figure(party.Other())
	switch {
	case !known:
		return fmt.Sprintf("it says agreed, and the %s has given no figure: taken as an offer of %s, not as agreement. Ask the %s which is meant", party.Other(), mine, party)
	case *s.FigureMinor != theirs:
		return fmt.Sprintf("it says agreed, with %s beside the %s’s %s: taken as an offer of %s, not as agreement. Ask the %s which is meant", mine, party.Other(), domain.FormatMoney(theirs, currency), mine, party)
	}
	return ""
}

// Means says in words what a statement comes to where it is said to the item.
func (p *Position) Means(party Party, s Statement, currency string) string {
	after := *p
	if err := after.Say(party, s); err != nil {
		return err.Error()
	}
	theirs, known := p.Figure(party.Other())
	against := "; the " + string(party.Other()) + " has given no figure"
	if known {
		against = "; the " + string(party.Other()) + " stands at " + domain.FormatMoney(theirs, currency)
	}
	switch {
	case after.State == Done:
		return "done, at " + domain.FormatMoney(after.AgreedMinor, currency)
	case after.State == Agreed && p.State != Agreed:
		return "agrees at " + domain.FormatMoney(after.AgreedMinor, currency)
	case s.FigureMinor != nil && after.State == Disputed && (s.Verdict == Dispute || p.Settled()):
		return "disputes, with " + domain.FormatMoney(*s.FigureMinor, currency) + against
	case s.Verdict == Dispute:
		return "disputes" + against
	case s.FigureMinor != nil && known && *s.FigureMinor == theirs:
		return "the same figure as the " + string(party.Other()) + "’s, without the word agreed"
	case s.FigureMinor != nil:
		return "offers " + domain.FormatMoney(*s.FigureMinor, currency) + against
	}
	return "remarks only"
}

// AsksOf are the asks of statements before they are said.
func AsksOf(positions []Position, party Party, all []Statement, currency string) []Ask {
	at := byNumber(positions)
	out := []Ask{}
	for _, s := range all {
		if n, ok := at[s.Item]; ok {
			if says := positions[n].Asks(party, s, currency); says != "" {
				out = append(out, Ask{Item: s.Item, Says: says})
			}
		}
	}
	return out
}
