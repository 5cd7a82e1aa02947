package service

import (
	"context"
	"io"

	"unpick/domain"
	"unpick/domain/advice"
	"unpick/reports"
	"unpick/reports/returned"
)

const (
	registerBookName = "register.xlsx"
	emptyBookName    = "register-empty.xlsx"
)

// BookEdits are what a register's workbook says anew.
type BookEdits = returned.Edits

// MostBookBytes is the largest workbook that is read.
const MostBookBytes = returned.MostBytes

// registerBooks are the register as a workbook, and an empty one to log into on site.
func registerBooks(in reports.Input) []Document {
	return []Document{
		{registerBookName, "The register, to edit in a spreadsheet and send back", workbook, false, func(w io.Writer) error { return reports.RegisterBook(w, in) }},
		{emptyBookName, "An empty register, to log into on site", workbook, false, func(w io.Writer) error { return reports.EmptyRegisterBook(w, in) }},
	}
}

// TakeRegisterBook reads a register's workbook that came back and stores all that it says anew, or nothing. A dry run says
// what would be stored, and what there is to say about it. Every fault is told with its sheet and cell. Advice refuses it until
// consent is given, as with every amendment; the edits are answered with that refusal.
func (s *Service) TakeRegisterBook(ctx context.Context, who domain.Actor, fitOut string, content []byte, consent Consent) (*returned.Edits, error) {
	if _, err := s.FitOut(ctx, fitOut); err != nil {
		return nil, err
	}
	b, err := returned.Open(content)
	if err != nil {
		return nil, err
	}
	defer b.Close()
	var edits *returned.Edits
	change := func(r *domain.Register) (domain.Change, error) {
		var err error
		if edits, err = b.Register(r); err != nil {
			return domain.Change{}, err
		}
		c := edits.Change()
		c.Advice = editsAdvice(r, c)
		edits.Advice = c.Advice
		reason, err := consent.toAny(c.Advice)
		c.What += reason
		return c, err
	}
	if consent.DryRun {
		r, err := s.Register(ctx, fitOut)
		if err != nil {
			return nil, err
		}
		_, err = change(r)
		return edits, err
	}
	_, _, err = s.change(ctx, fitOut, who, change)
	return edits, err
}

// editsAdvice is what there is to say about rows that are new or amended, surfaces included.
func editsAdvice(r *domain.Register, c domain.Change) []domain.Advice {
	if domain.CountsOf(c.Add) == (domain.Counts{}) && domain.CountsOf(c.Put) == (domain.Counts{}) {
		return nil
	}
	said := append(advice.ForAmended(r, c.Add, c.Put), roundAdvice(r, c.Add)...)
	for _, h := range c.Put.Hosts {
		said = append(said, advice.ForHost(r, h)...)
	}
	return said
}
