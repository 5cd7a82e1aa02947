package move

import (
	"cmp"
	"math"
	"slices"
	"sort"

	"unpick/domain"
	"unpick/domain/cutting"
	"unpick/domain/salvage"
)

// rowOfLengths are like pieces that are wanted, in order of code.
type rowOfLengths struct {
	profile
	kind    domain.ElementKind
	outline string // where it has one: only the same shape is as it is
	pieces  []int  // rows of the register, in order of code
}

// bar is a salvaged length as it lies on the saw: the end first from which it is measured.
type bar struct {
	profile
	*salvage.Piece // nil where it is bought
	outline        string
	spoiltMm       int  // cut off before anything else
	first          *job // the piece that is held for it already, at its first end
}

// job is one wanted piece that is held for a bar, before the rest is cut.
type job struct {
	row    int
	lies   profile
	asItIs bool
}

// lengths cuts one section: like pieces are one row of demand, and get their codes back in order. Where wanted pieces have
// their ends cut at an angle, those of the same shape as a salvaged one go first, and then those that can use its end; each
// way is tried, and the one that leaves least unmade, costs least, wastes least and saws least is kept.
func (p *Plan) lengths(want wanted, stock saved, prices map[string]domain.Price, s section) error {
	rows := p.lengthRows(want.by[byLength][s])
	source := productOf(p.register.Catalogue, prices, byLength, s, p.Terms.KerfMm)
	var best *lengthTry
	for _, hold := range []func([]rowOfLengths, []bar){holdNothing, holdSame, holdEnds} {
		bars := p.barsOf(stock[byLength][s])
		hold(rows, bars)
		if best != nil && !slices.ContainsFunc(bars, func(b bar) bool { return b.first != nil }) {
			continue
		}
		try, err := p.tryLengths(rows, bars, source, s)
		if err != nil {
			return err
		}
		if best == nil || try.compare(best) < 0 {
			best = try
		}
	}
	if err := p.boundLengths(best, rows, p.barsOf(stock[byLength][s]), source); err != nil {
		return err
	}
	p.unmade(best.left, best.plan.Unmade, source)
	p.Proven = p.Proven && best.cut.Proven
	p.Lengths = append(p.Lengths, best.cut)
	return nil
}

// lengthRows gathers like pieces: of one kind, length and shape.
func (p *Plan) lengthRows(wanted []int) []rowOfLengths {
	type like struct {
		kind    domain.ElementKind
		reach   int
		lean    [2]float64
		across  int
		outline string
	}
	at := map[like]int{}
	var rows []rowOfLengths
	for _, i := range wanted {
		e := &p.register.Elements[i]
		f := profileOf(e)
		k := like{kind: e.Kind, reach: f.reachMm, lean: f.lean, outline: lengthOutline(e)}
		if f.bevelled() {
			k.across = f.thicknessMm
		}
		row, ok := at[k]
		if !ok {
			row = len(rows)
			at[k] = row
			rows = append(rows, rowOfLengths{profile: f, kind: e.Kind, outline: k.outline})
		}
		rows[row].pieces = append(rows[row].pieces, i)
	}
	return rows
}

// lengthOutline is the key of a length's outline, which lies on itself however it is turned.
func lengthOutline(e *domain.Element) string {
	if len(e.Outline) < 3 {
		return ""
	}
	return outlineKey(e, []flip{{}, {true, false}, {false, true}, {true, true}})
}

// barsOf are salvaged lengths as they can be used. Where an end is spoilt nobody knows here which, so that it is taken off a
// square one, and no cut end is counted on. A bar with one square end is measured from that.
func (p *Plan) barsOf(pieces []*salvage.Piece) []bar {
	var out []bar
	for _, q := range bestFirst(pieces) {
		b := bar{Piece: q}
		e := p.here[q.Code]
		b.profile, b.outline = profileOf(e), lengthOutline(e)
		if b.from > 0 && b.to == b.reachMm {
			b.profile = b.turned()
		}
		if spoilt := q.LengthMm - q.UsableMm; spoilt > 0 {
			b.spoiltMm = spoilt
			b.from += spoilt
		}
		if b.to > b.from {
			out = append(out, b)
		}
	}
	return out
}

// whole reports whether a bar still has both its ends.
func (b *bar) whole() bool { return b.spoiltMm == 0 }

func (b *bar) mayServe(kind domain.ElementKind) bool {
	list := serves(b.Piece)
	return list == nil || slices.Contains(list, string(kind))
}

func holdNothing([]rowOfLengths, []bar) {}

// holdSame holds for each wanted piece with cut ends or an outline a bar of the very same shape.
func holdSame(rows []rowOfLengths, bars []bar) {
	byReach := map[int][]int{}
	for i := range bars {
		byReach[bars[i].reachMm] = append(byReach[bars[i].reachMm], i)
	}
	for row := range rows {
		r := &rows[row]
		if !r.bevelled() && r.outline == "" {
			continue
		}
		left := len(r.pieces)
		for _, i := range byReach[r.reachMm] {
			b := &bars[i]
			if left == 0 {
				break
			}
			if lies, ok := r.lies(b.profile); ok && b.first == nil && b.whole() && b.outline == r.outline && b.mayServe(r.kind) {
				b.first = &job{row, lies, true}
				left--
			}
		}
	}
}

// holdEnds holds bars of the same shape, then for each wanted piece with a cut end the shortest bar that has the same cut at
// an end and is long enough from there.
func holdEnds(rows []rowOfLengths, bars []bar) {
	holdSame(rows, bars)
	held := make([]int, len(rows))
	for i := range bars {
		if f := bars[i].first; f != nil {
			held[f.row]++
		}
	}
	order := make([]int, len(rows))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(rows[b].reachMm, rows[a].reachMm) })
	ends := endsOf(bars)
	for _, row := range order {
		r := &rows[row]
		if r.outline != "" {
			continue
		}
		for range len(r.pieces) - held[row] {
			if !ends.hold(row, r, bars) {
				break
			}
		}
	}
}

// barEnds are bars by how much their cut ends overhang, in whole sameCutMm, shortest first, with the next free one.
type barEnds map[int]*endList

type endList struct {
	bars []barEnd
	next []int // of a taken place the next that may be free
}

type barEnd struct {
	bar, end, squareMm int
}

func cutClass(overhang float64) int { return int(math.Round(overhang / sameCutMm)) }

func endsOf(bars []bar) barEnds {
	out := barEnds{}
	for i := range bars {
		b := &bars[i]
		if !b.whole() || b.first != nil || b.outline != "" {
			continue
		}
		for end := range 2 {
			if class := cutClass(b.overhang(end)); class > 0 {
				if out[class] == nil {
					out[class] = &endList{}
				}
				out[class].bars = append(out[class].bars, barEnd{i, end, b.to - b.from})
			}
		}
	}
	for _, l := range out {
		slices.SortStableFunc(l.bars, func(a, b barEnd) int { return cmp.Compare(a.squareMm, b.squareMm) })
		l.next = make([]int, len(l.bars)+1)
		for i := range l.next {
			l.next[i] = i
		}
	}
	return out
}

// free is the first place from one on that is not taken.
func (l *endList) free(at int) int {
	for l.next[at] != at {
		l.next[at] = l.next[l.next[at]]
		at = l.next[at]
	}
	return at
}

// hold gives one piece of a row the shortest bar with an end like one of its own.
func (ends barEnds) hold(row int, r *rowOfLengths, bars []bar) bool {
	for end := range 2 {
		if r.overhang(end) == 0 {
			continue
		}
		need := r.reachMm - int(r.overhang(end)+1e-6) // beyond the square of the end that is there
		for class := cutClass(r.overhang(end)) - 1; class <= cutClass(r.overhang(end))+1; class++ {
			l := ends[class]
			if l == nil {
				continue
			}
			for at := l.free(sort.Search(len(l.bars), func(i int) bool { return l.bars[i].squareMm >= need })); at < len(l.bars); at = l.free(at + 1) {
				x := l.bars[at]
				b := &bars[x.bar]
				if b.first != nil {
					l.next[at] = at + 1
					continue
				}
				if b.thicknessMm != r.thicknessMm || !sameLean(b.overhang(x.end), r.overhang(end)) || !b.mayServe(r.kind) {
					continue
				}
				b.layFirst(row, r, x.end, end)
				l.next[at] = at + 1
				return true
			}
		}
	}
	return false
}

// layFirst turns the bar so that its end comes first, and lays the piece with its own end upon it.
func (b *bar) layFirst(row int, r *rowOfLengths, barEnd, end int) {
	if barEnd == 1 {
		b.profile = b.turned()
	}
	lies := r.profile
	if end == 1 {
		lies = lies.turned()
	}
	if !sameLean(lies.lean[0], b.lean[0]) {
		lies = lies.rolled()
	}
	b.first = &job{row, lies, false}
}

// lengthTry is one way of cutting a section.
type lengthTry struct {
	cut    LengthCut
	plan   *cutting.Plan
	left   [][]int // of each row, pieces without a place
	unmade int
}

func (x *lengthTry) compare(o *lengthTry) int {
	return cmp.Or(cmp.Compare(x.unmade, o.unmade), cmp.Compare(x.cut.Objective, o.cut.Objective), cmp.Compare(x.cut.WasteMm, o.cut.WasteMm), cmp.Compare(x.cut.Cuts, o.cut.Cuts))
}

// tryLengths cuts what is not held already.
func (p *Plan) tryLengths(rows []rowOfLengths, bars []bar, source product, s section) (*lengthTry, error) {
	problem := p.lengthsProblem(rows, rowOfLengths.reach)
	var stockOf []int // bar of each row of the stock
	for i := range bars {
		b := &bars[i]
		if b.first != nil {
			problem.Demand[b.first.row].Count--
		}
		if left := b.to - b.restFrom(p.Terms.KerfMm); left > 0 && (b.first == nil || !b.first.asItIs) {
			stockOf = append(stockOf, i)
			problem.Stock = append(problem.Stock, cutting.Bar{Code: b.Code, LengthMm: left, Count: 1, Serves: serves(b.Piece)})
		}
	}
	problem.Stock = append(problem.Stock, source.bars()...)
	plan, asked, err := p.saw.cutLengths(&problem)
	if err != nil {
		return nil, err
	}
	m := p.register.Catalogue.Materials[s.material]
	x := &lengthTry{plan: plan, left: make([][]int, len(rows))}
	for i := range rows {
		x.left[i] = rows[i].pieces
	}
	x.cut = LengthCut{Material: s.material, Name: m.Name, WidthMm: s.a, DepthMm: s.b, Treated: s.treated, RipFromMm: source.ripFromMm, Becomes: []Become{}, Bound: plan.Bound, Objective: plan.Objective,
		GapPercent: plan.GapPercent, Proven: plan.Proven, bought: map[merchant]int{}, solved: solved{asked, allPriced(source.sizes)}}
	laid := make([][]cutting.Cut, len(bars))
	for _, layout := range plan.Bars {
		if layout.Stock < len(stockOf) {
			laid[stockOf[layout.Stock]] = layout.Cuts
			continue
		}
		size := source.sizes[layout.Stock-len(stockOf)]
		for range layout.Times {
			new := bar{profile: profile{reachMm: size.lengthMm, to: size.lengthMm}}
			b := x.saw(p, rows, &new, layout.Cuts)
			b.Stock = size.code
			if source.ripFromMm > 0 {
				b.RipFromMm, b.Cuts = source.ripFromMm, b.Cuts+1
			}
			x.cut.bought[size]++
			x.add(b, size.lengthMm)
		}
	}
	for i := range bars {
		if b := &bars[i]; b.first != nil || laid[i] != nil {
			out := x.saw(p, rows, b, laid[i])
			out.Stock, out.Salvaged = b.Code, true
			x.add(out, b.reachMm-b.spoiltMm)
		}
	}
	slices.SortStableFunc(x.cut.Becomes, salvagedFirst)
	x.unmade = countUnmade(plan.Unmade)
	return x, nil
}

// lengthsProblem is the demand of the rows, each so long as asked.
func (p *Plan) lengthsProblem(rows []rowOfLengths, long func(rowOfLengths) int) cutting.Lengths {
	problem := cutting.Lengths{KerfMm: p.Terms.KerfMm}
	for _, r := range rows {
		problem.Demand = append(problem.Demand, cutting.Piece{Code: string(r.kind), Kind: string(r.kind), LengthMm: long(r), Count: len(r.pieces)})
	}
	return problem
}

func (r rowOfLengths) reach() int { return r.reachMm }

// restFrom is where on a bar what is not held for it begins.
func (b *bar) restFrom(kerfMm int) int {
	if b.first != nil {
		return b.first.lies.reachMm + kerfMm
	}
	return b.from
}

// add counts what is not spoilt of a bar and becomes nothing as waste, so that every way of cutting it is measured alike.
func (x *lengthTry) add(b Become, goodMm int) {
	x.cut.Cuts += b.Cuts
	x.cut.WasteMm += int64(goodMm)
	for _, mm := range b.PiecesMm {
		x.cut.WasteMm -= int64(mm)
	}
	x.cut.Becomes = append(x.cut.Becomes, b)
}

// saw lays on a bar what is held for it and what is cut after that, one after the other.
func (x *lengthTry) saw(p *Plan, rows []rowOfLengths, b *bar, rest []cutting.Cut) Become {
	out := Become{LengthMm: b.to - b.from}
	var ends [][2]float64 // of each piece, as it lies
	take := func(row int, lies profile, form Form) {
		e := &p.register.Elements[x.left[row][0]]
		x.left[row] = x.left[row][1:]
		out.Makes, out.PiecesMm, ends = append(out.Makes, e.Code), append(out.PiecesMm, lies.reachMm), append(ends, lies.lean)
		if lies.bevelled() || len(e.Outline) >= 3 {
			form.Element, form.Words, form.FirstLeanMm, form.LastLeanMm = e.Code, formOfLength(e), tenths(lies.lean[0]), tenths(lies.lean[1])
			out.Forms = append(out.Forms, form)
		}
	}
	begins, at := b.from, b.restFrom(p.Terms.KerfMm)
	if f := b.first; f != nil {
		begins, out.LengthMm = 0, b.to
		if f.asItIs {
			out.LengthMm = b.reachMm
		}
		take(f.row, f.lies, Form{AsItIs: f.asItIs, UsesEnd: true})
	}
	for _, c := range rest {
		lies := rows[c.Demand].profile
		take(c.Demand, lies, Form{})
		at += lies.reachMm + p.Terms.KerfMm
	}
	out.OffcutMm = max(b.to-at, 0)
	out.Cuts = b.cuts(ends, at-p.Terms.KerfMm)
	if begins > 0 || b.to < b.reachMm || b.bevelled() || b.outline != "" {
		out.Shape = &Shape{LengthMm: b.reachMm, XMm: begins, FirstLeanMm: tenths(b.lean[0]), LastLeanMm: tenths(b.lean[1])}
		if b.outline != "" {
			out.Shape.Outline = p.here[b.Code].Outline
		}
	}
	return out
}

// cuts counts saw cuts: one at each end of a piece that is not there already, and one for two square ends that meet. ends are
// those of the pieces as they lie; the last piece ends at last.
func (b *bar) cuts(ends [][2]float64, last int) int {
	if b.first != nil && b.first.asItIs {
		return 0
	}
	n := 0
	if b.first == nil && (b.from > 0 || ends[0][0] != 0) {
		n++
	}
	for i := 1; i < len(ends); i++ {
		n++
		if ends[i-1][1] != 0 || ends[i][0] != 0 {
			n++
		}
	}
	if last < b.reachMm || ends[len(ends)-1][1] != 0 || b.lean[1] != 0 {
		n++
	}
	return n
}

// boundLengths says how far above the least the cutting may be. Where ends are cut at an angle, another cutting could lay
// points beside one another: so the bound takes each piece at its mean length, and each bar at all of its own.
func (p *Plan) boundLengths(x *lengthTry, rows []rowOfLengths, bars []bar, source product) error {
	c := &x.cut
	angled := slices.ContainsFunc(rows, func(r rowOfLengths) bool { return r.bevelled() || r.outline != "" })
	if c.Objective == 0 || !angled && source.strips <= 1 {
		return nil
	}
	if angled {
		problem := p.lengthsProblem(rows, rowOfLengths.meanMm)
		for i := range bars {
			problem.Stock = append(problem.Stock, cutting.Bar{Code: bars[i].Code, LengthMm: bars[i].reachMm, Count: 1, Serves: serves(bars[i].Piece)})
		}
		problem.Stock = append(problem.Stock, source.bars()...)
		relaxed, asked, err := p.saw.cutLengths(&problem)
		if err != nil {
			return err
		}
		c.solved.problem += "\n" + asked
		c.Bound = 0
		if countUnmade(relaxed.Unmade) == x.unmade {
			c.Bound = relaxed.Bound
		}
	}
	if n := int64(source.strips); n > 1 { // a new board gives more than one strip, which is not tried
		c.Bound = (c.Bound + n - 1) / n
	}
	c.GapPercent, c.Proven = gapOf(c.Objective, c.Bound)
	return nil
}

func countUnmade(all []cutting.Unmade) (n int) {
	for _, u := range all {
		n += u.Count
	}
	return n
}

// gapOf is how far an objective is above its bound, in percent of the bound.
func gapOf(objective, bound int64) (percent float64, proven bool) {
	if objective <= bound {
		return 0, true
	}
	return 100 * float64(objective-bound) / float64(max(bound, 1)), false
}
