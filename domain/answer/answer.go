// Package answer is the round trip of an issued schedule: what tenant and landlord say to each item, where each item
// then stands, and what stands between the parties.
//
// The idea: what was said is a list of statements that only grows; where an item stands is worked out from it, issue by
// issue. An item that is in a later issue as it was keeps where it stands; one that changed starts again, with what was
// said before as its history. A figure of the other party is never taken as one's own: it lies beside it until somebody
// agrees to it in words.
//
// Looking for
//
//   - statements and where they lead: this file; through several issues: standing.go
//   - the sums between the parties: summary.go
//   - what says two things at once, and has to be asked about: ask.go
//   - a workbook that came back, held against what was issued: match.go
package answer

import (
	"fmt"
	"strings"
	"unicode"

	"unpick/domain"
	"unpick/domain/issue"
	"unpick/domain/schedule"
)

// Party is a side of the schedule.
type Party string

// The parties.
const (
	Tenant   Party = "tenant"
	Landlord Party = "landlord"
)

// Other is the side across the table.
func (p Party) Other() Party {
	if p == Tenant {
		return Landlord
	}
	return Tenant
}

// State is where an item stands between the parties.
type State = schedule.State

// The states. An item is proposed until the landlord says anything to it, and answered until both stand at one figure or
// one of them disputes it. Done comes after agreed only.
const (
	Proposed       = schedule.Proposed
	Answered State = "answered"
	Agreed   State = "agreed"
	Disputed State = "disputed"
	Done     State = "done"
)

// States are the states in the order in which an item goes through them.
func States() []string {
	return []string{string(Proposed), string(Answered), string(Agreed), string(Disputed), string(Done)}
}

// Verdict is what a party says of an item, apart from remarks and figures; "" says nothing.
type Verdict string

// The verdicts.
const (
	Agree   Verdict = "agreed"
	Dispute Verdict = "disputed"
	IsDone  Verdict = "done"
)

// Statement is what one party says to one item, once. What is not said stays as it was.
type Statement struct {
	Item        int     `json:"item"`
	Verdict     Verdict `json:"verdict,omitempty"`
	FigureMinor *int64  `json:"figure_minor,omitempty"` // the party's own figure for the item
	Remarks     string  `json:"remarks,omitempty"`
	// SeenMinor goes with "agreed": the other party's figure as it was seen. Where it is another by now, nothing is agreed.
	SeenMinor *int64 `json:"agreed_to_minor,omitempty"`
}

// Said is a statement as it was kept.
type Said struct {
	Statement
	Party Party  `json:"party"`
	Issue int    `json:"issue"` // of the document that it was said to
	By    string `json:"by"`
	At    string `json:"at"`    // the server's time, as in the log
	Entry int64  `json:"entry"` // of the log
	From  string `json:"from"`  // "page", "link" or the SHA-256 of the workbook that it came back in
}

// CameBack is what the log keeps of a workbook that came back, whether or not anybody takes what it says.
type CameBack struct {
	Kind     domain.ChangeKind `json:"kind"`
	What     string            `json:"what"`
	Returned Returned          `json:"returned"`
}

// Returned names a workbook that came back, by the SHA-256 of its bytes.
type Returned struct {
	Document string `json:"document"`
	Issue    int    `json:"issue"`
	Party    Party  `json:"party"`
	SHA256   string `json:"sha256"`
	Size     int    `json:"bytes"`
}

const longestRemarks = 4000

// mostMinor keeps sums of many figures within what a computer counts exactly.
const mostMinor = 1_000_000_000_000

// Position is where one item stands.
type Position struct {
	Line     issue.Line `json:"line"`
	State    State      `json:"state"`
	Tenant   Side       `json:"tenant"`
	Landlord Side       `json:"landlord"`
	// AgreedMinor is the figure that both stand at, while the item is agreed or done.
	AgreedMinor int64 `json:"agreed_minor"`
	// Reset is the issue in which the item changed after something had been said to it; 0 where it did not.
	Reset   int    `json:"changed_in_issue,omitempty"`
	History []Said `json:"history,omitempty"` // everything ever said to the item, the oldest first
}

// Side is what a party last said.
type Side struct {
	Remarks     string  `json:"remarks,omitempty"`
	FigureMinor *int64  `json:"figure_minor,omitempty"`
	Verdict     Verdict `json:"verdict,omitempty"`
}

// Of is what a party last said to the item.
func (p *Position) Of(party Party) *Side {
	if party == Tenant {
		return &p.Tenant
	}
	return &p.Landlord
}

// Figure is where a party stands: for the tenant its own last figure, else the amount that was issued; for the landlord
// the last figure given. known is false where there is none.
func (p *Position) Figure(party Party) (minor int64, known bool) {
	if f := p.Of(party).FigureMinor; f != nil {
		return *f, true
	}
	if party == Tenant && (p.Line.RateKnown || p.Line.Free) {
		return p.Line.AmountMinor, true
	}
	return 0, false
}

// Settled reports whether both stand at one figure.
func (p *Position) Settled() bool { return p.State == Agreed || p.State == Done }

// Say adds a statement to an item, or refuses it and changes nothing. Places of faults are "/remarks", "/figure_minor" and
// "/verdict".
func (p *Position) Say(party Party, s Statement) error {
	if err := s.check(); err != nil {
		return err
	}
	if s.Verdict == IsDone && !p.Settled() {
		return domain.FieldErrorf(domain.Refused, "/verdict", "item %d is %s: it is done after it is agreed", s.Item, p.State)
	}
	figure, known := p.Figure(party.Other())
	if s.Verdict == Agree && !known && (s.FigureMinor == nil || party == Tenant) {
		return domain.FieldErrorf(domain.Refused, "/verdict", "item %d has no figure of the %s: there is nothing to agree to yet", s.Item, party.Other())
	}
	if s.Verdict == Agree && s.SeenMinor != nil && known && *s.SeenMinor != figure {
		return domain.FieldErrorf(domain.Refused, "/verdict", "item %d: the %s’s figure was changed since it was read: look at it again, then answer", s.Item, party.Other())
	}
	side := p.Of(party)
	if s.Remarks != "" {
		side.Remarks = s.Remarks
	}
	if s.FigureMinor != nil {
		side.FigureMinor = s.FigureMinor
	}
	side.Verdict = s.Verdict
	p.State = p.next(party, s, figure, known)
	if s.Verdict == Agree && p.State != Agreed {
		side.Verdict = "" // an offer: whoever says agreed to the other's figure later says something new
	}
	switch p.State {
	case Agreed:
		if s.Verdict == Agree {
			p.AgreedMinor = figure
			side.FigureMinor = &figure
		}
	case Done:
	default:
		p.AgreedMinor = 0
	}
	return nil
}

// next is the state after a statement. figure is the other party's.
func (p *Position) next(party Party, s Statement, figure int64, known bool) State {
	offers := s.FigureMinor != nil && (!known || *s.FigureMinor != figure) // another figure than the other party's
	switch {
	case s.Verdict == Dispute, p.Settled() && s.FigureMinor != nil && *s.FigureMinor != p.AgreedMinor:
		return Disputed // the second moves away from what was agreed
	case s.Verdict == IsDone:
		return Done
	case s.Verdict == Agree && !offers:
		return Agreed
	case p.Settled() || p.State == Disputed:
		return p.State
	case party == Landlord:
		return Answered
	}
	return p.State // the tenant's own words change nothing before the landlord's
}

// IsNothing reports whether a statement says nothing.
func (s Statement) IsNothing() bool {
	return s.Verdict == "" && s.FigureMinor == nil && s.Remarks == ""
}

func (s Statement) check() error {
	var faults domain.Errors
	switch s.Verdict {
	case "", Agree, Dispute, IsDone:
	default:
		faults.Addf(domain.Invalid, "/verdict", "%q is no answer: agreed, disputed or done", s.Verdict)
	}
	if s.FigureMinor != nil && (*s.FigureMinor < 0 || *s.FigureMinor > mostMinor) {
		faults.Addf(domain.Invalid, "/figure_minor", "a figure is not negative, and at most %d", int64(mostMinor))
	}
	if len(s.Remarks) > longestRemarks {
		faults.Addf(domain.Invalid, "/remarks", "remarks have at most %d letters", longestRemarks)
	}
	if strings.ContainsFunc(s.Remarks, func(c rune) bool { return unicode.IsControl(c) && c != '\n' && c != '\t' && c != '\r' }) {
		faults.Addf(domain.Invalid, "/remarks", "the remarks hold a character that cannot be kept: type them again without it")
	}
	if s.IsNothing() {
		faults.Addf(domain.Invalid, "", "item %d: nothing is said to it", s.Item)
	}
	return faults.OrNil()
}

// SayAll adds statements of one party to items, all of them or none: positions are changed only where every one is taken.
// Places of faults lead into the list: "/statements/3/verdict".
func SayAll(positions []Position, party Party, all []Statement) error {
	next := clone(positions)
	at := byNumber(next)
	var faults domain.Errors
	seen := map[int]bool{}
	for i, s := range all {
		place := fmt.Sprintf("/statements/%d", i)
		n, ok := at[s.Item]
		switch {
		case !ok:
			faults.Addf(domain.Invalid, place+"/item", "there is no item %d in this issue", s.Item)
			continue
		case seen[s.Item]:
			faults.Addf(domain.Invalid, place+"/item", "item %d comes twice: say it once", s.Item)
			continue
		}
		seen[s.Item] = true
		faults = append(faults, placed(place, next[n].Say(party, s))...)
	}
	if err := faults.OrNil(); err != nil {
		return err
	}
	copy(positions, next)
	return nil
}

func placed(place string, err error) domain.Errors {
	var out domain.Errors
	switch e := err.(type) {
	case domain.Errors:
		for _, f := range e {
			out.Addf(f.Code, place+f.Field, "%s", f.Text)
		}
	case *domain.Error:
		out.Addf(e.Code, place+e.Field, "%s", e.Text)
	}
	return out
}

func byNumber(positions []Position) map[int]int {
	at := make(map[int]int, len(positions))
	for i := range positions {
		at[positions[i].Line.Number] = i
	}
	return at
}

func clone(positions []Position) []Position { return append([]Position(nil), positions...) }
