package service

import (
	"context"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"unicode"

	"unpick/db"
	"unpick/domain"
	"unpick/domain/answer"
	"unpick/domain/issue"
	"unpick/domain/plan"
	"unpick/domain/schedule"
	"unpick/reports/returned"
)

// MostReturned is the largest workbook that is read back, in bytes.
const MostReturned = returned.MostBytes

// Where statements come from, apart from workbooks.
const (
	fromPage = "page"
	fromLink = "link"
)

// Standing is what stands between the parties on one issue.
type Standing struct {
	Issue     issue.Issue       `json:"issue"`
	Latest    int               `json:"latest"` // number of the newest issue
	Positions []answer.Position `json:"positions"`
	Summary   answer.Summary    `json:"summary"`
	// AsAgreed is the whole as agreed so far, with contingency and tax as the issue went out with them; nil while nothing is agreed.
	AsAgreed *schedule.AsAgreed `json:"as_agreed,omitempty"`
	// TermsChanged says that contingency, tax or the days are others by now: they count from the next issue on.
	TermsChanged bool          `json:"terms_changed,omitempty"`
	Received     []db.Received `json:"received"`
	// Seen counts everything said to the document: whoever answers what they read names it, see Take.
	Seen int `json:"seen"`
	// Asks is what of an answer just taken says two things at once, and what it was taken as.
	Asks []answer.Ask `json:"to_ask,omitempty"`
}

// talk is a document's issues up to one, and everything said to any of them.
type talk struct {
	issues []issue.Issue // the last is the one asked for
	said   []answer.Said
	latest int
}

// talkOf loads an issue of the reinstatement schedule, or NotFound. Other documents are not answered.
func (s *Service) talkOf(ctx context.Context, f domain.FitOut, document string, number int) (talk, error) {
	if document != issue.Reinstatement {
		return talk{}, domain.Errorf(domain.NotFound, "%s is not answered item by item: the reinstatement schedule is", document)
	}
	all, err := s.db.IssuesOf(ctx, s.firm, f.ID, document)
	if err != nil {
		return talk{}, err
	}
	at := slices.IndexFunc(all, func(i issue.Issue) bool { return i.Number == number })
	if at < 0 {
		return talk{}, domain.Errorf(domain.NotFound, "there is no issue %d of %s", number, document)
	}
	said, err := s.db.Statements(ctx, s.firm, f.ID, document)
	return talk{all[:at+1], said, all[len(all)-1].Number}, err
}

func (t talk) issue() issue.Issue { return t.issues[len(t.issues)-1] }

// Standing is where every item of an issue stands.
func (s *Service) Standing(ctx context.Context, fitOut, document string, number int) (Standing, error) {
	f, err := s.FitOut(ctx, fitOut)
	if err != nil {
		return Standing{}, err
	}
	t, err := s.talkOf(ctx, f, document, number)
	if err != nil {
		return Standing{}, err
	}
	received, err := s.db.Received(ctx, s.firm, f.ID, document, number)
	if err != nil {
		return Standing{}, err
	}
	then, err := s.db.FitOutAt(ctx, s.firm, f.ID, t.issue().HeadEntry)
	if err != nil {
		return Standing{}, err
	}
	positions := answer.Standing(t.issues, t.said)
	out := Standing{Issue: t.issue(), Latest: t.latest, Positions: positions, Summary: answer.Summarise(positions), AsAgreed: answer.AsAgreed(positions, then), Received: received, Seen: len(t.said)}
	if now := answer.AsAgreed(positions, f); now != nil {
		out.TermsChanged = !reflect.DeepEqual(now.Figures, out.AsAgreed.Figures)
	}
	out.Issue.Lines = nil // they are in the positions
	return out, nil
}

// StandingNow is where the items of the newest issue of the schedule stand; sent is false where there is none.
func (s *Service) StandingNow(ctx context.Context, fitOut string) (now Standing, sent bool, err error) {
	all, err := s.Issues(ctx, fitOut)
	if err != nil {
		return now, false, err
	}
	newest := 0
	for _, i := range all {
		if i.Document == issue.Reinstatement {
			newest = max(newest, i.Number)
		}
	}
	if newest == 0 {
		return now, false, nil
	}
	now, err = s.Standing(ctx, fitOut, issue.Reinstatement, newest)
	return now, err == nil, err
}

// standIn puts into a plan where each item of its schedule stands, as it would if the schedule went out as it is now, and
// answers what both parties said to each, by number.
func (s *Service) standIn(ctx context.Context, id domain.FitOutID, p *plan.Plan) (map[int]answer.Position, error) {
	issues, err := s.db.IssuesOf(ctx, s.firm, id, issue.Reinstatement)
	if err != nil || len(issues) == 0 {
		return nil, err
	}
	said, err := s.db.Statements(ctx, s.firm, id, issue.Reinstatement)
	if err != nil {
		return nil, err
	}
	next := issue.Issue{Number: issues[len(issues)-1].Number + 1, Currency: p.FitOut.Currency, Lines: issue.ScheduleLines(p)}
	stand := map[int]answer.Position{}
	now := answer.Standing(append(issues, next), said)
	for i, position := range now {
		p.Schedule.Items[i].State = position.State
		stand[position.Line.Number] = position
	}
	p.Schedule.AsAgreed = answer.AsAgreed(now, p.FitOut)
	return stand, nil
}

// speaker is who the log names for an answer: whoever gave it, by the name that was typed, and who entered it where that is
// somebody else. Without a name it is who entered it.
func speaker(who domain.Actor, by string) (domain.Actor, error) {
	by = strings.Join(strings.Fields(by), " ")
	switch {
	case len(by) > longestFor || strings.ContainsFunc(by, unicode.IsControl):
		return who, domain.FieldErrorf(domain.Invalid, "/by", "a name has at most %d letters", longestFor)
	case by == "" || by == who.Name:
		return who, nil
	case who.Name != unnamed:
		by += " (entered by " + who.Name + ")"
	}
	who.Name = by
	return who, nil
}

// Answer takes what one party says to items of an issue: all of it or nothing. by is the name of who says it.
func (s *Service) Answer(ctx context.Context, who domain.Actor, fitOut, document string, number int, party answer.Party, by string, statements []answer.Statement) (Standing, error) {
	who, err := speaker(who, by)
	if err != nil {
		return Standing{}, err
	}
	return s.say(ctx, who, fitOut, document, number, party, fromPage, statements)
}

func (s *Service) say(ctx context.Context, who domain.Actor, fitOut, document string, number int, party answer.Party, from string, statements []answer.Statement) (Standing, error) {
	if err := knownParty(party); err != nil {
		return Standing{}, err
	}
	f, err := s.FitOut(ctx, fitOut)
	if err != nil {
		return Standing{}, err
	}
	var asks []answer.Ask
	_, err = s.db.Say(ctx, s.firm, f.ID, who, func(ctx context.Context) (db.Spoken, error) {
		t, err := s.talkOf(ctx, f, document, number)
		if err != nil {
			return db.Spoken{}, err
		}
		positions := answer.Standing(t.issues, t.said)
		asks = answer.AsksOf(positions, party, statements, t.issue().Currency)
		if err := answer.SayAll(positions, party, statements); err != nil {
			return db.Spoken{}, err
		}
		return spoken(t.issue(), party, from, statements), nil
	})
	if err != nil {
		return Standing{}, err
	}
	now, err := s.Standing(ctx, fitOut, document, number)
	now.Asks = asks
	return now, err
}

func spoken(is issue.Issue, party answer.Party, from string, statements []answer.Statement) db.Spoken {
	words := "items"
	if len(statements) == 1 {
		words = "item"
	}
	what := fmt.Sprintf("issue %d of %s: the %s answers %d %s", is.Number, is.Title, party, len(statements), words)
	return db.Spoken{What: what, Document: is.Document, Issue: is.Number, Party: party, From: from, Statements: statements}
}

func knownParty(party answer.Party) error {
	if party != answer.Tenant && party != answer.Landlord {
		return domain.FieldErrorf(domain.Invalid, "/party", "the party is tenant or landlord")
	}
	return nil
}

// Read is what a workbook that came back would say.
type Read struct {
	answer.Reading
	SHA256 string `json:"sha256"`
	Seen   int    `json:"seen"`
}

// Receive reads a workbook that came back to an issue, keeps it, and logs its hash, so that it can be taken as it was looked
// at. Nothing it says is taken. A workbook that cannot be read, or is a copy of something else, is refused and not kept.
func (s *Service) Receive(ctx context.Context, who domain.Actor, fitOut, document string, number int, party answer.Party, content []byte) (Read, error) {
	if err := knownParty(party); err != nil {
		return Read{}, err
	}
	f, err := s.FitOut(ctx, fitOut)
	if err != nil {
		return Read{}, err
	}
	t, err := s.talkOf(ctx, f, document, number)
	if err != nil {
		return Read{}, err
	}
	read, err := s.reading(f, t, party, content)
	if err != nil {
		return Read{}, err
	}
	what := fmt.Sprintf("issue %d of %s: a workbook came back from the %s", number, t.issue().Title, party)
	read.SHA256, err = s.db.Receive(ctx, s.firm, f.ID, who, what, answer.Returned{Document: document, Issue: number, Party: party}, content)
	return read, err
}

// ReadAgain is what a workbook that was received would say now.
func (s *Service) ReadAgain(ctx context.Context, fitOut, document string, number int, party answer.Party, sum string) (Read, error) {
	f, err := s.FitOut(ctx, fitOut)
	if err != nil {
		return Read{}, err
	}
	t, err := s.talkOf(ctx, f, document, number)
	if err != nil {
		return Read{}, err
	}
	return s.readAgain(ctx, f, t, party, sum)
}

func (s *Service) readAgain(ctx context.Context, f domain.FitOut, t talk, party answer.Party, sum string) (Read, error) {
	content, err := s.db.ReceivedFile(ctx, s.firm, f.ID, t.issue().Document, t.issue().Number, sum, party)
	if err != nil {
		return Read{}, err
	}
	read, err := s.reading(f, t, party, content)
	read.SHA256 = sum
	return read, err
}

// Take takes everything that a received workbook says, or nothing. seen is Read.Seen of when it was looked at: where
// something was said since, it is stale, because it may read otherwise now. Where rows say two things at once or
// belong to no item, asked says that somebody has looked at what they are taken as, or not taken for; without it nothing is
// taken. by is the name of whoever filled it in.
func (s *Service) Take(ctx context.Context, who domain.Actor, fitOut, document string, number int, party answer.Party, by, sum string, seen int, asked bool) (Standing, error) {
	who, err := speaker(who, by)
	if err != nil {
		return Standing{}, err
	}
	f, err := s.FitOut(ctx, fitOut)
	if err != nil {
		return Standing{}, err
	}
	var asks []answer.Ask
	_, err = s.db.Say(ctx, s.firm, f.ID, who, func(ctx context.Context) (db.Spoken, error) {
		t, err := s.talkOf(ctx, f, document, number)
		if err != nil {
			return db.Spoken{}, err
		}
		read, err := s.readAgain(ctx, f, t, party, sum)
		if err != nil {
			return db.Spoken{}, err
		}
		if read.Seen != seen {
			return db.Spoken{}, domain.Errorf(domain.Stale, "something was said to this document since you looked at the workbook: look at it again, then take it")
		}
		if len(read.Asks) > 0 && !asked {
			a := read.Asks[0]
			return db.Spoken{}, domain.FieldErrorf(domain.Refused, "/asked", "%s, item %d: %s. Look at what is to be asked (%d in all), and say that you have", a.At, a.Item, a.Says, len(read.Asks))
		}
		if len(read.Strays) > 0 && !asked {
			x := read.Strays[0]
			return db.Spoken{}, domain.FieldErrorf(domain.Refused, "/asked", "%s: %s. Look at what belongs to no item (%d in all), and say that you have", x.At, x.Says, len(read.Strays))
		}
		asks = read.Asks
		return spoken(t.issue(), party, sum, read.Statements), nil
	})
	if err != nil {
		return Standing{}, err
	}
	now, err := s.Standing(ctx, fitOut, document, number)
	now.Asks = asks
	return now, err
}

// reading holds a workbook against the issue that it says it is a copy of.
func (s *Service) reading(f domain.FitOut, t talk, party answer.Party, content []byte) (Read, error) {
	s.decoding.Lock() // one foreign file at a time: each may take some tens of megabytes
	defer s.decoding.Unlock()
	book, err := returned.Open(content)
	if err != nil {
		return Read{}, err
	}
	defer book.Close()
	id, err := book.Identity()
	if err != nil {
		return Read{}, err
	}
	is := t.issue()
	switch {
	case id.FitOut != f.Code:
		return Read{}, domain.FieldErrorf(domain.Refused, "Cover", "this is a document of the fit-out %s, not of %s: read it back there", id.FitOut, f.Code)
	case id.Document != is.Document:
		return Read{}, domain.FieldErrorf(domain.Refused, "Cover", "this is %s, not %s: read it back where it belongs", id.Document, is.Document)
	case id.Issue != is.Number:
		return Read{}, domain.FieldErrorf(domain.Refused, "Cover", "this is issue %d, not issue %d: read it back on the page of issue %d", id.Issue, is.Number, id.Issue)
	case id.Head != is.Head:
		return Read{}, domain.FieldErrorf(domain.Refused, "Cover", "the head of the log on the cover is not that of issue %d: this is a copy of another register's issue, or its cover was altered", is.Number)
	}
	rows, err := book.Schedule(is.Currency)
	if err != nil {
		return Read{}, err
	}
	read, err := answer.Match(rows, party, answer.At(t.issues, t.said), answer.Standing(t.issues, t.said), is.Currency)
	return Read{Reading: read, Seen: len(t.said)}, err
}
