package move

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// Fate is what a salvaged piece becomes, as a label on it says: the crew that takes it out sees where it goes.
type Fate struct {
	Makes    []Made `json:"makes"`
	AsIs     bool   `json:"as_it_is,omitempty"`
	Whole    string `json:"whole,omitempty"` // assembly that it goes up in again as it stood
	Load     int    `json:"load,omitempty"`
	CutFirst bool   `json:"cut_before_loading,omitempty"`
	TooBig   bool   `json:"needs_another_vehicle,omitempty"`
}

// Made is one piece of the next premises that a salvaged piece becomes.
type Made struct {
	Code     string `json:"code"`
	LengthMm int    `json:"length_mm"`
	WidthMm  int    `json:"width_mm,omitempty"` // of what is cut from a sheet
	Assembly string `json:"assembly"`
	Name     string `json:"name"`
	Order    int    `json:"order"` // in which the assembly goes up
}

// Fates are what the salvaged pieces that are used become, by their codes.
func (p *Plan) Fates() map[string]Fate {
	index, built := p.register.Index(), map[string]Build{}
	for _, b := range p.Build {
		built[b.Assembly] = b
	}
	out := map[string]Fate{}
	for code, b := range p.used() {
		f := Fate{AsIs: !b.IsCut(), CutFirst: slices.Contains(p.CutFirst, code), TooBig: slices.Contains(p.Stranded(), code)}
		for _, makes := range b.Makes {
			e := &p.register.Elements[index.Elements[makes]]
			f.Makes = append(f.Makes, Made{Code: makes, LengthMm: e.LengthMm, WidthMm: widthOf(p.register, e), Assembly: e.Assembly, Name: built[e.Assembly].Name, Order: built[e.Assembly].Order})
		}
		out[code] = f
	}
	for _, c := range p.Sheets { // a sheet leaves what is sawn off it, not an offcut of a length
		for _, l := range c.Layouts {
			if f, ok := out[l.Stock]; ok && l.Salvaged {
				f.AsIs = !l.IsCut()
				out[l.Stock] = f
			}
		}
	}
	for _, w := range p.Wholes {
		for _, b := range w.Becomes {
			f := out[b.Stock]
			f.AsIs, f.Whole = true, w.To
			out[b.Stock] = f
		}
	}
	for _, l := range p.Loads {
		for _, code := range l.Pieces {
			if f, ok := out[code]; ok {
				f.Load = l.Number
				out[code] = f
			}
		}
	}
	return out
}

// mostNamed is how many pieces a label names of those that one becomes; the cut list has them all.
const mostNamed = 3

// Becomes says which new piece it is, and how long it is cut.
func (f Fate) Becomes() string {
	size := func(m Made) string {
		if m.WidthMm > 0 {
			return fmt.Sprintf("%d x %d", m.LengthMm, m.WidthMm)
		}
		return fmt.Sprint(m.LengthMm)
	}
	switch {
	case len(f.Makes) == 0:
		return ""
	case f.Whole != "":
		return fmt.Sprintf("becomes %s, whole with %s", f.Makes[0].Code, f.Whole)
	case f.AsIs:
		return fmt.Sprintf("becomes %s as it is", f.Makes[0].Code)
	case len(f.Makes) == 1:
		return fmt.Sprintf("becomes %s, cut to %s", f.Makes[0].Code, size(f.Makes[0]))
	}
	var named []string
	for _, m := range f.Makes[:min(len(f.Makes), mostNamed)] {
		named = append(named, m.Code+" "+size(m))
	}
	words := "becomes " + strings.Join(named, ", ")
	if rest := len(f.Makes) - mostNamed; rest > 0 {
		words += fmt.Sprintf(" and %d more", rest)
	}
	return words
}

// Up says where it goes up first: "Up 1: N1 Press hall wall".
func (f Fate) Up() string {
	if len(f.Makes) == 0 {
		return ""
	}
	first := slices.MinFunc(f.Makes, func(a, b Made) int { return cmp.Or(cmp.Compare(a.Order, b.Order), cmp.Compare(a.Code, b.Code)) })
	words := strings.TrimSpace(first.Assembly + " " + first.Name)
	if first.Order > 0 {
		words = fmt.Sprintf("Up %d: %s", first.Order, words)
	}
	return words
}

// Place says where it goes up first, and by which load it comes.
func (f Fate) Place() string {
	words := f.Up()
	switch {
	case words == "":
		return ""
	case f.TooBig:
		words = "Needs another vehicle. " + words
	case f.CutFirst:
		words = fmt.Sprintf("Load %d, cut before. %s", f.Load, words)
	case f.Load > 0:
		words = fmt.Sprintf("Load %d. %s", f.Load, words)
	}
	return words
}

// Unused says what becomes of a salvaged piece that the move does not need, "" where it is used.
func (p *Plan) Unused(code string) string {
	at := slices.IndexFunc(p.Left, func(l Left) bool { return l.Piece == code && !l.Offcut })
	if at < 0 {
		return ""
	}
	return p.Left[at].What
}
