package move_test

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/cutting"
	"unpick/domain/move"
	"unpick/domain/salvage"
)

// The checks here share no code with the plan: they draw stock and pieces again from the register, and lay them out.

type xy struct{ x, y float64 }

// sideOf is a length seen on its thickness: near side first, from its least point; and how its ends lean.
func sideOf(e *domain.Element) (corners [4]xy, reach float64) {
	t := float64(e.ThicknessMm)
	start, end := t*math.Tan(e.StartCutDeg*math.Pi/180), t*math.Tan(e.EndCutDeg*math.Pi/180)
	a0, b0 := 0.0, float64(e.LengthMm) // of the near side
	run := math.Hypot(float64(e.Placement.Along.X), float64(e.Placement.Along.Y))
	slope := math.Atan2(math.Abs(float64(e.Placement.Along.Z)), run) * 180 / math.Pi
	if start != 0 && e.StartCutDeg == e.EndCutDeg && math.Abs(slope-math.Abs(e.StartCutDeg)) < .1 {
		a0, b0 = -start/2, b0-end/2
	} else {
		if start < 0 {
			a0 = -start
		}
		if end > 0 {
			b0 -= end
		}
	}
	least := min(a0, a0+start)
	corners = [4]xy{{a0 - least, 0}, {a0 + start - least, t}, {b0 + end - least, t}, {b0 - least, 0}}
	return corners, max(corners[2].x, corners[3].x)
}

// leans are how a length's ends may lean however it lies.
func leans(e *domain.Element) [][2]float64 {
	c, _ := sideOf(e)
	s, l := c[1].x-c[0].x, c[2].x-c[3].x
	return [][2]float64{{s, l}, {-s, -l}, {-l, -s}, {l, s}}
}

const roundMm = 1.1 // leans are said to a tenth, lengths are rounded to whole millimetres

func near(a, b [2]float64) bool { return math.Abs(a[0]-b[0]) < .6 && math.Abs(a[1]-b[1]) < .6 }

func inside(outline []domain.FacePoint, x, y float64) bool {
	in := false
	for i, p := range outline {
		q := outline[(i+len(outline)-1)%len(outline)]
		if (float64(p.AcrossMm) > y) == (float64(q.AcrossMm) > y) {
			continue
		}
		if at := float64(p.AlongMm) + float64(q.AlongMm-p.AlongMm)*(y-float64(p.AcrossMm))/float64(q.AcrossMm-p.AcrossMm); x < at {
			in = !in
		}
	}
	return in
}

// rectIn walks round a rectangle, a hair within it, and across it.
func rectIn(outline []domain.FacePoint, x0, y0, x1, y1 float64) bool {
	const hair = 1e-4
	for k := range 65 {
		x, y := x0+hair+(x1-x0-2*hair)*float64(k)/64, y0+hair+(y1-y0-2*hair)*float64(k)/64
		if !inside(outline, x, y0+hair) || !inside(outline, x, y1-hair) || !inside(outline, x0+hair, y) || !inside(outline, x1-hair, y) || !inside(outline, x, y) {
			return false
		}
	}
	for _, p := range outline {
		if x, y := float64(p.AlongMm), float64(p.AcrossMm); x > x0+hair && x < x1-hair && y > y0+hair && y < y1-hair {
			return false
		}
	}
	return true
}

// mirrored reports whether two outlines are one, turned or laid over as a material lets it.
func mirrored(a, b *domain.Element, over bool) bool {
	for _, flip := range [][2]bool{{}, {true, true}, {true, false}, {false, true}} {
		if flip[0] != flip[1] && !over {
			continue
		}
		points := map[domain.FacePoint]bool{}
		for _, p := range a.Outline {
			if flip[0] {
				p.AlongMm = a.LengthMm - p.AlongMm
			}
			if flip[1] {
				p.AcrossMm = a.WidthMm - p.AcrossMm
			}
			points[p] = true
		}
		if len(a.Outline) == len(b.Outline) && !slices.ContainsFunc(b.Outline, func(p domain.FacePoint) bool { return !points[p] }) {
			return true
		}
	}
	return false
}

// shapesHold draws every cut again from what the register says of stock and piece.
func shapesHold(t fataler, from move.Source, to *domain.Register, p *move.Plan) {
	t.Helper()
	here, there := map[string]*domain.Element{}, map[string]*domain.Element{}
	if from.Register != nil {
		for i := range from.Register.Elements {
			here[from.Register.Elements[i].Code] = &from.Register.Elements[i]
		}
	}
	for i := range to.Elements {
		there[to.Elements[i].Code] = &to.Elements[i]
	}
	usable := map[string]int{}
	for _, q := range from.Inventory.Pieces {
		usable[q.Code] = q.UsableMm
	}
	for _, c := range p.Lengths {
		for _, b := range c.Becomes {
			lengthHolds(t, b, here[b.Stock], there, usable, p.Terms.KerfMm)
			if !b.Salvaged {
				sectionHolds(t, to.Catalogue.Materials[c.Material], c, b, there)
			}
		}
	}
	for _, c := range p.Sheets {
		for _, l := range c.Layouts {
			sheetHolds(t, c, l, here[l.Stock], there, usable, to.Catalogue.Materials[c.Material])
		}
	}
}

func lengthHolds(t fataler, b move.Become, stock *domain.Element, there map[string]*domain.Element, usable map[string]int, kerf int) {
	t.Helper()
	first, last, reach, thick := 0.0, 0.0, float64(b.LengthMm), 0.0
	at := 0.0
	if b.Salvaged {
		_, reach = sideOf(stock)
		thick = float64(stock.ThicknessMm)
		if b.Shape != nil {
			first, last, at = b.Shape.FirstLeanMm, b.Shape.LastLeanMm, float64(b.Shape.XMm)
		}
		if !slices.ContainsFunc(leans(stock), func(l [2]float64) bool { return near(l, [2]float64{first, last}) }) {
			t.Fatalf("%s lies with ends leaning %g and %g, and its own are %v", b.Stock, first, last, leans(stock))
		}
	}
	forms := map[string]move.Form{}
	for _, f := range b.Forms {
		forms[f.Element] = f
	}
	used := 0
	for i, code := range b.Makes {
		e, f := there[code], forms[code]
		_, long := sideOf(e)
		if math.Abs(float64(b.PiecesMm[i])-long) > roundMm || float64(b.PiecesMm[i]) < long-1e-6 {
			t.Fatalf("%s is cut %d long, and is %g from point to point", code, b.PiecesMm[i], long)
		}
		if !slices.ContainsFunc(leans(e), func(l [2]float64) bool { return near(l, [2]float64{f.FirstLeanMm, f.LastLeanMm}) }) {
			t.Fatalf("%s is cut with ends leaning %g and %g, its own are %v", code, f.FirstLeanMm, f.LastLeanMm, leans(e))
		}
		if f.AsItIs {
			if len(b.Makes) != 1 || len(stock.Outline) != len(e.Outline) || len(e.Outline) > 0 && !mirrored(stock, e, true) || usable[b.Stock] < stock.LengthMm || stock.ThicknessMm != e.ThicknessMm && f.FirstLeanMm+f.LastLeanMm != 0 {
				t.Fatalf("%s is no %s as it is", b.Stock, code)
			}
		} else if stock != nil && len(stock.Outline) >= 3 && !rectIn(stock.Outline, at, 0, at+float64(b.PiecesMm[i]), float64(stock.WidthMm)) && !rectIn(stock.Outline, float64(stock.LengthMm)-at-float64(b.PiecesMm[i]), 0, float64(stock.LengthMm)-at, float64(stock.WidthMm)) {
			t.Fatalf("%s, %d long from %g, lies over a notch of %s", code, b.PiecesMm[i], at, b.Stock)
		}
		// At either side of the thickness the piece begins and ends within the bar.
		for side, y := range [2]float64{0, 1} {
			lo, hi := at+y*f.FirstLeanMm-min(0, f.FirstLeanMm), at+float64(b.PiecesMm[i])+y*f.LastLeanMm-max(0, f.LastLeanMm)
			bar0, bar1 := y*first-min(0, first), reach+y*last-max(0, last)
			if lo < bar0-roundMm || hi > bar1+roundMm {
				t.Fatalf("%s on %s: side %d runs from %.1f to %.1f, and the bar (%g thick) from %.1f to %.1f", code, b.Stock, side, lo, hi, thick, bar0, bar1)
			}
		}
		at += float64(b.PiecesMm[i] + kerf)
		used += b.PiecesMm[i]
	}
	if b.Salvaged && usable[b.Stock] < stock.LengthMm && used > usable[b.Stock] {
		t.Fatalf("%s has %d good, and %d are cut from it", b.Stock, usable[b.Stock], used)
	}
	if alone := len(b.Makes) == 1 && !b.IsCut(); alone && float64(b.PiecesMm[0]) < reach-roundMm {
		t.Fatalf("%s of %g is used as it is for %d", b.Stock, reach, b.PiecesMm[0])
	}
}

// sectionHolds: what is bought has the section of what is made of it, or is ripped from a wider one and says so.
func sectionHolds(t fataler, m domain.Material, c move.LengthCut, b move.Become, there map[string]*domain.Element) {
	t.Helper()
	if m.WidthMm == 0 || m.ThicknessMm == 0 {
		return
	}
	for _, code := range b.Makes {
		e := there[code]
		wide, thin := max(e.WidthMm, e.ThicknessMm), min(e.WidthMm, e.ThicknessMm)
		sold, soldThin := max(float64(m.WidthMm), m.ThicknessMm), min(float64(m.WidthMm), m.ThicknessMm)
		switch {
		case math.Abs(float64(thin)-soldThin) >= 1 || float64(wide) >= sold+1:
			t.Fatalf("%s, %d x %d, is cut from %s", code, thin, wide, m.Name)
		case float64(wide) <= sold-1 && float64(b.RipFromMm) != sold:
			t.Fatalf("%s, %d x %d, is cut from %s without being ripped", code, thin, wide, m.Name)
		}
	}
}

func sheetHolds(t fataler, c move.SheetCut, l move.SheetLayout, stock *domain.Element, there map[string]*domain.Element, usable map[string]int, m domain.Material) {
	t.Helper()
	whole := cutting.Rect{LengthMm: l.LengthMm, WidthMm: l.WidthMm}
	problem := cutting.Sheets{KerfMm: c.KerfMm, Stock: []cutting.Sheet{{LengthMm: l.LengthMm, WidthMm: l.WidthMm, Count: 1}}}
	layout := cutting.SheetLayout{Times: 1, Saw: l.Saw, Offcuts: l.Offcuts}
	made := 0
	for i, x := range l.Panels {
		e := there[x.Element]
		problem.Demand = append(problem.Demand, cutting.Panel{LengthMm: e.LengthMm, WidthMm: e.WidthMm, Count: 1, Turn: true})
		layout.Panels = append(layout.Panels, cutting.Placed{Demand: i, Turned: x.Turned, Rect: x.Rect})
		made += e.LengthMm * e.WidthMm
	}
	used := l.LengthMm * l.WidthMm
	if err := cutting.VerifySheets(&problem, &cutting.SheetPlan{Sheets: []cutting.SheetLayout{layout}, UsedMm2: int64(used), MadeMm2: int64(made), WasteMm2: int64(used - made), Cuts: len(l.Saw)}); err != nil {
		t.Fatalf("%s: %v", l.Stock, err)
	}
	if !l.Salvaged {
		return
	}
	at := cutting.Rect{}
	if l.Shape != nil {
		at.XMm, at.YMm = l.Shape.XMm, l.Shape.YMm
	}
	if at.XMm < 0 || at.YMm < 0 || at.XMm+whole.LengthMm > stock.LengthMm || at.YMm+whole.WidthMm > stock.WidthMm {
		t.Fatalf("%s: a part of %d x %d from %d, %d is more than there is", l.Stock, whole.LengthMm, whole.WidthMm, at.XMm, at.YMm)
	}
	if len(l.Forms) > 0 && l.Forms[0].AsItIs {
		if usable[l.Stock] < stock.LengthMm || !mirrored(stock, there[l.Makes[0]], m.Kind == "insulation" || m.Code[:3] == "osb" || m.Code[:3] == "mdf") {
			t.Fatalf("%s is no %s as it is", l.Stock, l.Makes[0])
		}
		return
	}
	if usable[l.Stock] < stock.LengthMm && whole.LengthMm > usable[l.Stock] {
		t.Fatalf("%s: %d long are used of %d good", l.Stock, whole.LengthMm, usable[l.Stock])
	}
	if len(stock.Outline) < 3 {
		return
	}
	for _, x := range l.Panels {
		x0, y0 := float64(at.XMm+x.XMm), float64(at.YMm+x.YMm)
		if !rectIn(stock.Outline, x0, y0, x0+float64(x.LengthMm), y0+float64(x.WidthMm)) {
			t.Fatalf("%s at %g, %g, %d x %d, is not within %s: %v", x.Element, x0, y0, x.LengthMm, x.WidthMm, l.Stock, stock.Outline)
		}
	}
	if !l.IsCut() {
		t.Fatalf("%s is no plain rectangle and is used as it is", l.Stock)
	}
}

// ofPieces is a fit-out of these pieces and nothing else.
func ofPieces(code string, pieces ...domain.Element) *domain.Register {
	r := &domain.Register{FitOut: domain.FitOut{Code: code, Name: code, Currency: "GBP"}, Catalogue: catalogue.Default()}
	for i, e := range pieces {
		if e.Placement.Along.IsZero() {
			e.Placement = domain.Placement{Along: domain.Direction{Z: 1}, Across: domain.Direction{X: 1}}
		}
		e.BuiltOrder = i + 1
		r.Elements = append(r.Elements, e)
	}
	r.Prices = []domain.Price{{Key: "material:c16-cls-38x89", Amount: 265, Unit: "m"}, {Key: "material:osb3-11-metric", Amount: 610, Unit: "m2"}, {Key: "material:lining-sw-32x138", Amount: 900, Unit: "m"}}
	return r
}

func stud(code string, long int, startDeg, endDeg float64) domain.Element {
	return domain.Element{Code: code, Kind: domain.Stud, Material: "c16-cls-38x89", LengthMm: long, WidthMm: 89, ThicknessMm: 38, StartCutDeg: startDeg, EndCutDeg: endDeg}
}

func board(code string, long, wide int, corners ...domain.FacePoint) domain.Element {
	return domain.Element{Code: code, Kind: domain.Board, Material: "osb3-11-metric", LengthMm: long, WidthMm: wide, ThicknessMm: 11, Outline: corners}
}

func corner(along, across int) domain.FacePoint {
	return domain.FacePoint{AlongMm: along, AcrossMm: across}
}

// planned moves the pieces of one small fit-out to another, and checks all of it.
func planned(t *testing.T, here, there []domain.Element) *move.Plan {
	t.Helper()
	from, to := ofPieces("HERE", here...), ofPieces("THERE", there...)
	source := move.Source{Register: from, Inventory: salvage.Take(from)}
	p, err := move.Make(source, to, move.Usual())
	if err != nil {
		t.Fatal(err)
	}
	hold(t, source, to, p)
	return p
}

// stockOf is what a piece of the next premises is made of.
func stockOf(p *move.Plan, code string) (move.Become, bool) {
	for _, c := range p.Lengths {
		for _, b := range c.Becomes {
			if slices.Contains(b.Makes, code) {
				return b, true
			}
		}
	}
	for _, c := range p.Sheets {
		for _, l := range c.Layouts {
			if slices.Contains(l.Makes, code) {
				return l.Become, true
			}
		}
	}
	return move.Become{}, false
}

// A stud cut at 6 degrees over its 38 mm is square for 38 tan 6 = 3.99 mm less than its long point: 3785 - 3.99 = 3781.0. Lying
// the other way, over 89 mm, it would lose 89 tan 6 = 9.35 mm: 3775.6. Worked by hand from a table of tangents (tan 6 = 0.10510).
func TestSquareOfAngledStud(t *testing.T) {
	t.Parallel()
	onEdge := stud("S", 3785, 0, 6)
	onEdge.WidthMm, onEdge.ThicknessMm = 38, 89
	for _, tt := range []struct {
		stock    domain.Element
		want     int
		salvaged bool
	}{{stud("S", 3785, 0, 6), 3781, true}, {stud("S", 3785, 0, 6), 3782, false}, {stud("S", 3785, -6, 0), 3781, true}, {stud("S", 3785, 6, 6), 3777, true}, {stud("S", 3785, 6, 6), 3778, false}, {onEdge, 3775, true}, {onEdge, 3776, false}} {
		p := planned(t, []domain.Element{tt.stock}, []domain.Element{stud("W", tt.want, 0, 0)})
		b, ok := stockOf(p, "W")
		if !ok || b.Salvaged != tt.salvaged {
			t.Errorf("a square stud of %d from one of 3785 cut %g and %g over %d: %+v, want out of salvage %v", tt.want, tt.stock.StartCutDeg, tt.stock.EndCutDeg, tt.stock.ThicknessMm, b, tt.salvaged)
		}
	}
}

// A wanted stud with the same cut at an end uses it: 3470 gives 3464 with one cut. One of the very shape is not cut, however it
// lies; what is made from a square length is made from its long point.
func TestAngledStudUsesAngledEnd(t *testing.T) {
	t.Parallel()
	for name, tt := range map[string]struct {
		stock, want domain.Element
		cuts        int
		salvaged    bool
	}{
		"shorter, same head":             {stud("S", 3470, 0, 6), stud("W", 3468, 0, 6), 1, true},
		"the same":                       {stud("S", 3470, 0, 6), stud("W", 3470, 0, 6), 0, true},
		"the same, other end up":         {stud("S", 3470, 0, 6), stud("W", 3470, 6, 0), 0, true},
		"the same, laid over":            {stud("S", 3470, 0, 6), stud("W", 3470, 0, -6), 0, true},
		"longer than its square":         {stud("S", 3470, 0, 6), stud("W", 3470, 0, 9), 2, false},
		"both ends, one of them is here": {stud("S", 3470, 0, 6), stud("W", 3400, 3, 6), 1, true},
		"from a square one":              {stud("S", 3470, 0, 0), stud("W", 3470, 0, 6), 1, true},
		"from a square one, too long":    {stud("S", 3469, 0, 0), stud("W", 3470, 0, 6), 1, false},
	} {
		p := planned(t, []domain.Element{tt.stock}, []domain.Element{tt.want})
		b, ok := stockOf(p, "W")
		if !ok || b.Salvaged != tt.salvaged || tt.salvaged && b.Cuts != tt.cuts {
			t.Errorf("%s: %+v, want salvaged %v and %d cuts", name, b, tt.salvaged, tt.cuts)
		}
		if len(b.Forms) != 1 || b.Forms[0].Words == "" {
			t.Errorf("%s: forms %+v, want the cut of its end said", name, b.Forms)
		}
	}
	p := planned(t, nil, []domain.Element{stud("W", 3780, 0, 6)})
	if b, _ := stockOf(p, "W"); len(b.Forms) != 1 || b.Forms[0].Words != "head cut at 6 degrees, long point 3780" {
		t.Errorf("forms %+v", b.Forms)
	}
}

// The raked board of the workshop's wall, 1233 at one edge and 1107 at the other over 1197: square, 1107 x 1197. Where a panel
// of 1117 is wanted it is 95 mm narrower: 1107 + 126 x 95 / 1197 = 1117.
func TestRakedBoard(t *testing.T) {
	t.Parallel()
	raked := board("B", 1233, 1197, corner(0, 0), corner(0, 1197), corner(1233, 1197), corner(1107, 0))
	for _, tt := range []struct {
		long, wide int
		salvaged   bool
	}{{1107, 1197, true}, {1117, 1197, false}, {1117, 1102, true}, {1117, 1103, false}, {1233, 600, false}} {
		p := planned(t, []domain.Element{raked}, []domain.Element{board("W", tt.long, tt.wide)})
		if b, _ := stockOf(p, "W"); b.Salvaged != tt.salvaged {
			t.Errorf("%d x %d: %+v, want out of the raked board %v", tt.long, tt.wide, b, tt.salvaged)
		}
	}
	// The same shape goes as it is, laid over too: both faces of this board are alike. A rectangle does not become one.
	over := board("W", 1233, 1197, corner(0, 0), corner(0, 1197), corner(1107, 1197), corner(1233, 0))
	p := planned(t, []domain.Element{raked}, []domain.Element{over})
	if b, _ := stockOf(p, "W"); !b.Salvaged || b.IsCut() || len(b.Forms) != 1 || !b.Forms[0].AsItIs {
		t.Errorf("laid over: %+v, want it as it is", b)
	}
	p = planned(t, []domain.Element{board("B", 1233, 1197)}, []domain.Element{over})
	if b, _ := stockOf(p, "W"); !b.Salvaged || b.Cuts != 1 {
		t.Errorf("a raked board from a plain one of its size: %+v, want one cut", b)
	}
	p = planned(t, []domain.Element{over}, []domain.Element{board("W2", 1233, 1197)})
	if b, _ := stockOf(p, "W2"); b.Salvaged {
		t.Errorf("a plain board from a raked one: %+v, want it bought", b)
	}
}

// A board round a door, 1200 x 1000 less a corner of 700 x 400: beside the doorway 1200 x 600, over it 500 x 1000.
func TestBoardWithNotch(t *testing.T) {
	t.Parallel()
	notched := board("B", 1200, 1000, corner(0, 0), corner(1200, 0), corner(1200, 600), corner(500, 600), corner(500, 1000), corner(0, 1000))
	for _, tt := range []struct {
		long, wide int
		salvaged   bool
	}{{1200, 600, true}, {1200, 601, false}, {500, 1000, true}, {501, 1000, false}} {
		p := planned(t, []domain.Element{notched}, []domain.Element{board("W", tt.long, tt.wide)})
		if b, _ := stockOf(p, "W"); b.Salvaged != tt.salvaged {
			t.Errorf("%d x %d: %+v, want out of the notched board %v", tt.long, tt.wide, b, tt.salvaged)
		}
	}
}

// A joist with a notch over a pipe is whole on either side of it: 2000 long, notched from 500 to 600, gives 1400.
func TestNotchedLength(t *testing.T) {
	t.Parallel()
	notched := stud("S", 2000, 0, 0)
	notched.Outline = []domain.FacePoint{corner(0, 0), corner(500, 0), corner(500, 30), corner(600, 30), corner(600, 0), corner(2000, 0), corner(2000, 89), corner(0, 89)}
	for want, salvaged := range map[int]bool{1400: true, 1401: false} {
		p := planned(t, []domain.Element{notched}, []domain.Element{stud("W", want, 0, 0)})
		if b, _ := stockOf(p, "W"); b.Salvaged != salvaged {
			t.Errorf("%d: %+v, want out of the notched one %v", want, b, salvaged)
		}
	}
}

// A section that is not sold is refused with what is; a narrower lining is ripped, and the rip is a cut; a strength class does
// not outlive the rip.
func TestSectionAgainstProduct(t *testing.T) {
	t.Parallel()
	packer := domain.Element{Code: "W", Kind: domain.Packer, Material: "c16-cls-38x89", LengthMm: 200, WidthMm: 100, ThicknessMm: 38}
	p := planned(t, nil, []domain.Element{packer})
	if len(p.Cannot) != 1 || len(p.Buying) != 0 {
		t.Errorf("38 x 100 of CLS 38 x 89: cannot %+v, buying %+v", p.Cannot, p.Buying)
	}
	p = planned(t, []domain.Element{{Code: "S", Kind: domain.Packer, Material: "c16-cls-38x89", LengthMm: 200, WidthMm: 100, ThicknessMm: 38}}, []domain.Element{packer})
	if b, ok := stockOf(p, "W"); !ok || !b.Salvaged || b.IsCut() {
		t.Errorf("38 x 100 out of one that is there: %+v", b)
	}
	lining := domain.Element{Code: "W", Kind: domain.DoorLining, Material: "lining-sw-32x138", LengthMm: 1992, WidthMm: 111, ThicknessMm: 32}
	p = planned(t, nil, []domain.Element{lining})
	if b, ok := stockOf(p, "W"); !ok || b.RipFromMm != 138 || b.Cuts != 2 || len(p.Buying) != 1 {
		t.Errorf("lining 111 from 138: %+v, want a rip and a cut", b)
	}
	thin := lining
	thin.ThicknessMm = 28
	if p = planned(t, nil, []domain.Element{thin}); len(p.Cannot) != 1 {
		t.Errorf("lining 28 thick: %+v, want it refused", p.Cannot)
	}
	joist := domain.Element{Code: "W", Kind: domain.Joist, Material: "c24-sawn-47x200", LengthMm: 2000, WidthMm: 180, ThicknessMm: 47}
	if p = planned(t, nil, []domain.Element{joist}); len(p.Cannot) != 1 {
		t.Errorf("a joist ripped out of its class: %+v, want it refused", p.Cannot)
	}
	joist.Kind = domain.Nogging
	if p = planned(t, nil, []domain.Element{joist}); len(p.Cannot) != 0 || p.Lengths[0].Becomes[0].RipFromMm != 200 {
		t.Errorf("a nogging ripped from a joist's section: %+v", p.Lengths)
	}
}

// TestAnyShape: whatever the shapes of stock and pieces, every cut lies within what there is.
func TestAnyShape(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		pieces := func(prefix string) []domain.Element {
			var out []domain.Element
			angle := rapid.SampledFrom([]float64{0, 0, 6, -6, 15})
			for i := range rapid.IntRange(1, 8).Draw(t, prefix+" lengths") {
				e := stud(prefix+"S"+string(rune('A'+i)), rapid.SampledFrom([]int{600, 1190, 1200, 2390, 2400, 2404}).Draw(t, "long"), angle.Draw(t, "start"), angle.Draw(t, "end"))
				switch rapid.IntRange(0, 5).Draw(t, "lies") {
				case 0: // a plate on the rake, plumb at both ends
					e.Kind, e.StartCutDeg, e.EndCutDeg = domain.HeadPlate, 6, 6
					e.Placement = domain.Placement{Along: domain.Direction{X: 100000, Z: 10510}, Across: domain.Direction{Y: 1}}
				case 1:
					e.StartCutDeg, e.EndCutDeg = 0, 0
					at, deep := rapid.IntRange(1, e.LengthMm-60).Draw(t, "notch"), rapid.IntRange(1, 80).Draw(t, "deep")
					e.Outline = []domain.FacePoint{corner(0, 0), corner(at, 0), corner(at, deep), corner(at+50, deep), corner(at+50, 0), corner(e.LengthMm, 0), corner(e.LengthMm, 89), corner(0, 89)}
				}
				out = append(out, e)
			}
			for i := range rapid.IntRange(0, 4).Draw(t, prefix+" boards") {
				e := board(prefix+"B"+string(rune('A'+i)), rapid.IntRange(300, 2397).Draw(t, "long"), rapid.IntRange(250, 1197).Draw(t, "wide"))
				l, w := e.LengthMm, e.WidthMm
				in := func(most int) int { return rapid.IntRange(0, most).Draw(t, "in") }
				switch rapid.IntRange(0, 4).Draw(t, "shape") {
				case 0: // raked at both ends
					e.Outline = []domain.FacePoint{corner(in(l/4), 0), corner(in(l/4), w), corner(l-in(l/4), w), corner(l-in(l/4), 0)}
				case 1: // a corner out
					x, y := 1+in(l-2), 1+in(w-2)
					e.Outline = []domain.FacePoint{corner(0, 0), corner(l, 0), corner(l, y), corner(x, y), corner(x, w), corner(0, w)}
				case 2: // a doorway out of the middle, and raked
					x, y := 1+in(l/3), 1+in(w-2)
					e.Outline = []domain.FacePoint{corner(0, 0), corner(l, 0), corner(l-in(l/4), w), corner(l/2+1, w), corner(l/2+1, y), corner(x, y), corner(x, w), corner(0, w)}
				case 3: // a triangle
					e.Outline = []domain.FacePoint{corner(0, in(w)), corner(l, in(w/2)), corner(in(l), w)}
					if e.FaceAreaM2() < .02 {
						e.Outline = nil
					}
				}
				out = append(out, e)
			}
			return out
		}
		from, to := ofPieces("HERE", pieces("H")...), ofPieces("THERE", pieces("T")...)
		if rapid.Bool().Draw(t, "one again") { // some shapes meet again
			to.Elements[0] = from.Elements[0]
			to.Elements[0].Code = "AGAIN"
			last := from.Elements[len(from.Elements)-1]
			last.Code = "AGAIN2"
			to.Elements = append(to.Elements, last)
		}
		source := move.Source{Register: from, Inventory: salvage.Take(from)}
		p, err := move.Make(source, to, with(func(terms *move.Terms) { terms.Rounds, terms.KerfMm = 2, rapid.IntRange(0, 6).Draw(t, "kerf") }))
		if err != nil {
			t.Fatal(err)
		}
		hold(t, source, to, p)
	})
}
