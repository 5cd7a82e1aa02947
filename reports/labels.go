package reports

import (
	"fmt"
	"io"
	"net/url"
	"slices"
	"strings"

	"unpick/domain"
	"unpick/domain/move"
	"unpick/domain/salvage"
	"unpick/domain/strip"
	"unpick/reports/paper"
)

// LabelChoice says which labels are written, and on what.
type LabelChoice struct {
	Sheet   LabelSheet // the zero value is the usual one
	First   int        // place of the first label on its sheet, from 1: a sheet that was begun is used up. 0 reads as 1
	Codes   []string   // pieces; empty is every piece that is kept
	Outline bool       // thin lines round each label, to cut by
	Move    *move.Plan // out of this fit-out: each label says what its piece becomes; nil says nothing of it
}

// label is what stands on one.
type label struct{ code, becomes, place, size, from, step, condition, link string }

// LabelsPDF writes a label for each piece: its code, what it becomes where there is a move, size, where it came from, the
// step that takes it out, its condition and a QR code that opens it. Without an address of the program in the fit-out's settings the code holds the piece's
// code itself. A label too small for a code that reads from a print at 200 dots to the inch is refused.
func LabelsPDF(w io.Writer, in Input, choice LabelChoice) error {
	labels, err := in.labels(choice)
	if err != nil {
		return err
	}
	about := in.about("Labels")
	about.Foot = ""
	d := paper.New(about)
	s := choice.Sheet
	if s.WideMm == 0 {
		if s, err = LabelSheetOf(UsualLabels); err != nil {
			return err
		}
	}
	perSheet := s.Columns * s.Rows
	at := max(choice.First, 1) - 1
	if !s.Single() && at >= perSheet {
		return domain.FieldErrorf(domain.Invalid, "/first", "the sheet has %d labels: begin with one of those", perSheet)
	}
	if s.Single() {
		perSheet, at = 1, 0
	}
	for i, l := range labels {
		if place := (at + i) % perSheet; i == 0 || place == 0 {
			d.Page(s.page())
		}
		x, y := s.corner((at + i) % perSheet)
		if module := drawLabel(d, x, y, s, l); module < paper.LeastModuleMm {
			return domain.FieldErrorf(domain.Refused, "/sheet", "the QR code of %s would be too fine on %s to read from a print: take larger labels, or a shorter address in the settings", l.code, s.Name)
		}
		if choice.Outline {
			d.Box(x, y, s.WideMm, s.HighMm)
		}
	}
	if len(labels) == 0 {
		d.Page(paper.A4)
		d.Words(paper.MarginMm, 2*paper.MarginMm, "No piece is kept, so there is no label.", wordsMm, false)
	}
	return d.Write(w)
}

func (s LabelSheet) page() paper.Size {
	if s.Single() {
		return paper.Size{WideMm: s.WideMm, HighMm: s.HighMm}
	}
	return paper.A4
}

// corner is where a label lies on its sheet, row by row from the top left.
func (s LabelSheet) corner(place int) (x, y float64) {
	if s.Single() {
		return 0, 0
	}
	return s.LeftMm + float64(place%s.Columns)*s.AcrossMm, s.TopMm + float64(place/s.Columns)*s.DownMm
}

// labels are those of the pieces named, in the order named, or of every piece kept, in the order in which they leave.
func (in Input) labels(choice LabelChoice) ([]label, error) {
	codes, fates := choice.Codes, map[string]move.Fate{}
	if choice.Move != nil {
		fates = choice.Move.Fates()
	}
	steps := map[string]int{}
	for _, s := range in.Plan.Sequence.Steps {
		if s.Kind == strip.Remove {
			for _, code := range s.Elements {
				steps[code] = s.Number
			}
		}
	}
	pieces := map[string]*salvage.Piece{}
	var kept []string
	for i := range in.Plan.Salvage.Pieces {
		p := &in.Plan.Salvage.Pieces[i]
		pieces[p.Code] = p
		if p.Kept() {
			kept = append(kept, p.Code)
		}
	}
	if len(codes) == 0 {
		slices.SortStableFunc(kept, func(a, b string) int { return steps[a] - steps[b] })
		codes = kept
	}
	var faults domain.Errors
	out := make([]label, 0, len(codes))
	for _, code := range codes {
		p := pieces[code]
		if p == nil {
			faults.Addf(domain.NotFound, "/pieces", "%.60s is no piece that comes out or came out here", code)
			continue
		}
		l := in.label(p, steps[code])
		if f, ok := fates[code]; ok {
			l.becomes, l.place = f.Becomes(), f.Place()
		} else if choice.Move != nil {
			what, _, _ := strings.Cut(choice.Move.Unused(code), ":") // why stands in the list of what is left
			l.becomes, l.place = "not needed there", what
		}
		out = append(out, l)
	}
	return out, faults.OrNil()
}

func (in Input) label(p *salvage.Piece, step int) label {
	f := in.Register.FitOut
	l := label{code: p.Code, size: fmt.Sprintf("%d x %d x %d mm", p.LengthMm, p.WidthMm, p.ThicknessMm), link: PieceLink(f, p.Code)}
	if p.UsableMm > 0 && p.UsableMm < p.LengthMm {
		l.size += fmt.Sprintf(", good for %d", p.UsableMm)
	}
	l.from = f.Code
	for i := range in.Register.Assemblies {
		if a := &in.Register.Assemblies[i]; a.Code == p.Assembly {
			l.from = join(strings.TrimSpace(a.Code+" "+a.Name), f.Code)
		}
	}
	switch {
	case step > 0:
		l.step = fmt.Sprintf("Step %d", step)
	case p.State != "":
		l.step = whereWords(p)
	}
	l.condition = string(p.Condition()) + ", as expected"
	if p.Found != nil {
		l.condition = fmt.Sprintf("%s, found %s", p.Found.Condition, p.Found.On)
	}
	return l
}

// PieceLink is what the QR code of a piece says: its page, or its code alone where nobody has said where the program is.
func PieceLink(f domain.FitOut, code string) string {
	if f.LinkBase == "" {
		return code
	}
	return strings.TrimRight(f.LinkBase, "/") + "/f/" + url.PathEscape(f.Code) + "/pieces/" + url.PathEscape(code)
}

// leastLetterMm is the smallest letter on a label that is read at arm's length: common practice, no source.
const leastLetterMm = 1.9

// mostCodeMm is how wide a code beside its words is at most: a larger one reads no better at arm's length.
const mostCodeMm = 32

// drawLabel draws one label, the code at the left of a wide one and at the top of a tall one, and answers how wide a
// module of the code is.
func drawLabel(d *paper.Document, x, y float64, s LabelSheet, l label) float64 {
	const inside = 1.5
	wide, high := s.WideMm-2*inside, s.HighMm-2*inside
	side := min(high, wide*.42, mostCodeMm)
	left, top, room, foot := x+inside+side+1, y+inside, wide-side-1, y+inside+high
	if high > wide { // the code above, words below
		side = min(wide, high*.6, 2*mostCodeMm)
		left, top, room = x+inside, y+inside+side, wide
	}
	module := d.QR(x+inside, y+inside, side, l.link)
	big := min(high*.2, 6, room*.16)
	small := d.Shrunk(l.size, room, min(big*.6, 3.2), leastLetterMm)
	at := top + big
	d.Words(left, at, d.Fits(l.code, room, big, true), big, true)
	for _, words := range []string{l.becomes, l.place, l.size, l.condition, l.step, l.from} {
		if words == "" {
			continue
		}
		for _, line := range d.Lines(words, room, small, 2) {
			if at += small * 1.3; at > foot {
				return module
			}
			d.Words(left, at, line, small, false)
		}
	}
	return module
}
