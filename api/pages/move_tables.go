package pages

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"

	"unpick/domain/move"
)

// moveTables are the lists of a move, in the order in which they are worked with; a list with nothing in it is left out.
func moveTables(c echo.Context, p *move.Plan) []table {
	var out []table
	for _, t := range []table{buyingList(c, p), fixingsWanted(c, p), becomes(c, p), cannotBeMade(c, p), loads(c, p), lifts(c, p), puttingUp(c, p), leftOver(c, p)} {
		if t.Of > 0 {
			out = append(out, t)
		}
	}
	return out
}

func buyingList(c echo.Context, p *move.Plan) table {
	rows := make([][]cell, len(p.Buying))
	for i, b := range p.Buying {
		rows[i] = []cell{plain(b.Title()), plain(sizeWords(b)), measured(b.Count, 0), measured(b.Allowance, 0), measured(b.Count+b.Allowance, 0), plain(b.Unit),
			priced(b.PriceMinor, b.Known, p.Currency), priced(b.AmountMinor, b.Known, p.Currency), massOr(b), carbonOr(b)}
	}
	return newTable(c, "buying", "To buy", []column{
		{Key: "what", Title: "What"}, {Key: "size", Title: "Size mm"}, {Key: "needed", Title: "Needed", Figure: true, Rest: true}, {Key: "over", Title: "Over", Figure: true, Rest: true},
		{Key: "buy", Title: "Buy", Figure: true}, {Key: "unit", Title: "Unit"}, {Key: "price", Title: "Each", Figure: true, Rest: true}, {Key: "amount", Title: "Amount", Figure: true, Sum: sumMoney(p.Currency)},
		{Key: "kg", Title: "kg", Figure: true, Rest: true, Sum: sumKg}, {Key: "carbon", Title: "kg CO2e", Figure: true, Rest: true, Sum: sumKg},
	}, rows)
}

// massOr and carbonOr are figures of a line, or that nobody knows them.
func massOr(b move.Buy) cell {
	if !b.MassKnown {
		return plain("not known")
	}
	return measured(b.MassKg, 1)
}

func carbonOr(b move.Buy) cell {
	if !b.CarbonKnown {
		return plain("not known")
	}
	return measured(b.CarbonKg, 1)
}

func sizeWords(b move.Buy) string {
	switch {
	case b.WidthMm > 0:
		return fmt.Sprintf("%d × %d", b.LengthMm, b.WidthMm)
	case b.LengthMm > 0:
		return strconv.Itoa(b.LengthMm)
	}
	return "by the metre"
}

func fixingsWanted(c echo.Context, p *move.Plan) table {
	rows := make([][]cell, len(p.Fixings))
	for i, f := range p.Fixings {
		need, buy, long, amount := count(f.Need), plain(f.BuyWords()), plain(""), plain("")
		if f.Metres > 0 {
			need = cell{Text: fmt.Sprintf("%.1f m", f.Metres)}
		}
		if f.LengthMm > 0 {
			long = count(f.LengthMm)
		}
		if f.Buy > 0 || f.Metres > 0 {
			amount = priced(f.AmountMinor, f.Known, p.Currency)
		}
		rows[i] = []cell{plain(f.Name), long, need, count(f.Reused), count(f.Margin), buy, amount, plain(f.Caution)}
	}
	return newTable(c, "screws", "Fixings", []column{
		{Key: "what", Title: "Fixing"}, {Key: "mm", Title: "Length mm", Figure: true}, {Key: "need", Title: "Needed", Figure: true}, {Key: "again", Title: "Used again", Figure: true, Sum: sumCount}, {Key: "margin", Title: "Margin", Figure: true, Rest: true},
		{Key: "buy", Title: "Buy"}, {Key: "amount", Title: "Amount", Figure: true, Sum: sumMoney(p.Currency)}, {Key: "care", Title: "Take care", Rest: true},
	}, rows)
}

// becomes lists every salvaged piece that is used, with what it becomes.
func becomes(c echo.Context, p *move.Plan) table {
	var rows [][]cell
	add := func(b move.Become, name, how, over string) {
		if !b.Salvaged {
			return
		}
		rows = append(rows, []cell{linked(b.Stock, at(p.From, "pieces", b.Stock)), plain(name), count(b.LengthMm), plain(strings.Join(b.MakesWords(), ", ")), plain(how), plain(over)})
	}
	for _, w := range p.Wholes {
		for _, b := range w.Becomes {
			add(b, w.Name, "whole, with "+w.From, "")
		}
	}
	for _, l := range p.Lengths {
		for _, b := range l.Becomes {
			over := ""
			if b.OffcutMm > 0 {
				over = strconv.Itoa(b.OffcutMm)
			}
			add(b, l.Title(), b.HowWords(), over)
		}
	}
	for _, s := range p.Sheets {
		for _, l := range s.Layouts {
			add(l.Become, s.Name, l.HowWords(), l.OverWords())
		}
	}
	for _, u := range p.Units {
		for _, b := range u.Becomes {
			add(b, u.Name, b.HowWords(), "")
		}
	}
	return newTable(c, "becomes", "What becomes what", []column{
		{Key: "piece", Title: "Piece from here"}, {Key: "what", Title: "What it is", Rest: true}, {Key: "usable", Title: "Usable mm", Figure: true}, {Key: "becomes", Title: "Becomes (mm)"},
		{Key: "how", Title: "How"}, {Key: "over", Title: "Over mm", Rest: true},
	}, rows)
}

func cannotBeMade(c echo.Context, p *move.Plan) table {
	rows := make([][]cell, len(p.Cannot))
	for i, x := range p.Cannot {
		rows[i] = []cell{linked(x.Element, at(p.To, "pieces", x.Element)), plain(x.Name), {Text: x.Why, Flag: true}, plain(x.Mend)}
	}
	return newTable(c, "cannot", "Cannot be made", []column{{Key: "piece", Title: "Piece"}, {Key: "what", Title: "What"}, {Key: "why", Title: "Why"}, {Key: "mend", Title: "What to do"}}, rows)
}

// loads lists trips with their pieces in the order of loading.
func loads(c echo.Context, p *move.Plan) table {
	rows := make([][]cell, len(p.Loads))
	for i, l := range p.Loads {
		var care []string
		if l.Dry {
			care = append(care, "keep dry")
		}
		if l.Flat {
			care = append(care, "boards flat or on edge, never bent")
		}
		rows[i] = []cell{count(l.Number), count(len(l.Pieces)), measured(l.MassKg, 1), measured(l.VolumeM3, 2), plain(strings.Join(care, "; ")), plain(strings.Join(l.Pieces, ", "))}
	}
	return newTable(c, "loads", "Loads: first up comes off first", []column{
		{Key: "load", Title: "Load", Figure: true}, {Key: "pieces", Title: "Pieces", Figure: true, Sum: sumCount}, {Key: "kg", Title: "kg", Figure: true, Sum: sumKg}, {Key: "m3", Title: "m³", Figure: true, Rest: true, Sum: sumM3},
		{Key: "care", Title: "Take care"}, {Key: "order", Title: "In the order of loading", Rest: true},
	}, rows)
}

// lifts lists who lifts what where one person is not enough.
func lifts(c echo.Context, p *move.Plan) table {
	rows := make([][]cell, len(p.Lifts))
	for i, l := range p.Lifts {
		people := cell{Text: "not by hand", Value: 9, Flag: true}
		if l.People > 0 {
			people = count(l.People)
		}
		rows[i] = []cell{plain(l.Where), people, measured(l.HeaviestKg, 1), plain(l.Words), plain(strings.Join(l.Pieces, ", "))}
	}
	return newTable(c, "lifts", "Who lifts what", []column{
		{Key: "where", Title: "Where"}, {Key: "people", Title: "People", Figure: true}, {Key: "kg", Title: "Heaviest kg", Figure: true}, {Key: "why", Title: "Why"}, {Key: "pieces", Title: "Pieces", Rest: true},
	}, rows)
}

func puttingUp(c echo.Context, p *move.Plan) table {
	rows := make([][]cell, len(p.Build))
	for i, b := range p.Build {
		there := "nothing salvaged in it"
		switch {
		case b.Load == 0 && b.Other:
			there = "no load"
		case b.Load > 0:
			there = fmt.Sprintf("load %d", b.Load)
		}
		if b.Other {
			there += ", and what needs another vehicle"
		}
		if b.Bought {
			there += ", and what is bought"
		}
		rows[i] = []cell{count(b.Order), linked(strings.TrimSpace(b.Assembly+" "+b.Name), at(p.To, "assemblies", b.Assembly)), count(b.Pieces), {Text: hours(b.Minutes), Value: float64(b.Minutes)}, count(b.People), plain(strings.Join(b.Access, ", ")), plain(there)}
		if b.Assembly == "" {
			rows[i][1] = plain(b.Name)
		}
	}
	return newTable(c, "build", "Putting up, in this order", []column{
		{Key: "order", Title: "Order", Figure: true}, {Key: "what", Title: "What"}, {Key: "pieces", Title: "Pieces", Figure: true, Rest: true, Sum: sumCount},
		{Key: "work", Title: "Work of one", Figure: true, Sum: func(v float64) string { return hours(int(v)) }}, {Key: "people", Title: "People", Figure: true}, {Key: "from", Title: "From", Rest: true}, {Key: "there", Title: "Has to be there"},
	}, rows)
}

// leftOver lists what is not used and the offcuts that are worth keeping.
func leftOver(c echo.Context, p *move.Plan) table {
	rows := make([][]cell, len(p.Left))
	for i, l := range p.Left {
		piece := linked(l.Piece, at(p.From, "pieces", l.Piece))
		if l.New {
			piece = plain("bought " + l.Piece)
		}
		size := strconv.Itoa(l.LengthMm)
		if l.WidthMm > 0 {
			size = fmt.Sprintf("%d × %d", l.LengthMm, l.WidthMm)
		}
		rows[i] = []cell{piece, plain(l.Name), {Text: size, Value: float64(l.LengthMm)}, count(l.Count), plain(l.What)}
	}
	return newTable(c, "left", "Left over", []column{{Key: "piece", Title: "Piece"}, {Key: "what", Title: "What it is", Rest: true}, {Key: "mm", Title: "Size mm", Figure: true}, {Key: "count", Title: "Count", Figure: true, Rest: true, Sum: sumCount}, {Key: "do", Title: "What to do with it"}}, rows)
}
