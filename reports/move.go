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
// order of putting up, one programme of both places, and other ways beside it. in is of the fit-out that comes out.
func Move(w io.Writer, in Input, p *move.Plan) error {
	b := newBook(in, "The move to "+p.ToName)
	b.care = p.Cautions
	if p.Sizes != nil {
		b.care = append(slices.Clone(p.Cautions), move.SizeCautions()...)
	}
	t := p.Total
	b.cover("Which piece becomes which in the next premises, what is left to buy, and what goes on which load.", append([]fact{
		{"Goes to", p.To + ", " + p.ToName},
		{"New stock", moneyOr(t.NewMinor, p.StockKnown(), p.Currency)},
		{"Fixings to buy", moneyOr(t.FixingsMinor, p.FixingsKnown(), p.Currency)},
		{"No total because", strings.Join(p.NoTotal, "; ")},
		{"From salvage", fmt.Sprintf("%d of %s", t.FromSalvage, countOf(t.Pieces, "piece", "pieces"))},
		{"Loads", fmt.Sprintf("%d, %.0f kg in all; %s with %d kg payload, %d kg of it crew and tools, bed %d x %d mm", len(p.Loads), t.MovedKg, p.Terms.Vehicle.Name, p.Terms.Vehicle.PayloadKg, p.Terms.Vehicle.RidersKg, p.Terms.Vehicle.BedLengthMm, p.Terms.Vehicle.BedWidthMm)},
		{"Too big, another vehicle", strings.Join(p.TooBig, ", ")},
		{"Too heavy, another vehicle", strings.Join(p.TooHeavy, ", ")},
		{"Cut before loading", strings.Join(p.CutFirst, ", ")},
		{"Cutting", cuttingWords(p)},
		{"Drawings of the cuts", drawnWords(p, MoveCuts)},
		{"Access for putting up", p.AccessWords()},
		{"Carbon not known for", strings.Join(t.NoCarbon, "; ")},
	}, programmeFacts(p)...))
	b.asItStood(p)
	b.cutList(p)
	b.buyNew(p)
	b.allowances(p)
	b.fixingsToBuy(p)
	b.misfits(p)
	b.cannotBeMade(p)
	b.leftOver(p)
	b.loads(p)
	b.lifts(p)
	b.puttingUp(p)
	b.bothEnds(p)
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
		{"New stock", moneyOr(t.NewMinor, p.StockKnown(), p.Currency)},
		{"Fixings to buy", moneyOr(t.FixingsMinor, p.FixingsKnown(), p.Currency)},
		{"No total because", strings.Join(p.NoTotal, "; ")},
		{"Pieces", fmt.Sprint(t.Pieces)},
		{"Cutting", cuttingWords(p)},
		{"Drawings of the cuts", drawnWords(p, OrderCuts)},
		{"Access for putting up", p.AccessWords()},
		{"Carbon not known for", strings.Join(t.NoCarbon, "; ")},
	})
	b.buyNew(p)
	b.allowances(p)
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
		return "no total"
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

// drawnWords says where every cut is drawn.
func drawnWords(p *move.Plan, file string) string {
	if p.Total.Cuts == 0 {
		return ""
	}
	return file + ": a drawing of each piece of stock that is cut, by its number in the cut list"
}

// cutList has a row for every piece of stock that becomes something, numbered where it is cut: so CutsPDF numbers its drawings.
func (b *book) cutList(p *move.Plan) {
	t := b.newTable("Cut list", []column{{"Drawing", 9, number}, {"Stock", 24, strong}, {"From", 10, plain}, {"What it is", 34, plain}, {"Length used (mm)", 10, whole}, {"Width used (mm)", 9, whole}, {"How", 24, plain}, {"Becomes, in the order of cutting (mm)", 60, plain}, {"Cuts", 7, whole}, {"Over (mm)", 20, plain}, {"Done", 8, toFill}}, a3, stockRows(p))
	drawn := 0
	eachBecome(p, func(x move.Become, name, over string) {
		from, how := "new", "as bought"
		switch {
		case x.Salvaged:
			from, how = "salvaged", x.HowWords()
		case x.RipFromMm > 0:
			how = fmt.Sprintf("ripped from %d first, then cut", x.RipFromMm)
		case x.IsCut():
			how = "cut"
		}
		var wide, drawing any
		if x.WidthMm > 0 {
			wide = x.WidthMm
		}
		if x.IsCut() {
			drawn++
			drawing = drawn
		}
		t.add(drawing, x.Stock, from, name, x.LengthMm, wide, how, strings.Join(x.MakesWords(), ", "), x.Cuts, over, "")
	})
	t.end()
}

func stockRows(p *move.Plan) (n int) {
	eachBecome(p, func(move.Become, string, string) { n++ })
	return n
}

// eachBecome goes through all stock: what goes up whole, lengths, sheets, and single pieces, each with what is over.
func eachBecome(p *move.Plan, do func(x move.Become, name, over string)) {
	for _, w := range p.Wholes {
		for _, x := range w.Becomes {
			do(x, fmt.Sprintf("goes up as it stood, with %s as %s", w.From, w.To), "")
		}
	}
	for _, c := range p.Lengths {
		for _, x := range c.Becomes {
			over := ""
			if x.OffcutMm > 0 {
				over = fmt.Sprint(x.OffcutMm)
			}
			do(x, c.Title(), over)
		}
	}
	for _, c := range p.Sheets {
		for _, l := range c.Layouts {
			do(l.Become, c.Name, l.OverWords())
		}
	}
	for _, u := range p.Units {
		for _, x := range u.Becomes {
			do(x, u.Name, "")
		}
	}
}

// buyNew is the buying list: change what is bought over, or a price, and the amounts follow. What is bought over is its
// line's share of its class's allowance, whose sheet says what it comes to.
func (b *book) buyNew(p *move.Plan) {
	t := b.newTable("To buy", []column{{"What", 44, strong}, {"Length (mm)", 10, whole}, {"Width (mm)", 9, whole}, {"Unit", 9, plain}, {"Needed", 9, whole}, {"Class", 12, plain}, {"Over", 8, fillShare}, {"Buy", 8, whole}, {"Each (" + p.Currency + ")", 11, fillCash}, {"Amount (" + p.Currency + ")", 13, money}, {"kg", 9, tenths},
		{"kg CO2e a kg (A1-A3)", 10, thousand}, {"kg CO2e", 10, tenths}, {"Source of density and factor", 50, plain}, {"Confirmed", 40, plain}}, a3, len(p.Buying))
	amount, kg, carbon, missing := int64(0), 0.0, 0.0, 0
	for _, x := range p.Buying {
		n := t.row + 1
		var each, long, wide any
		value := any("no rate")
		if x.Known {
			each, value = b.major(x.PriceMinor), b.major(x.AmountMinor)
			amount += x.AmountMinor
		} else {
			missing++
		}
		if x.LengthMm > 0 {
			long = x.LengthMm
		}
		if x.WidthMm > 0 {
			wide = x.WidthMm
		}
		mass, factor, made := any("not known"), any("not known"), any("not known")
		if x.MassKnown {
			mass = x.MassKg
		}
		if x.GwpPerKg > 0 {
			factor = x.GwpPerKg
		}
		if x.CarbonKnown {
			made = x.CarbonKg
		}
		t.add(x.Title(), long, wide, x.Unit, x.Count, x.Class, x.Allowance, formula{fmt.Sprintf("E%d+G%d", n, n), x.Count + x.Allowance}, each,
			formula{fmt.Sprintf(`IF(ISNUMBER(I%d),ROUND(H%d*I%d,%d),"no rate")`, n, n, n, domain.MinorDigits(p.Currency)), value}, mass, factor, made, x.Source, x.Confirmed)
		kg, carbon = kg+x.MassKg, carbon+x.CarbonKg
	}
	t.total("All", "A", b.totalled(t, "J", "J", amount, missing), sum{"K", kg, ""}, sum{"M", carbon, ""})
	t.end()
}

// allowances says what is bought over the cutting, class by class, and what it comes to.
func (b *book) allowances(p *move.Plan) {
	t := b.newTable("Over the cutting", []column{{"Class", 12, strong}, {"Covers", 60, plain}, {"%", 8, plain}, {"For the cutting", 10, whole}, {"Over", 8, whole}, {"Comes to (" + p.Currency + ")", 13, money}, {"Because of", 44, plain}, {"Source", 30, plain}}, a3, len(p.Allowed))
	for _, x := range p.Allowed {
		amount := any("no rate")
		if x.Known {
			amount = b.major(x.AmountMinor)
		}
		t.add(x.Class, x.Covers, fmt.Sprintf("%g", x.Percent), x.Count, x.Over, amount, x.Reason, x.Source)
	}
	t.end()
}

// fixingsToBuy counts fixings by type and length, and metres of beads: used again, and bought with a margin, in whole packs
// where the price is for a pack.
func (b *book) fixingsToBuy(p *move.Plan) {
	t := b.newTable("Fixings", []column{{"Fixing", 44, strong}, {"Length (mm)", 9, whole}, {"Diameter (mm)", 11, tenths}, {"Unit", 8, plain}, {"Needed", 9, thousand}, {"Used again", 9, whole}, {"Margin (%)", 9, fillShare}, {"Margin", 8, whole}, {"Buy", 9, thousand}, {"In a pack", 9, fillShare}, {"Packs", 8, whole},
		{"A pack (" + p.Currency + ")", 11, fillCash}, {"Amount (" + p.Currency + ")", 13, money}, {"Take care", 50, plain}}, a3, len(p.Fixings))
	amount, missing := int64(0), 0
	for _, f := range p.Fixings {
		n := t.row + 1
		unit, need, percent, buy := "piece", any(f.Need), p.Terms.FixingPercent, any(f.Buy)
		var long, thick, each, packOf, packs any
		value := any("no rate")
		if f.LengthMm > 0 {
			long = f.LengthMm
		}
		if f.DiameterMm > 0 {
			thick = f.DiameterMm
		}
		packs = formula{fmt.Sprintf(`IF(ISNUMBER(J%d),ROUNDUP(I%d/J%d-0.000000001,0),I%d)`, n, n, n, n), max(f.Packs, f.Buy/max(f.PackOf, 1))}
		if f.PackOf > 0 {
			packOf = f.PackOf
		}
		if f.Metres > 0 {
			unit, need, percent, buy, packs = "m", f.Metres, 0, f.Metres, formula{fmt.Sprintf("I%d", n), f.Metres}
		}
		if f.Buy == 0 && f.Metres == 0 {
			value = 0
		} else if f.Known {
			each, value = b.major(f.PriceMinor), b.major(f.AmountMinor)
			amount += f.AmountMinor
		} else {
			missing++
		}
		t.add(f.Name, long, thick, unit, need, f.Reused, percent, formula{fmt.Sprintf("IF(G%d=0,0,IF(E%d>F%d,ROUNDUP((E%d-F%d)*G%d/100-0.000000001,0),0))", n, n, n, n, n, n), f.Margin},
			formula{fmt.Sprintf("E%d-F%d+H%d", n, n, n), buy}, packOf, packs, each, formula{fmt.Sprintf(`IF(I%d=0,0,IF(ISNUMBER(L%d),ROUND(K%d*L%d,%d),"no rate"))`, n, n, n, n, domain.MinorDigits(p.Currency)), value}, f.Caution)
	}
	t.total("All", "A", b.totalled(t, "M", "M", amount, missing))
	t.end()
}
