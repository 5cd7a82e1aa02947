package move

import (
	"cmp"
	"math"
	"slices"

	"unpick/domain/catalogue"
)

// Allowance is what is bought over the cutting in one class of material: a share of all that is bought of the class, in
// whole pieces, rounded up once and not for every size.
type Allowance struct {
	Class       string  `json:"class"`
	Covers      string  `json:"covers"`
	Percent     float64 `json:"percent"`
	Count       float64 `json:"count" jsonschema_description:"of the class, for the cutting: lengths, sheets or metres"`
	Over        float64 `json:"over" jsonschema_description:"bought more, all sizes together"`
	AmountMinor int64   `json:"amount_minor" jsonschema_description:"what it comes to; only of what has a price where known is false"`
	Known       bool    `json:"known"`
	Reason      string  `json:"reason"`
	Source      string  `json:"source"`
}

// allow shares the allowance of each class out over its lines: each gets the whole pieces of its share, and what is left
// goes to the largest remainders, of equal ones to the longest, which can be cut to what any shorter one was for.
func (p *Plan) allow() {
	classes := map[string][]int{}
	rows := map[string]catalogue.Wastage{}
	for i := range p.Buying {
		b := &p.Buying[i]
		if w, ok := catalogue.WastageFor(p.register.Catalogue.Materials[b.Material]); ok && b.Unit != "piece" {
			b.Class, b.Percent = w.Stuff, w.Percent
			classes[w.Stuff] = append(classes[w.Stuff], i)
			rows[w.Stuff] = w
		}
	}
	for _, class := range sortedKeys(classes) {
		w := rows[class]
		a := Allowance{Class: class, Covers: w.Covers, Percent: w.Percent, Known: true, Reason: w.Reason, Source: w.Source}
		for _, i := range classes[class] {
			a.Count += p.Buying[i].Count
		}
		a.Over = math.Ceil(a.Count*w.Percent/100 - 1e-9)
		p.shareOut(a.Over, classes[class])
		for _, i := range classes[class] {
			b := &p.Buying[i]
			if b.Allowance > 0 && !b.Known {
				a.Known = false
			}
			a.AmountMinor += int64(math.Round(b.Allowance * float64(b.PriceMinor)))
		}
		p.Allowed = append(p.Allowed, a)
	}
}

func (p *Plan) shareOut(over float64, lines []int) {
	exact := func(i int) float64 { return p.Buying[i].Count * p.Buying[i].Percent / 100 }
	rest := over
	for _, i := range lines {
		p.Buying[i].Allowance = math.Floor(exact(i) + 1e-9)
		rest -= p.Buying[i].Allowance
	}
	order := slices.Clone(lines)
	left := func(i int) float64 { return math.Round((exact(i) - p.Buying[i].Allowance) * 1e6) }
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Or(-cmp.Compare(left(a), left(b)), -cmp.Compare(p.Buying[a].LengthMm, p.Buying[b].LengthMm))
	})
	for _, i := range order[:min(len(order), int(rest))] {
		p.Buying[i].Allowance++
	}
}
