package service

import (
	"context"
	"io"

	"unpick/domain"
	"unpick/domain/move"
	"unpick/domain/progress"
	"unpick/domain/salvage"
	"unpick/reports"
)

const portable = "application/pdf"

// Salvage is what comes out of a stored fit-out or is out, piece by piece. It needs no plan.
func (s *Service) Salvage(ctx context.Context, fitOut string) (salvage.Inventory, error) {
	r, err := s.Register(ctx, fitOut)
	if err != nil {
		return salvage.Inventory{}, err
	}
	return salvage.Take(r), nil
}

// Grade records what pieces that are out were found fit for.
func (s *Service) Grade(ctx context.Context, who domain.Actor, fitOut string, g progress.Graded) (domain.Change, error) {
	if g.On == "" {
		g.On = s.day(who)
	}
	done, _, err := s.change(ctx, fitOut, who, func(r *domain.Register) (domain.Change, error) { return progress.Grade(r, g) })
	return done, err
}

// Assess settles which entry of the List of Waste pieces fall under.
func (s *Service) Assess(ctx context.Context, who domain.Actor, fitOut string, a progress.Assessed) (domain.Change, error) {
	if a.On == "" {
		a.On = s.day(who)
	}
	done, _, err := s.change(ctx, fitOut, who, func(r *domain.Register) (domain.Change, error) { return progress.Assess(r, a) })
	return done, err
}

// LabelsAsked is which labels somebody wants, and on what.
type LabelsAsked struct {
	Sheet   string   // by name; "" is the usual one
	First   int      // place of the first on its sheet, from 1
	Pieces  []string // none is every piece that is kept
	Outline bool
	To      string     // layout: each label says what its piece becomes there; "" says nothing of a move
	Terms   move.Terms // of the move, where there is one
}

// Labels are the labels of a stored fit-out. What is asked for wrongly is told before anything is planned.
func (s *Service) Labels(ctx context.Context, who domain.Actor, fitOut string, asked LabelsAsked) (Document, error) {
	if asked.Sheet == "" {
		asked.Sheet = reports.UsualLabels
	}
	sheet, err := reports.LabelSheetOf(asked.Sheet)
	if err != nil {
		return Document{}, err
	}
	in, err := s.Planned(ctx, fitOut, who.Name, "draft")
	if err != nil {
		return Document{}, err
	}
	choice := reports.LabelChoice{Sheet: sheet, First: asked.First, Codes: asked.Pieces, Outline: asked.Outline}
	if asked.To != "" {
		asked.Terms.Nearby = nil // labels say nothing of other sizes
		moves, err := s.Moves(ctx, fitOut, []string{asked.To}, asked.Terms)
		if err != nil {
			return Document{}, err
		}
		choice.Move = moves.Items[0]
	}
	return Document{"labels.pdf", "Labels with QR codes", portable, true, func(w io.Writer) error { return reports.LabelsPDF(w, in, choice) }}, nil
}

// LabelSheet is a sheet of labels to choose: its name, and what it is in words.
type LabelSheet struct{ Name, Words string }

// LabelSheets are the usual sheets, the usual one first.
func LabelSheets() []LabelSheet {
	var out []LabelSheet
	for _, s := range reports.LabelSheets() {
		l := LabelSheet{s.Name, s.Words()}
		if s.Name == reports.UsualLabels {
			out = append([]LabelSheet{l}, out...)
		} else {
			out = append(out, l)
		}
	}
	return out
}
