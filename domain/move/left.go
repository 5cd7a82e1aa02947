package move

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/salvage"
)

// Left is a salvaged piece that the move does not need, or what is over of a salvaged or a bought one.
type Left struct {
	Piece    string `json:"piece" jsonschema_description:"code of the salvaged piece, or the size that is bought"`
	Name     string `json:"name"`
	LengthMm int    `json:"length_mm"`
	WidthMm  int    `json:"width_mm,omitempty"`
	Count    int    `json:"count" jsonschema_description:"how many alike"`
	Offcut   bool   `json:"offcut,omitempty"`
	New      bool   `json:"new,omitempty" jsonschema_description:"an offcut of what is bought"`
	What     string `json:"what_to_do"`
	Value    int64  `json:"value_minor,omitempty"`
}

// worthKeeping reports whether an offcut is large enough to be carried: by the least that is worth taking out of its kind of
// material (common practice, no source: the catalogue's table of keeping). A panel may lie either way.
func worthKeeping(m domain.Material, lengthMm, widthMm int) bool {
	k, ok := catalogue.KeepingOf(m)
	switch {
	case !ok || k.Again == catalogue.Never:
		return false
	case widthMm == 0 || k.LeastWidthMm == 0:
		return lengthMm >= k.LeastLengthMm
	}
	return max(lengthMm, widthMm) >= k.LeastLengthMm && min(lengthMm, widthMm) >= k.LeastWidthMm
}

// offcuts are what is over of stock and worth keeping: the salvaged first, then what is bought, like ones counted.
func (p *Plan) offcuts() []Left {
	var out []Left
	at := map[Left]int{}
	note := func(b Become, material, name string, lengthMm, widthMm int, what string) {
		if !worthKeeping(p.register.Catalogue.Materials[material], lengthMm, widthMm) {
			return
		}
		l := Left{Piece: b.Stock, Name: name, LengthMm: lengthMm, WidthMm: widthMm, Offcut: true, New: !b.Salvaged, What: what}
		k, ok := at[l]
		if !ok {
			k = len(out)
			at[l] = k
			out = append(out, l)
		}
		out[k].Count++
	}
	for i := range p.Lengths {
		c := &p.Lengths[i]
		for _, b := range c.Becomes {
			what := "offcut: keep it for a short piece"
			if graded(p.register.Catalogue.Materials[c.Material]) {
				what = "offcut: keep it for noggings and packers"
			}
			note(b, c.Material, c.Title(), b.OffcutMm, 0, what)
		}
	}
	for _, c := range p.Sheets {
		for _, l := range c.Layouts {
			for _, r := range l.Offcuts {
				note(l.Become, c.Material, c.Name, r.LengthMm, r.WidthMm, "offcut: keep it for a small panel or a patch")
			}
		}
	}
	slices.SortStableFunc(out, func(a, b Left) int { return cmp.Compare(boolInt(a.New), boolInt(b.New)) })
	return out
}

// boughtFor are the pieces of the next premises that no salvage makes, by form and section.
func (p *Plan) boughtFor(used map[string]Become) map[form]map[section][]*domain.Element {
	made := map[string]bool{}
	for _, b := range used {
		for _, code := range b.Makes {
			made[code] = true
		}
	}
	out := map[form]map[section][]*domain.Element{byLength: {}, bySheet: {}, byPiece: {}, byMetre: {}}
	want := wantedIn(p.register, made)
	for f, sections := range want.by {
		for s, rows := range sections {
			for _, i := range rows {
				out[f][s] = append(out[f][s], &p.register.Elements[i])
			}
		}
	}
	return out
}

// mostSaid is how many pieces are named where many are meant.
const mostSaid = 3

// wouldBe names the pieces that are bought though a downgraded piece is large enough for them: it is not good enough.
func (p *Plan) wouldBe(q *salvage.Piece, bought map[form]map[section][]*domain.Element) string {
	e := p.here[q.Code]
	if e == nil || q.Condition() != salvage.Downgraded {
		return ""
	}
	f := formOf(p.register.Catalogue.Materials[q.Material], q.Kind)
	var codes []string
	for _, w := range bought[f][sectionOf(f, e)] {
		fits := f == byPiece || f == byLength && profileOf(w).reachMm <= q.UsableMm || f == bySheet && w.LengthMm <= q.UsableMm && w.WidthMm <= q.WidthMm
		if fits && !slices.Contains(serves(q), string(w.Kind)) {
			codes = append(codes, w.Code)
		}
	}
	if len(codes) > mostSaid {
		codes = append(codes[:mostSaid], fmt.Sprintf("%d more", len(codes)-mostSaid))
	}
	return strings.Join(codes, ", ")
}

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

// left lists what is saved and not used, with what to do with it and why, and the offcuts worth keeping.
func (p *Plan) left() {
	used := p.used()
	bought := p.boughtFor(used)
	for i := range p.inventory.Pieces {
		q := &p.inventory.Pieces[i]
		if _, is := used[q.Code]; is || !q.Kept() {
			continue
		}
		l := Left{Piece: q.Code, Name: q.MaterialName, LengthMm: q.UsableMm, WidthMm: q.WidthMm, Count: 1, Value: q.ValueMinor, What: "sell, give away or store: the next premises do not need it"}
		switch {
		case q.Goes == salvage.Return:
			l.What, l.Value = "hired: back to its owner", 0
		case q.Provisional:
			l.What = "nobody has seen it: look at it once it is out, and plan again"
		default:
			if codes := p.wouldBe(q, bought); codes != "" {
				l.What = fmt.Sprintf("downgraded, so that it will not do for %s: %s; sell it as what it is, or keep it for what need not be sound", codes, becauseWords(q))
			}
		}
		p.Left = append(p.Left, l)
	}
	p.Left = append(p.Left, p.offcuts()...)
}

// becauseWords is why a piece is downgraded.
func becauseWords(q *salvage.Piece) string {
	switch {
	case q.Found != nil && q.Found.Note != "":
		return "found so, " + q.Found.Note
	case q.Found != nil:
		return "found so"
	case len(q.Because) > 0:
		return strings.Join(q.Because, "; ")
	}
	return "treated, or old enough that nobody can say"
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
