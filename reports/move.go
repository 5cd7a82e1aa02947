package reports

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"unpick/domain"
	"unpick/domain/move"
)

// Move writes the move to one layout: what becomes what, what to buy with live sums, fixings, what is left, loads, the
// order of putting up, and other ways beside it. in is of the fit-out that comes out.
func Move(w io.Writer, in Input, p *move.Plan) error {
	b := newBook(in, "The move to "+p.ToName)
	b.care = p.Cautions
	if p.Sizes != nil {
		b.care = append(slices.Clone(p.Cautions), move.SizeCautions()...)
	}
	t := p.Total
	b.cover("Which piece becomes which in the next premises, what is left to buy, and what goes on which load.", []fact{
		{"Goes to", p.To + ", " + p.ToName},
		{"New stock", moneyOr(t.NewMinor, t.Known, p.Currency)},
		{"Fixings to buy", domain.FormatMoney(t.FixingsMinor, p.Currency)},
		{"From salvage", fmt.Sprintf("%d of %s", t.FromSalvage, countOf(t.Pieces, "piece", "pieces"))},
		{"Loads", fmt.Sprintf("%d, %.0f kg in all; %s with %d kg payload, %d kg of it crew and tools, bed %d x %d mm", len(p.Loads), t.MovedKg, p.Terms.Vehicle.Name, p.Terms.Vehicle.PayloadKg, p.Terms.Vehicle.RidersKg, p.Terms.Vehicle.BedLengthMm, p.Terms.Vehicle.BedWidthMm)},
		{"Too big, another vehicle", strings.Join(p.TooBig, ", ")},
		{"Too heavy, another vehicle", strings.Join(p.TooHeavy, ", ")},
		{"Cut before loading", strings.Join(p.CutFirst, ", ")},
		{"Cutting", cuttingWords(p)},
		{"No price for", strings.Join(p.Unpriced, ", ")},
	})
	b.cutList(p)
	b.buyNew(p)
	b.fixingsToBuy(p)
	b.misfits(p)
	b.cannotBeMade(p)
	b.leftOver(p)
	b.loads(p)
	b.lifts(p)
	b.puttingUp(p)
	b.ways(p)
	b.otherSizes(p)
	return b.write(w)
}

// FirstOrder writes what to order where nothing is salvaged: the buying list with live sums, the cut list, fixings, and who
// puts up what in which order. in is of the fit-out that goes up.
func FirstOrder(w io.Writer, in Input, p *move.Plan) error {
	b := newBook(in, "First order")
	b.care = p.Cautions
	t := p.Total
	b.cover("What to buy where nothing is salvaged, and how it is cut.", []fact{
		{"Goes to", p.To + ", " + p.ToName},
		{"New stock", moneyOr(t.NewMinor, t.Known, p.Currency)},
		{"Fixings to buy", domain.FormatMoney(t.FixingsMinor, p.Currency)},
		{"Pieces", fmt.Sprint(t.Pieces)},
		{"Cutting", cuttingWords(p)},
		{"No price for", strings.Join(p.Unpriced, ", ")},
	})
	b.buyNew(p)
	b.cutList(p)
	b.fixingsToBuy(p)
	b.misfits(p)
	b.cannotBeMade(p)
	b.lifts(p)
	b.puttingUp(p)
	return b.write(w)
}

func moneyOr(minor int64, known bool, currency string) string {
	if !known {
		return "no total: some of it has no price"
	}
	return domain.FormatMoney(minor, currency)
}

func cuttingWords(p *move.Plan) string {
	words := fmt.Sprintf("%s, a saw cut takes %d mm", countOf(p.Total.Cuts, "cut", "cuts"), p.Terms.KerfMm)
	switch {
	case p.Proven:
		return words + "; no cutting buys lengths and sheets for less"
	case p.Total.Known:
		return words + "; no cutting buys lengths and sheets for less than " + domain.FormatMoney(p.Total.BoundMinor, p.Currency) + ", before the allowance"
	}
	return words + "; a cutting that buys less may be there"
}

// cutList has a row for every piece of stock that becomes something.
func (b *book) cutList(p *move.Plan) {
	t := b.newTable("Cut list", []column{{"Stock", 24, strong}, {"From", 10, plain}, {"What it is", 34, plain}, {"Length (mm)", 10, whole}, {"Width (mm)", 9, whole}, {"Becomes, in the order of cutting (mm)", 60, plain}, {"Over (mm)", 9, whole}, {"Done", 8, toFill}}, a3, stockRows(p))
	add := func(x move.Become, name string) {
		from := "new"
		if x.Salvaged {
			from = "salvaged"
		}
		makes := make([]string, len(x.Makes))
		for i, code := range x.Makes {
			makes[i] = code
			if i < len(x.PiecesMm) {
				makes[i] += fmt.Sprintf(" %d", x.PiecesMm[i])
			}
		}
		var wide any
		if x.WidthMm > 0 {
			wide = x.WidthMm
		}
		t.add(x.Stock, from, name, x.LengthMm, wide, strings.Join(makes, ", "), x.OffcutMm, "")
	}
	eachBecome(p, add)
	t.end()
}

func stockRows(p *move.Plan) (n int) {
	eachBecome(p, func(move.Become, string) { n++ })
	return n
}

// eachBecome goes through all stock: what goes up whole, lengths, sheets with their panels' sizes, and single pieces.
func eachBecome(p *move.Plan, do func(x move.Become, name string)) {
	for _, w := range p.Wholes {
		for _, x := range w.Becomes {
			do(x, fmt.Sprintf("goes up whole, with %s as %s", w.From, w.To))
		}
	}
	for _, c := range p.Lengths {
		for _, x := range c.Becomes {
			do(x, c.Name)
		}
	}
	for _, c := range p.Sheets {
		for _, l := range c.Layouts {
			x := l.Become
			x.Makes = nil
			for _, panel := range l.Panels {
				x.Makes = append(x.Makes, fmt.Sprintf("%s %d x %d", panel.Element, panel.LengthMm, panel.WidthMm))
			}
			do(x, c.Name)
		}
	}
	for _, u := range p.Units {
		for _, x := range u.Becomes {
			do(x, u.Name)
		}
	}
}

// buyNew is the buying list: change what is bought over, or a price, and the amounts follow.
func (b *book) buyNew(p *move.Plan) {
	t := b.newTable("To buy", []column{{"What", 44, strong}, {"Length (mm)", 10, whole}, {"Width (mm)", 9, whole}, {"Unit", 9, plain}, {"Needed", 9, whole}, {"Over (%)", 8, fillShare}, {"Over", 8, whole}, {"Buy", 8, whole}, {"Each (" + p.Currency + ")", 11, fillCash}, {"Amount (" + p.Currency + ")", 13, money}, {"kg", 9, tenths}, {"kg CO2e (A1-A3)", 10, tenths}}, a3, len(p.Buying))
	amount, kg, carbon := int64(0), 0.0, 0.0
	for _, x := range p.Buying {
		n := t.row + 1
		var each, long, wide any
		value := any("no rate")
		if x.Known {
			each, value = b.major(x.PriceMinor), b.major(x.AmountMinor)
			amount += x.AmountMinor
		}
		if x.LengthMm > 0 {
			long = x.LengthMm
		}
		if x.WidthMm > 0 {
			wide = x.WidthMm
		}
		t.add(x.Name, long, wide, x.Unit, x.Count, x.Percent, formula{fmt.Sprintf("IF(F%d=0,0,ROUNDUP(E%d*F%d/100-0.000000001,0))", n, n, n), x.Allowance},
			formula{fmt.Sprintf("E%d+G%d", n, n), x.Count + x.Allowance}, each, formula{fmt.Sprintf(`IF(ISNUMBER(I%d),ROUND(H%d*I%d,%d),"no rate")`, n, n, n, domain.MinorDigits(p.Currency)), value}, x.MassKg, x.CarbonKg)
		kg, carbon = kg+x.MassKg, carbon+x.CarbonKg
	}
	t.total("All", "A", sum{"J", b.major(amount), ""}, sum{"K", kg, ""}, sum{"L", carbon, ""})
	t.end()
}

// fixingsToBuy counts fixings and metres of beads: used again, and bought with a margin.
func (b *book) fixingsToBuy(p *move.Plan) {
	t := b.newTable("Fixings", []column{{"Fixing", 44, strong}, {"Unit", 8, plain}, {"Needed", 9, thousand}, {"Used again", 9, whole}, {"Margin (%)", 9, fillShare}, {"Margin", 8, whole}, {"Buy", 9, thousand}, {"Each (" + p.Currency + ")", 11, fillCash}, {"Amount (" + p.Currency + ")", 13, money}, {"Take care", 50, plain}}, a3, len(p.Fixings))
	amount := int64(0)
	for _, f := range p.Fixings {
		n := t.row + 1
		unit, need, percent, buy := "piece", any(f.Need), p.Terms.FixingPercent, any(f.Buy)
		if f.Metres > 0 {
			unit, need, percent, buy = "m", f.Metres, 0, f.Metres
		}
		var each any
		value := any("no rate")
		if f.Buy == 0 && f.Metres == 0 {
			value = 0
		} else if f.Known {
			each, value = b.major(f.PriceMinor), b.major(f.AmountMinor)
			amount += f.AmountMinor
		}
		t.add(f.Name, unit, need, f.Reused, percent, formula{fmt.Sprintf("IF(E%d=0,0,IF(C%d>D%d,ROUNDUP((C%d-D%d)*E%d/100-0.000000001,0),0))", n, n, n, n, n, n), f.Margin},
			formula{fmt.Sprintf("C%d-D%d+F%d", n, n, n), buy}, each, formula{fmt.Sprintf(`IF(G%d=0,0,IF(ISNUMBER(H%d),ROUND(G%d*H%d,%d),"no rate"))`, n, n, n, n, domain.MinorDigits(p.Currency)), value}, f.Caution)
	}
	t.total("All", "A", sum{"I", b.major(amount), ""})
	t.end()
}
