package reports

import (
	"fmt"
	"strings"

	"unpick/domain"
	"unpick/domain/move"
)

// asItStood has a row for every assembly that goes up again as it stood; a sheet that is left out where none does.
func (b *book) asItStood(p *move.Plan) {
	if len(p.Wholes) == 0 {
		return
	}
	t := b.newTable("Goes up as it stood", []column{{"From here", 14, strong}, {"Becomes", 14, strong}, {"Name", 34, plain}, {"Pieces", 9, whole}, {"How", 90, plain}, {"Made anew", 34, plain}}, a3, len(p.Wholes))
	for _, w := range p.Wholes {
		t.add(w.From, w.To, w.Name, w.Pieces, w.How, strings.Join(w.New, ", "))
	}
	t.end()
}

func (b *book) cannotBeMade(p *move.Plan) {
	t := b.newTable("Cannot be made", []column{{"Piece", 16, strong}, {"What", 60, plain}, {"Why", 50, plain}, {"What to do", 60, plain}}, a4, len(p.Cannot))
	for _, x := range p.Cannot {
		t.add(x.Element, x.Name, x.Why, x.Mend)
	}
	t.end()
}

// misfits is a sheet where the layout does not fit, and none where it does.
func (b *book) misfits(p *move.Plan) {
	if len(p.Misfits) == 0 {
		return
	}
	t := b.newTable("Does not fit", []column{{"Pieces", 30, strong}, {"What is wrong", 70, plain}, {"Mend", 60, plain}}, a4, len(p.Misfits))
	for _, x := range p.Misfits {
		t.add(strings.Join(x.Codes, ", "), x.Text, x.Mend)
	}
	t.end()
}

// leftOver has a row for every salvaged piece that is not used, and for every size of offcut that is worth keeping.
func (b *book) leftOver(p *move.Plan) {
	t := b.newTable("Left over", []column{{"Piece", 24, strong}, {"What it is", 40, plain}, {"Length (mm)", 10, whole}, {"Width (mm)", 10, whole}, {"Count", 8, whole}, {"Offcut", 14, plain}, {"What to do with it", 70, plain}}, a3, len(p.Left))
	for _, l := range p.Left {
		offcut := ""
		switch {
		case l.New:
			offcut = "of what is bought"
		case l.Offcut:
			offcut = "yes"
		}
		var wide any
		if l.WidthMm > 0 {
			wide = l.WidthMm
		}
		t.add(l.Piece, l.Name, l.LengthMm, wide, l.Count, offcut, l.What)
	}
	t.end()
}

// loads has a row for every piece, in the order in which it goes onto the bed: to tick off while loading. What needs another
// vehicle stands below.
func (b *book) loads(p *move.Plan) {
	stranded := p.Stranded()
	rows := len(stranded)
	for _, l := range p.Loads {
		rows += len(l.Pieces)
	}
	t := b.newTable("Loads", []column{{"Load", 7, number}, {"Goes in", 7, number}, {"Piece", 11, strong}, {"What it is", 36, plain}, {"Length (mm)", 9, whole}, {"Width (mm)", 9, whole}, {"kg", 7, tenths},
		{"Goes up", 30, plain}, {"Load (kg)", 9, tenths}, {"Take care of the load", 22, plain}, {"Loaded", 9, toFill}, {"Off again", 9, toFill}}, a4, rows)
	fates := p.Fates()
	add := func(load any, pieces []string, kg any, care string) {
		for i, q := range p.Loaded(pieces) {
			t.add(load, i+1, q.Code, q.MaterialName, q.LengthMm, q.WidthMm, q.MassKg, fates[q.Code].Up(), kg, care, "", "")
			kg, care = nil, ""
		}
	}
	for _, l := range p.Loads {
		care := []string{"first up comes off first"}
		if l.Dry {
			care = append(care, "keep dry")
		}
		if l.Flat {
			care = append(care, "boards and doors flat or on edge, never bent")
		}
		add(l.Number, l.Pieces, l.MassKg, strings.Join(care, "; "))
	}
	add("other", stranded, nil, "needs another vehicle")
	t.end()
}

// lifts has a row for every lift that is not one person's.
func (b *book) lifts(p *move.Plan) {
	t := b.newTable("Who lifts what", []column{{"Where", 22, plain}, {"People", 12, plain}, {"Heaviest (kg)", 10, tenths}, {"Why", 50, plain}, {"Pieces", 80, plain}}, a3, len(p.Lifts))
	for _, l := range p.Lifts {
		people := any("not by hand")
		if l.People > 0 {
			people = l.People
		}
		t.add(l.Where, people, l.HeaviestKg, l.Words, strings.Join(l.Pieces, ", "))
	}
	t.end()
}

func (b *book) puttingUp(p *move.Plan) {
	t := b.newTable("Putting up", []column{{"Order", 8, number}, {"Assembly", 12, strong}, {"Name", 44, plain}, {"Pieces", 9, whole}, {"Work of one (min)", 11, whole}, {"People", 9, number}, {"From", 14, plain}, {"After load", 14, plain}, {"Needs what is bought", 12, plain}}, a4, len(p.Build))
	pieces, minutes := 0, 0
	for _, x := range p.Build {
		load, bought := "", ""
		if x.Load > 0 {
			load = fmt.Sprint(x.Load)
		}
		if x.Other {
			load = strings.TrimSpace(load + " and another vehicle")
		}
		if x.Bought {
			bought = "yes"
		}
		t.add(x.Order, x.Assembly, x.Name, x.Pieces, x.Minutes, x.People, strings.Join(x.Access, ", "), load, bought)
		pieces, minutes = pieces+x.Pieces, minutes+x.Minutes
	}
	t.total("All", "B", sum{"D", pieces, ""}, sum{"E", minutes, ""})
	t.end()
}

// ways has a row for each way, whose money and hours are the sums of its parts on the sheet behind it.
func (b *book) ways(p *move.Plan) {
	t := b.newTable("Ways", []column{{"Way", 40, strong}, {"Money (" + p.Currency + ")", 14, money}, {"Is it all", 44, plain}, {"Person-hours", 11, tenths}, {"Bought (kg CO2e)", 12, tenths}, {"Carbon not known for", 40, plain}, {"Trips", 8, whole}, {"Delivered", 11, whole}, {"Fetched", 9, whole}, {"What is in it", 70, plain}}, a3, len(p.Ways))
	for _, x := range p.Ways {
		n := t.row + 1
		all := "total, before contingency and tax"
		if !x.Known {
			all = "no total, only what is known: " + strings.Join(x.NoTotal, "; ")
		}
		hours := 0
		for _, part := range x.Parts {
			hours += part.Minutes
		}
		t.add(x.Name, formula{fmt.Sprintf("ROUND(SUMIF('Ways, parts'!A:A,A%d,'Ways, parts'!C:C),%d)", n, domain.MinorDigits(p.Currency)), b.major(x.Money)}, all,
			formula{fmt.Sprintf("SUMIF('Ways, parts'!A:A,A%d,'Ways, parts'!D:D)/60", n), float64(hours) / 60}, x.CarbonKg, strings.Join(x.NoCarbon, "; "), x.Loads, x.Delivered, x.Fetched, x.Because)
	}
	t.end()
	rows := 0
	for _, x := range p.Ways {
		rows += len(x.Parts) + len(x.LeftOut)
	}
	t = b.newTable("Ways, parts", []column{{"Way", 40, strong}, {"Part", 40, plain}, {"Money (" + p.Currency + ")", 14, money}, {"Work (min)", 10, whole}, {"Made of", 90, plain}}, a3, rows)
	for _, x := range p.Ways {
		for _, part := range x.Parts {
			amount := any("no price")
			if part.Known || part.Money != 0 {
				amount = b.major(part.Money)
			}
			t.add(x.Name, part.Name, amount, part.Minutes, part.Made)
		}
		for _, words := range x.LeftOut {
			t.add(x.Name, "in no figure", nil, nil, words)
		}
	}
	t.end()
}

// otherSizes are sizes near those of the layout that buy less, where they were asked for, and those that were not tried.
func (b *book) otherSizes(p *move.Plan) {
	if p.Sizes == nil {
		return
	}
	s := p.Sizes
	t := b.newTable("Other sizes", []column{{"Assembly", 12, strong}, {"Name", 34, plain}, {"Size", 10, plain}, {"Asked (mm)", 10, whole}, {"Could be (mm)", 10, whole}, {"Saves (" + p.Currency + ")", 13, money}, {"Certain", 10, plain}, {"In words", 100, plain}}, a4, len(s.Better)+len(s.Pairs)+len(s.Fixed)+len(s.Refused)+1)
	told := func(x move.Gain) (saves any, certain string) {
		saves, certain = b.major(x.SavedMinor), "yes"
		if !x.Known {
			saves = "not all priced"
		}
		if !x.Sure {
			certain = "no: inside the gap"
		}
		return saves, certain
	}
	for _, x := range s.Better {
		saves, certain := told(x.Gain)
		t.add(x.Assembly, x.Name, string(x.Dimension), x.WasMm, x.IsMm, saves, certain, x.Words)
	}
	for _, x := range s.Pairs { // both sizes stand in the words: a row has one
		saves, certain := told(x.Gain)
		t.add(x.Sizes[0].Assembly+", "+x.Sizes[1].Assembly, "two at once", "", nil, nil, saves, certain, x.Words)
	}
	t.add("", "two at once", "", nil, nil, nil, "", fmt.Sprintf("%d pairs tried that are cut from the same stock, one of which alone buys nothing less, the nearest first; %d left out", s.PairsTried, s.PairsLeftOut))
	for _, x := range s.Fixed {
		t.add(x.Assembly, x.Name, string(x.Dimension), nil, nil, nil, "", "Not tried: "+x.Why)
	}
	for _, x := range s.Refused {
		t.add(x.Assembly, x.Name, string(x.Dimension), nil, nil, nil, "", fmt.Sprintf("Not tried at %s mm: %s", strings.Trim(fmt.Sprint(x.SizesMm), "[]"), x.Why))
	}
	t.end()
}
