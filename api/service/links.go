package service

import (
	"context"
	"strings"
	"time"
	"unicode"

	"unpick/db"
	"unpick/domain"
	"unpick/domain/answer"
)

// Link is a link to one issue for somebody without an account.
type Link = db.Link

// What a link is used for; kept with every visit.
const (
	DidRead     = "read"
	DidFile     = "file"
	DidAnswer   = "answered"
	DidNotTaken = "not-taken" // an answer was sent, and nothing of it was taken
	didRefused  = "refused"
)

// MostLinkDays is how long a link may open: a lease's last half year.
const MostLinkDays = 183

// longestFor is the longest name of whom a link is for.
const longestFor = 100

// MakeLink makes a link to one issue of the schedule, by which whoever has its secret reads and answers it for so many
// days. hash is of the secret; see auth.NewToken.
func (s *Service) MakeLink(ctx context.Context, who domain.Actor, fitOut, document string, number int, madeFor string, days int, hash []byte) (db.Link, error) {
	f, err := s.FitOut(ctx, fitOut)
	if err != nil {
		return db.Link{}, err
	}
	if _, err := s.talkOf(ctx, f, document, number); err != nil {
		return db.Link{}, err
	}
	var faults domain.Errors
	madeFor = strings.Join(strings.Fields(madeFor), " ")
	if madeFor == "" || len(madeFor) > longestFor || strings.ContainsFunc(madeFor, unicode.IsControl) {
		faults.Addf(domain.Invalid, "/made_for", "say whom the link is for, in 1 to %d letters: the log keeps the name with every answer", longestFor)
	}
	if days < 1 || days > MostLinkDays {
		faults.Addf(domain.Invalid, "/days", "a link opens for 1 to %d days", MostLinkDays)
	}
	if err := faults.OrNil(); err != nil {
		return db.Link{}, err
	}
	now := s.now()
	l := db.Link{FitOut: f.Code, Document: document, Issue: number, For: madeFor, By: who.Name, MadeAt: now.UTC(), ExpiresAt: now.AddDate(0, 0, days).UTC(), Visits: []db.Visit{}}
	l.ID, err = s.db.AddLink(ctx, s.firm, f.ID, l, hash)
	return l, err
}

// Links are the links to an issue with every visit, the newest first.
func (s *Service) Links(ctx context.Context, fitOut, document string, number int) ([]db.Link, error) {
	f, err := s.FitOut(ctx, fitOut)
	if err != nil {
		return nil, err
	}
	if _, err := s.talkOf(ctx, f, document, number); err != nil {
		return nil, err
	}
	return s.db.Links(ctx, s.firm, f.ID, document, number)
}

// RevokeLink ends a link for good.
func (s *Service) RevokeLink(ctx context.Context, who domain.Actor, fitOut, document string, number int, link int64) error {
	f, err := s.FitOut(ctx, fitOut)
	if err != nil {
		return err
	}
	return s.db.RevokeLink(ctx, s.firm, f.ID, who, document, number, link)
}

// LinkIsOpen says how a link stands today.
func (s *Service) LinkIsOpen(l db.Link) bool { return l.Opens(s.now()) }

// Visit is the link of a secret that opens, and keeps the visit. Unknown, expired and revoked are one answer: whoever
// tries learns nothing.
func (s *Service) Visit(ctx context.Context, hash []byte, did, client string) (db.Link, error) {
	l, err := s.OpenLink(ctx, hash, client)
	if err != nil {
		return l, err
	}
	return l, s.Visited(ctx, l, did, client)
}

// OpenLink is Visit for who knows only later what the visit did, and then says so with Visited. A link that has ended keeps
// that it was tried.
func (s *Service) OpenLink(ctx context.Context, hash []byte, client string) (db.Link, error) {
	closed := domain.Errorf(domain.NotFound, "This link opens nothing. It may have expired or been taken back: ask whoever sent it for a new one.")
	if hash == nil {
		return db.Link{}, closed
	}
	l, ok, err := s.db.LinkBySecret(ctx, s.firm, hash)
	if err != nil {
		return l, err
	}
	if !ok {
		return l, closed
	}
	if !l.Opens(s.now()) {
		if err := s.db.Visited(ctx, l.ID, didRefused, client); err != nil {
			return l, err
		}
		return db.Link{}, closed
	}
	return l, nil
}

// Visited keeps what a visit did.
func (s *Service) Visited(ctx context.Context, l db.Link, did, client string) error {
	return s.db.Visited(ctx, l.ID, did, client)
}

// AnswerByLink takes what the landlord says by a link, all of it or nothing. The log names whom the link was made for.
func (s *Service) AnswerByLink(ctx context.Context, l db.Link, statements []answer.Statement) (Standing, error) {
	who := domain.Actor{Name: l.For + " (by link)"}
	return s.say(ctx, who, l.FitOut, l.Document, l.Issue, answer.Landlord, fromLink, statements)
}

// LinkDays is how long a link still opens, in whole days rounded up.
func (s *Service) LinkDays(l db.Link) int {
	left := l.ExpiresAt.Sub(s.now())
	return int((left + 24*time.Hour - 1) / (24 * time.Hour))
}
