package reports

import (
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"unpick/domain/move"
)

// TestLabelsOfAMove: for the workshop's move each piece's label says which new piece it becomes and how long that is in the
// layout, by which load it comes and when it goes up; what is not needed says so; and zbar reads back which piece it is from
// a print at 200 dots to the inch. The codes and lengths are looked up in the registers, the loads in the plan.
func TestLabelsOfAMove(t *testing.T) {
	t.Parallel()
	image, reader, text := outside(t, "pdftoppm", "poppler-utils"), outside(t, "zbarimg", "zbar-tools"), outside(t, "pdftotext", "poppler-utils")
	p, in, next := plannedMove(t, move.Usual())
	loads := map[string]int{}
	for _, l := range p.Loads {
		for _, code := range l.Pieces {
			loads[code] = l.Number
		}
	}
	lengths := map[string]int{}
	for i := range next.Elements {
		lengths[next.Elements[i].Code] = next.Elements[i].LengthMm
	}
	sheet, err := LabelSheetOf("100x50") // a label to a page, so that words of one are told from those of the next
	if err != nil {
		t.Fatal(err)
	}
	var codes, want []string
	says := map[string][]string{}
	for _, c := range p.Lengths {
		for _, b := range c.Becomes {
			if !b.Salvaged || len(codes) == 40 {
				continue
			}
			codes = append(codes, b.Stock)
			words := []string{"becomes " + b.Makes[0]}
			switch {
			case len(b.Makes) > 1:
				words = append(words, fmt.Sprintf("%s %d", b.Makes[0], lengths[b.Makes[0]]), fmt.Sprintf("%s %d", b.Makes[1], lengths[b.Makes[1]]))
			case b.IsCut():
				words = append(words, fmt.Sprintf("cut to %d", lengths[b.Makes[0]]))
			default:
				words = append(words, "as it is")
			}
			if n := loads[b.Stock]; n > 0 {
				words = append(words, fmt.Sprintf("Load %d", n), "Up ")
			} else {
				words = append(words, "Needs another vehicle")
			}
			says[b.Stock] = words
		}
	}
	for _, w := range p.Wholes {
		b := w.Becomes[0]
		codes, says[b.Stock] = append(codes, b.Stock), []string{"becomes " + b.Makes[0], "whole with " + w.To}
	}
	for _, l := range p.Left {
		if !l.Offcut && says[l.Piece] == nil {
			codes, says[l.Piece] = append(codes, l.Piece), []string{strings.Fields(l.What)[0]}
			break
		}
	}
	if len(codes) < 42 {
		t.Fatalf("%d pieces to label: the move uses too few to show anything", len(codes))
	}
	file := onDisk(t, func(w io.Writer) error { return LabelsPDF(w, in, LabelChoice{Sheet: sheet, Codes: codes, Move: p}) })
	pages := strings.Split(runs(t, text, "-layout", file, "-"), "\f")
	for i, code := range codes {
		page := strings.Join(strings.Fields(pages[i]), " ")
		for _, words := range append(says[code], code) {
			if !strings.Contains(page, words) {
				t.Errorf("the label of %s does not say %q: %q", code, words, page)
			}
		}
		want = append(want, PieceLink(in.Register.FitOut, code))
	}
	runs(t, image, "-r", "200", "-gray", file, file)
	prints, err := filepath.Glob(file + "-*.pgm")
	if err != nil {
		t.Fatal(err)
	}
	got := strings.Fields(runs(t, reader, append([]string{"--nodbus", "-q", "--raw"}, prints...)...))
	slices.Sort(got)
	slices.Sort(want)
	if !slices.Equal(got, want) {
		t.Errorf("zbar reads %v, want %v", got, want)
	}
	// On the smallest usual sheet there is still room for what matters.
	small, err := LabelSheetOf("38.1x21.2-65")
	if err != nil {
		t.Fatal(err)
	}
	all := runs(t, text, "-raw", onDisk(t, func(w io.Writer) error { return LabelsPDF(w, in, LabelChoice{Sheet: small, Codes: codes, Move: p}) }), "-")
	if n := strings.Count(all, "becomes "); n != len(codes)-1 {
		t.Errorf("%d of %d small labels say what they become", n, len(codes)-1)
	}
}
