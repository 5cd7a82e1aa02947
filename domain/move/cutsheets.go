package move

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"unpick/domain"
	"unpick/domain/cutting"
	"unpick/domain/salvage"
)

// rowOfPanels are like panels that are wanted, in order of code. A panel that is no plain rectangle is cut from the one round it.
type rowOfPanels struct {
	kind       domain.ElementKind
	long, wide int
	outline    string // the key of its shape
	pieces     []int  // rows of the register
}

// sheet is a salvaged sheet and the part of it that is used.
type sheet struct {
	*salvage.Piece
	part cutting.Rect
	key  string // of its shape, where it is no plain rectangle
}

// sheets cuts one sheet material of one thickness. Boards with a grain or a face pattern keep their length along the
// sheet's; plasterboard, fibreboard and insulation may be turned (common practice, no source). Of a salvaged sheet that is no
// plain rectangle the largest rectangle is used that holds the largest wanted panel that it can hold; a panel of its very
// shape is taken as it is.
func (p *Plan) sheets(want wanted, stock saved, prices map[string]domain.Price, s section) error {
	r := p.register
	m := r.Catalogue.Materials[s.material]
	problem := cutting.Sheets{KerfMm: p.Terms.KerfMm}
	if scored(m) {
		problem.KerfMm = 0
	}
	rows := p.panelRows(want.by[bySheet][s], flipsOf(m))
	out := SheetCut{Material: s.material, Name: m.Name, ThickMm: s.a, KerfMm: problem.KerfMm, Layouts: []SheetLayout{}, bought: map[merchant]int{}}
	left := make([][]int, len(rows))
	for i := range rows {
		left[i] = rows[i].pieces
	}
	take := func(row int) *domain.Element {
		e := &r.Elements[left[row][0]]
		left[row] = left[row][1:]
		return e
	}
	var salvaged []sheet
	parts := map[string]cutting.Rect{} // of like sheets
	for _, b := range p.sheetsOf(stock[bySheet][s], flipsOf(m)) {
		if row := sameShape(rows, left, &b); row >= 0 {
			out.Layouts = append(out.Layouts, p.asItIs(&b, take(row)))
			continue
		}
		like := fmt.Sprintf("%d %d %d %v %s", b.LengthMm, b.UsableMm, b.WidthMm, serves(b.Piece), cornerWords(p.here[b.Code].Outline))
		part, ok := parts[like]
		if !ok {
			part = p.partFor(&b, rows, turns(m))
			parts[like] = part
		}
		if b.part = part; b.part.LengthMm > 0 {
			salvaged = append(salvaged, b)
			problem.Stock = append(problem.Stock, cutting.Sheet{Code: b.Code, LengthMm: b.part.LengthMm, WidthMm: b.part.WidthMm, Count: 1, Serves: serves(b.Piece)})
		}
	}
	for i, row := range rows {
		problem.Demand = append(problem.Demand, cutting.Panel{Code: string(row.kind), Kind: string(row.kind), LengthMm: row.long, WidthMm: row.wide, Turn: turns(m), Count: len(left[i])})
	}
	source := productOf(r.Catalogue, prices, bySheet, s, problem.KerfMm)
	for _, x := range source.sizes {
		problem.Stock = append(problem.Stock, cutting.Sheet{Code: x.code, LengthMm: x.lengthMm, WidthMm: x.widthMm, Count: cutting.Unlimited, PriceMinor: x.price, NoPrice: !x.priced})
	}
	plan, asked, err := p.saw.cutSheets(&problem)
	if err != nil {
		return err
	}
	out.solved = solved{asked, allPriced(source.sizes)}
	out.Bound, out.Objective, out.GapPercent, out.Proven = plan.Bound, plan.Objective, plan.GapPercent, plan.Proven
	if err := p.boundSheets(&out, &problem, salvaged, plan); err != nil {
		return err
	}
	for _, layout := range plan.Sheets {
		for range layout.Times {
			l := SheetLayout{Saw: append([]cutting.SawCut{}, layout.Saw...), Offcuts: layout.Offcuts}
			if layout.Stock < len(salvaged) {
				p.salvagedSheet(&l, &salvaged[layout.Stock])
			} else {
				x := source.sizes[layout.Stock-len(salvaged)]
				l.Become = Become{Stock: x.code, LengthMm: x.lengthMm, WidthMm: x.widthMm}
				out.bought[x]++
			}
			l.Cuts += len(l.Saw)
			out.WasteMm2 += int64(l.LengthMm) * int64(l.WidthMm)
			for _, placed := range layout.Panels {
				e := take(placed.Demand)
				l.Makes, l.Panels = append(l.Makes, e.Code), append(l.Panels, Panel{e.Code, placed.Turned, placed.Rect})
				l.PiecesMm, l.WidthsMm = append(l.PiecesMm, placed.LengthMm), append(l.WidthsMm, placed.WidthMm)
				l.shape(e, false)
				out.WasteMm2 -= areaOf(placed.Rect)
			}
			out.Layouts = append(out.Layouts, l)
		}
	}
	for _, l := range out.Layouts {
		out.Cuts += l.Cuts
	}
	p.unmade(left, plan.Unmade, source)
	slices.SortStableFunc(out.Layouts, func(a, b SheetLayout) int { return salvagedFirst(a.Become, b.Become) })
	p.Proven = p.Proven && out.Proven
	p.Sheets = append(p.Sheets, out)
	return nil
}

// panelRows gathers like panels: of one kind, size and shape.
func (p *Plan) panelRows(wanted []int, flips []flip) []rowOfPanels {
	type like struct {
		kind       domain.ElementKind
		long, wide int
		outline    string
	}
	at := map[like]int{}
	var rows []rowOfPanels
	for _, i := range wanted {
		e := &p.register.Elements[i]
		k := like{e.Kind, e.LengthMm, e.WidthMm, outlineKey(e, flips)}
		row, ok := at[k]
		if !ok {
			row = len(rows)
			at[k] = row
			rows = append(rows, rowOfPanels{kind: e.Kind, long: e.LengthMm, wide: e.WidthMm, outline: k.outline})
		}
		rows[row].pieces = append(rows[row].pieces, i)
	}
	return rows
}

// sheetsOf are the salvaged sheets, those that carried last.
func (p *Plan) sheetsOf(pieces []*salvage.Piece, flips []flip) []sheet {
	var out []sheet
	for _, q := range bestFirst(pieces) {
		out = append(out, sheet{Piece: q, key: outlineKey(p.here[q.Code], flips)})
	}
	return out
}

// sameShape is the row that wants a panel of a sheet's very shape, -1 where none does.
func sameShape(rows []rowOfPanels, left [][]int, b *sheet) int {
	if b.key == "" || b.UsableMm < b.LengthMm {
		return -1
	}
	list := serves(b.Piece)
	for i, r := range rows {
		if len(left[i]) > 0 && r.outline == b.key && r.long == b.LengthMm && r.wide == b.WidthMm && (list == nil || slices.Contains(list, string(r.kind))) {
			return i
		}
	}
	return -1
}

// partFor is the rectangle of a sheet that is used: all of it, less what is spoilt of its length; of one that is no plain
// rectangle the widest that is as long as the largest wanted panel that goes into it, else the largest there is.
func (p *Plan) partFor(b *sheet, rows []rowOfPanels, turn bool) cutting.Rect {
	spoilt := b.LengthMm - b.UsableMm
	if b.key == "" {
		return cutting.Rect{XMm: spoilt, LengthMm: b.UsableMm, WidthMm: b.WidthMm}
	}
	o := outlineOf(p.here[b.Code])
	best, most := o.largest(), int64(0)
	list := serves(b.Piece)
	tried := map[int]cutting.Rect{}
	try := func(long, wide int) {
		part, ok := tried[long]
		if !ok {
			part = o.widest(long + spoilt)
			tried[long] = part
		}
		area := int64(long) * int64(wide)
		if part.WidthMm >= wide && (area > most || area == most && areaOf(part) > areaOf(best)) {
			best, most = part, area
		}
	}
	for _, r := range rows {
		if list != nil && !slices.Contains(list, string(r.kind)) {
			continue
		}
		try(r.long, r.wide)
		if turn {
			try(r.wide, r.long)
		}
	}
	best.XMm, best.LengthMm = best.XMm+spoilt, max(best.LengthMm-spoilt, 0)
	return best
}

// salvagedSheet fills in the stock of a layout: a part that is less than its sheet is cut out first, one cut a side.
func (p *Plan) salvagedSheet(l *SheetLayout, b *sheet) {
	e := p.here[b.Code]
	l.Become = Become{Stock: b.Code, Salvaged: true, LengthMm: b.part.LengthMm, WidthMm: b.part.WidthMm}
	if b.key == "" && b.part.LengthMm == e.LengthMm {
		return
	}
	l.Shape = &Shape{LengthMm: e.LengthMm, WidthMm: e.WidthMm, XMm: b.part.XMm, YMm: b.part.YMm, Outline: e.Outline}
	for _, gap := range [4]int{b.part.XMm, b.part.YMm, e.LengthMm - b.part.XMm - b.part.LengthMm, e.WidthMm - b.part.YMm - b.part.WidthMm} {
		if gap > 0 {
			l.Cuts++
		}
	}
}

// asItIs is a sheet that is taken for a panel of its very shape.
func (p *Plan) asItIs(b *sheet, e *domain.Element) SheetLayout {
	here := p.here[b.Code]
	l := SheetLayout{Become: Become{Stock: b.Code, Salvaged: true, LengthMm: here.LengthMm, WidthMm: here.WidthMm, Makes: []string{e.Code}, PiecesMm: []int{here.LengthMm}, WidthsMm: []int{here.WidthMm},
		Shape: &Shape{LengthMm: here.LengthMm, WidthMm: here.WidthMm, Outline: here.Outline}},
		Panels: []Panel{{Element: e.Code, Rect: cutting.Rect{LengthMm: here.LengthMm, WidthMm: here.WidthMm}}}, Saw: []cutting.SawCut{}}
	l.shape(e, true)
	return l
}

// shape notes how a panel that is no plain rectangle is cut to its corners: one cut for each edge that is not on the
// rectangle round it.
func (l *SheetLayout) shape(e *domain.Element, asItIs bool) {
	if len(e.Outline) < 3 {
		return
	}
	l.Forms = append(l.Forms, Form{Element: e.Code, Words: outlineWords(e), Outline: e.Outline, AsItIs: asItIs})
	if asItIs {
		return
	}
	corners := inOrder(e.Outline)
	for i, a := range corners {
		b := corners[(i+1)%len(corners)]
		onEdge := a.AlongMm == b.AlongMm && (a.AlongMm == 0 || a.AlongMm == e.LengthMm) || a.AcrossMm == b.AcrossMm && (a.AcrossMm == 0 || a.AcrossMm == e.WidthMm)
		if !onEdge {
			l.Cuts++
		}
	}
}

// boundSheets says how far above the least the cutting may be where salvaged sheets are not square: whatever rectangle is used
// of one, no panel comes out of it that fits in none, and all of them fit in the rectangle round it.
func (p *Plan) boundSheets(out *SheetCut, problem *cutting.Sheets, salvaged []sheet, plan *cutting.SheetPlan) error {
	if out.Objective == 0 || !slices.ContainsFunc(salvaged, func(b sheet) bool { return b.key != "" }) {
		return nil
	}
	round := *problem
	round.Stock, round.Demand = slices.Clone(problem.Stock), slices.Clone(problem.Demand)
	for row := range round.Demand {
		round.Demand[row].Kind = strconv.Itoa(row) // what may serve is said row by row
	}
	holds := map[string][]string{} // by like sheets: the rows that fit in
	for i := range salvaged {
		b, stock := &salvaged[i], &round.Stock[i]
		stock.LengthMm, stock.WidthMm = b.UsableMm, b.WidthMm
		like := fmt.Sprintf("%d %v %s", b.UsableMm, stock.Serves, cornerWords(p.here[b.Code].Outline))
		rows, ok := holds[like]
		if !ok {
			rows = p.rowsIn(b, problem, stock.Serves)
			holds[like] = rows
		}
		stock.Serves = rows
	}
	relaxed, asked, err := p.saw.boundSheets(&round)
	if err != nil {
		return err
	}
	out.solved.problem += "\n" + asked
	out.Bound = 0
	if countUnmade(relaxed.Unmade) == countUnmade(plan.Unmade) {
		out.Bound = min(relaxed.Bound, plan.Bound)
	}
	out.GapPercent, out.Proven = gapOf(out.Objective, out.Bound)
	return nil
}

// rowsIn are the rows of panels of which one fits in a sheet, wherever in it. None is said by a row that there is not.
func (p *Plan) rowsIn(b *sheet, problem *cutting.Sheets, serves []string) []string {
	o, spoilt := outlineOf(p.here[b.Code]), b.LengthMm-b.UsableMm
	out := []string{}
	for row, d := range problem.Demand {
		if len(serves) > 0 && !slices.Contains(serves, d.Kind) {
			continue
		}
		if o.widest(d.LengthMm+spoilt).WidthMm >= d.WidthMm || d.Turn && o.widest(d.WidthMm+spoilt).WidthMm >= d.LengthMm {
			out = append(out, strconv.Itoa(row))
		}
	}
	if len(out) == 0 {
		out = append(out, "none")
	}
	return out
}

// flipsOf are the ways in which a panel of a material lies on its own place: turned round, and over where both faces are
// alike (common practice, no source). A tongued board lies one way only.
func flipsOf(m domain.Material) []flip {
	switch {
	case strings.HasSuffix(m.Code, "-tg"):
		return []flip{{}}
	case m.Kind == "insulation" && !strings.Contains(m.Name, "faced"),
		slices.ContainsFunc([]string{"osb3-", "mdf-", "p6-"}, func(prefix string) bool { return strings.HasPrefix(m.Code, prefix) }):
		return []flip{{}, {true, true}, {true, false}, {false, true}}
	}
	return []flip{{}, {true, true}}
}

// turns reports whether a panel may be cut across the sheet.
func turns(m domain.Material) bool {
	if m.Kind == "insulation" {
		return true
	}
	return slices.ContainsFunc([]string{"pb-", "mdf-", "hardboard-", "cement-board-"}, func(prefix string) bool { return strings.HasPrefix(m.Code, prefix) })
}

// scored reports whether a sheet is scored and snapped, or cut with a knife: no saw, no kerf.
func scored(m domain.Material) bool {
	return m.Kind == "insulation" || strings.HasPrefix(m.Code, "pb-")
}
