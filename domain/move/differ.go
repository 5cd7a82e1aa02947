package move

import (
	"cmp"
	"fmt"
	"slices"
)

// difference is what one plan needs less than another, over the sections that differ: what is cut alike from like stock
// costs alike, however good its cutting is. Money is before the allowance, so that its rounding decides nothing.
type difference struct {
	known    bool   // everything that differs has a price
	saved    int64  // by the cuttings found
	certain  int64  // by the first's bound: no cutting of it does better
	possible int64  // by the second's bound
	length   amount // of sections without a price, in mm
	area     amount // in mm2
	cannot   int    // pieces that cannot be made, less
	wasteMm  int64
	wasteMm2 int64
	cuts     int
	bought   []Bought
}

// amount is something bought less where there is no price: by the cuttings found, and by the first's bound.
type amount struct{ saved, certain int64 }

// cutSection is one section as both kinds of cutting have it.
type cutSection struct {
	solved
	key              string // which it is
	sheet            bool
	objective, bound int64
	waste            int64
	cuts             int
}

func (p *Plan) sections() []cutSection {
	var out []cutSection
	for i := range p.Lengths {
		c := &p.Lengths[i]
		out = append(out, cutSection{c.solved, fmt.Sprintf("%s %d %d %v", c.Material, c.WidthMm, c.DepthMm, c.Treated), false, c.Objective, c.Bound, c.WasteMm, c.Cuts})
	}
	for i := range p.Sheets {
		c := &p.Sheets[i]
		out = append(out, cutSection{c.solved, fmt.Sprintf("%s %d", c.Material, c.ThickMm), true, c.Objective, c.Bound, c.WasteMm2, c.Cuts})
	}
	return out
}

// differ is what the second plan needs less than the first.
func differ(was, is *Plan) difference {
	d := difference{known: true, cannot: len(was.Cannot) - len(is.Cannot)}
	before, after := was.sections(), is.sections()
	among := func(all []cutSection, s cutSection) bool {
		return slices.ContainsFunc(all, func(o cutSection) bool { return o.problem == s.problem && o.sheet == s.sheet })
	}
	for _, s := range before {
		if !among(after, s) {
			d.add(s, 1)
		}
	}
	for _, s := range after {
		if !among(before, s) {
			d.add(s, -1)
		}
	}
	for _, b := range was.Buying {
		d.addLine(b, 1)
	}
	for _, b := range is.Buying {
		d.addLine(b, -1)
	}
	d.bought = slices.DeleteFunc(d.bought, func(b Bought) bool { return b.Was == b.Is && b.LessMm == 0 })
	slices.SortFunc(d.bought, func(a, b Bought) int { return cmp.Or(cmp.Compare(a.Material, b.Material), cmp.Compare(a.Unit, b.Unit)) })
	return d
}

// differing are the sections and sheets that two plans cut otherwise, in order.
func differing(was, is *Plan) []string {
	before, after := map[string]string{}, map[string]string{}
	for _, s := range was.sections() {
		before[s.key] = s.problem
	}
	var out []string
	for _, s := range is.sections() {
		if after[s.key] = s.problem; before[s.key] != s.problem {
			out = append(out, s.key)
		}
	}
	for key := range before {
		if _, there := after[key]; !there {
			out = append(out, key)
		}
	}
	slices.Sort(out)
	return out
}

// add counts a section of the first plan (sign 1) or of the second (sign -1). What is certain is held against the first's
// bound and the second's cutting, what is possible the other way round.
func (d *difference) add(s cutSection, sign int64) {
	least, most := s.bound, s.objective
	if sign < 0 {
		least, most = most, least
	}
	switch {
	case s.priced:
		d.saved, d.certain, d.possible = d.saved+sign*s.objective, d.certain+sign*least, d.possible+sign*most
	case s.sheet:
		d.area.saved, d.area.certain, d.known = d.area.saved+sign*s.objective, d.area.certain+sign*least, false
	default:
		d.length.saved, d.length.certain, d.known = d.length.saved+sign*s.objective, d.length.certain+sign*least, false
	}
	if s.sheet {
		d.wasteMm2 += sign * s.waste
	} else {
		d.wasteMm += sign * s.waste
	}
	d.cuts += int(sign) * s.cuts
}

// addLine counts a line of the buying list: the money of what is not cut, and the number of all.
func (d *difference) addLine(b Buy, sign int64) {
	if b.Unit == "piece" || b.Unit == "m" {
		if amount := sign * int64(b.Count*float64(b.PriceMinor)+0.5); b.Known {
			d.saved, d.certain, d.possible = d.saved+amount, d.certain+amount, d.possible+amount
		}
	}
	at := slices.IndexFunc(d.bought, func(o Bought) bool { return o.Material == b.Material && o.Unit == b.Unit })
	if at < 0 {
		at = len(d.bought)
		d.bought = append(d.bought, Bought{Material: b.Material, Name: b.Name, Unit: b.Unit})
	}
	if x := &d.bought[at]; sign > 0 {
		x.Was += b.Count
	} else {
		x.Is += b.Count
	}
	if b.Unit == "length" {
		d.bought[at].LessMm += int(sign) * int(b.Count) * b.LengthMm
	}
}

// better reports whether less is bought: no more of anything in money or without a price, less of something, and no piece
// more that cannot be made.
func (d difference) better() bool {
	return d.cannot >= 0 && d.saved >= 0 && d.length.saved >= 0 && d.area.saved >= 0 && (d.saved > 0 || d.length.saved > 0 || d.area.saved > 0)
}

// sure reports whether it is better whatever cutting of the first is found.
func (d difference) sure() bool {
	return d.certain >= 0 && d.length.certain >= 0 && d.area.certain >= 0 && (d.certain > 0 || d.length.certain > 0 || d.area.certain > 0)
}

// compare orders differences, the one that saves more first.
func (d difference) compare(o difference) int {
	return cmp.Or(cmp.Compare(o.saved, d.saved), cmp.Compare(o.length.saved, d.length.saved), cmp.Compare(o.area.saved, d.area.saved))
}
