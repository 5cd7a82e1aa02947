package move

import (
	"fmt"

	"unpick/domain/salvage"
)

// Left is a salvaged piece, or what is over of one, that the move does not need.
type Left struct {
	Piece    string `json:"piece"`
	Name     string `json:"name"`
	LengthMm int    `json:"length_mm"`
	WidthMm  int    `json:"width_mm,omitempty"`
	Offcut   bool   `json:"offcut,omitempty"`
	What     string `json:"what_to_do"`
	Value    int64  `json:"value_minor,omitempty"`
}

// The least offcut that is worth carrying (common practice, no source).
const leastOffcutMm = 600

// used are the salvaged pieces that become something, each with what it becomes.
func (p *Plan) used() map[string]Become {
	out := map[string]Become{}
	note := func(all []Become) {
		for _, b := range all {
			if b.Salvaged {
				out[b.Stock] = b
			}
		}
	}
	for _, w := range p.Wholes {
		note(w.Becomes)
	}
	for _, c := range p.Lengths {
		note(c.Becomes)
	}
	for _, c := range p.Sheets {
		for _, l := range c.Layouts {
			note([]Become{l.Become})
		}
	}
	for _, u := range p.Units {
		note(u.Becomes)
	}
	return out
}

// left lists what is saved and not used, with what to do with it, and the offcuts worth keeping.
func (p *Plan) left(map[string]bool) {
	used := p.used()
	for i := range p.inventory.Pieces {
		q := &p.inventory.Pieces[i]
		b, is := used[q.Code]
		switch {
		case is && b.OffcutMm >= leastOffcutMm:
			p.Left = append(p.Left, Left{Piece: q.Code, Name: q.MaterialName, LengthMm: b.OffcutMm, Offcut: true, What: "offcut: keep it for noggings and packers"})
		case is || !q.Kept():
		case q.Goes == salvage.Return:
			p.Left = append(p.Left, Left{Piece: q.Code, Name: q.MaterialName, LengthMm: q.UsableMm, What: "hired: back to its owner"})
		default:
			what := "sell, give away or store: the next premises do not need it"
			if q.Provisional {
				what = "nobody has seen it: look at it once it is out, and plan again"
			}
			p.Left = append(p.Left, Left{Piece: q.Code, Name: q.MaterialName, LengthMm: q.UsableMm, WidthMm: q.WidthMm, What: what, Value: q.ValueMinor})
		}
	}
}

// sum adds up what the cutting says.
func (p *Plan) sum() {
	used := p.used()
	p.Total.SalvagedUsed = len(used)
	for _, b := range used {
		p.Total.FromSalvage += len(b.Makes)
	}
	for _, l := range p.Left {
		if !l.Offcut {
			p.Total.SalvagedLeft++
		}
	}
	for _, c := range p.Lengths {
		p.Total.Cuts += c.Cuts
		p.Total.BoundMinor += c.Bound
	}
	for _, c := range p.Sheets {
		p.Total.Cuts += c.Cuts
		p.Total.BoundMinor += c.Bound
	}
	if !p.Total.Known {
		p.Total.BoundMinor = 0 // millimetres and money are not added up
	}
}

func (p *Plan) cautions() {
	p.Cautions = []string{
		"Sizes are inputs: joists, posts, beams and anchors of the next premises are a competent person's, and so is every piece that carries again.",
		"A used concrete screw may go into a new hole after a gauge check, never back into its own for load.",
		"A fire door counts only as its tested set: move it whole, and have it looked at where it goes up.",
		"Look at the plate of the vehicle: payload and axle loads are the driver's duty. Loads are strapped, and nobody rides with them.",
		"Manual handling: see who lifts what, at both ends. The guideline figures ask for an assessment; they are no limits.",
	}
	p.Cautions = append(p.Cautions, p.unsure...)
	if p.From != "" && p.Total.NewKg > 0 {
		p.Cautions = append(p.Cautions, fmt.Sprintf("What is bought new, %.0f kg%s, is on none of the loads: have it delivered, or count trips for it.", p.Total.NewKg, p.longestBought()))
	}
	if len(p.Misfits) > 0 {
		p.Cautions = append([]string{"The layout does not fit as it is described: mend it, and plan again."}, p.Cautions...)
	}
	if len(p.Cannot) > 0 {
		p.Cautions = append([]string{fmt.Sprintf("%d pieces cannot be made from what there is and what is sold: see the list.", len(p.Cannot))}, p.Cautions...)
	}
}

// longestBought is how long the longest length is that is bought, as a clause.
func (p *Plan) longestBought() string {
	longest := 0
	for _, b := range p.Buying {
		longest = max(longest, b.LengthMm)
	}
	if longest == 0 {
		return ""
	}
	return fmt.Sprintf(" and up to %.1f m long", float64(longest)/1000)
}
