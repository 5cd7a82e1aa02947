package service

import (
	"context"
	"io"

	"unpick/domain"
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
// what would be stored. Every fault is told with its sheet and cell.
func (s *Service) TakeRegisterBook(ctx context.Context, who domain.Actor, fitOut string, content []byte, dryRun bool) (*returned.Edits, error) {
	if _, err := s.FitOut(ctx, fitOut); err != nil {
		return nil, err
	}
	b, err := returned.Open(content)
	if err != nil {
		return nil, err
	}
	defer b.Close()
	if dryRun {
		r, err := s.Register(ctx, fitOut)
		if err != nil {
			return nil, err
		}
		return b.Register(r)
	}
	var edits *returned.Edits
	_, _, err = s.change(ctx, fitOut, who, func(r *domain.Register) (domain.Change, error) {
		var err error
		if edits, err = b.Register(r); err != nil {
			return domain.Change{}, err
		}
		return edits.Change(), nil
	})
	return edits, err
}
