package move

import (
	"cmp"
	"slices"

	"unpick/domain"
	"unpick/domain/cutting"
	"unpick/domain/salvage"
)

// LengthCut is the cutting of one section of one material.
type LengthCut struct {
	Material   string   `json:"material"`
	Name       string   `json:"name"`
	WidthMm    int      `json:"width_mm"`
	DepthMm    int      `json:"thickness_mm"`
	Treated    bool     `json:"treated,omitempty"`
	Becomes    []Become `json:"cut_list" jsonschema_description:"salvaged pieces first"`
	Bound      int64    `json:"bound"`
	Objective  int64    `json:"objective" jsonschema_description:"money on new stock in minor units; millimetres bought where a price is missing"`
	GapPercent float64  `json:"gap_percent"`
	Proven     bool     `json:"proven"`
	WasteMm    int64    `json:"waste_mm"`
	Cuts       int      `json:"cuts"`
	bought     map[merchant]int
	solved     solved
}

// SheetCut is the cutting of one sheet material of one thickness.
type SheetCut struct {
	Material   string        `json:"material"`
	Name       string        `json:"name"`
	ThickMm    int           `json:"thickness_mm"`
	KerfMm     int           `json:"kerf_mm" jsonschema_description:"0 where it is scored and snapped or cut with a knife"`
	Layouts    []SheetLayout `json:"cut_list" jsonschema_description:"salvaged sheets first"`
	Bound      int64         `json:"bound"`
	Objective  int64         `json:"objective"`
	GapPercent float64       `json:"gap_percent"`
	Proven     bool          `json:"proven"`
	WasteMm2   int64         `json:"waste_mm2"`
	Cuts       int           `json:"cuts"`
	bought     map[merchant]int
	solved     solved
}

// SheetLayout is one sheet and what is cut from it, where.
type SheetLayout struct {
	Become
	Panels  []Panel          `json:"panels"`
	Saw     []cutting.SawCut `json:"saw"`
	Offcuts []cutting.Rect   `json:"offcuts,omitempty"`
}

// IsCut reports whether the sheet is cut at all.
func (l SheetLayout) IsCut() bool { return len(l.Saw) > 0 || len(l.Makes) > 1 }

// Panel is one piece on a sheet.
type Panel struct {
	Element string `json:"element"`
	Turned  bool   `json:"turned,omitempty"`
	cutting.Rect
}

// lengths cuts one section: like pieces are one row of demand, and get their codes back in order.
func (p *Plan) lengths(want wanted, stock saved, prices map[string]domain.Price, s section) error {
	r := p.register
	problem := cutting.Lengths{KerfMm: p.Terms.KerfMm}
	type like struct {
		kind     domain.ElementKind
		lengthMm int
	}
	rows, codes := map[like]int{}, [][]string{}
	for _, i := range want.by[byLength][s] {
		e := &r.Elements[i]
		k := like{e.Kind, e.LengthMm}
		row, ok := rows[k]
		if !ok {
			row = len(problem.Demand)
			rows[k] = row
			problem.Demand = append(problem.Demand, cutting.Piece{Code: string(e.Kind), Kind: string(e.Kind), LengthMm: e.LengthMm})
			codes = append(codes, nil)
		}
		problem.Demand[row].Count++
		codes[row] = append(codes[row], e.Code)
	}
	salvaged := bestFirst(stock[byLength][s])
	for _, q := range salvaged {
		problem.Stock = append(problem.Stock, cutting.Bar{Code: q.Code, LengthMm: q.UsableMm, Count: 1, Serves: serves(q)})
	}
	sizes := merchants(r.Catalogue, prices, byLength, s)
	for _, m := range sizes {
		problem.Stock = append(problem.Stock, cutting.Bar{Code: m.code, LengthMm: m.lengthMm, Count: cutting.Unlimited, PriceMinor: m.price, NoPrice: !m.priced})
	}
	plan, asked, err := p.saw.cutLengths(&problem)
	if err != nil {
		return err
	}
	m := r.Catalogue.Materials[s.material]
	out := LengthCut{Material: s.material, Name: m.Name, WidthMm: s.a, DepthMm: s.b, Treated: s.treated, Becomes: []Become{}, Bound: plan.Bound, Objective: plan.Objective,
		GapPercent: plan.GapPercent, Proven: plan.Proven, WasteMm: plan.WasteMm, Cuts: plan.Cuts, bought: map[merchant]int{},
		solved: solved{asked, allPriced(sizes)}}
	for _, layout := range plan.Bars {
		bar := problem.Stock[layout.Stock]
		for range layout.Times {
			b := Become{Stock: bar.Code, Salvaged: layout.Stock < len(salvaged), LengthMm: bar.LengthMm, OffcutMm: layout.OffcutMm}
			for _, cut := range layout.Cuts {
				b.Makes = append(b.Makes, codes[cut.Demand][0])
				b.PiecesMm = append(b.PiecesMm, problem.Demand[cut.Demand].LengthMm)
				codes[cut.Demand] = codes[cut.Demand][1:]
			}
			out.Becomes = append(out.Becomes, b)
			if !b.Salvaged {
				out.bought[sizes[layout.Stock-len(salvaged)]]++
			}
		}
	}
	p.unmade(codes, plan.Unmade)
	slices.SortStableFunc(out.Becomes, salvagedFirst)
	p.Proven = p.Proven && plan.Proven
	p.Lengths = append(p.Lengths, out)
	return nil
}

func salvagedFirst(a, b Become) int {
	return cmp.Or(cmp.Compare(boolInt(!a.Salvaged), boolInt(!b.Salvaged)), cmp.Compare(a.Stock, b.Stock))
}

// unmade names the pieces that no stock could make: those of a row that are left without a place.
func (p *Plan) unmade(codes [][]string, unmade []cutting.Unmade) {
	index := p.register.Index()
	for _, u := range unmade {
		for _, code := range codes[u.Demand] {
			p.cannot(&p.register.Elements[index.Elements[code]], u.Reason)
		}
	}
}

// sheets cuts one sheet material of one thickness. Boards with a grain or a face pattern keep their length along the
// sheet's; plasterboard, fibreboard and insulation may be turned (common practice, no source).
func (p *Plan) sheets(want wanted, stock saved, prices map[string]domain.Price, s section) error {
	r := p.register
	m := r.Catalogue.Materials[s.material]
	problem := cutting.Sheets{KerfMm: p.Terms.KerfMm}
	if scored(m) {
		problem.KerfMm = 0
	}
	type like struct {
		kind       domain.ElementKind
		long, wide int
	}
	rows, codes := map[like]int{}, [][]string{}
	for _, i := range want.by[bySheet][s] {
		e := &r.Elements[i]
		k := like{e.Kind, e.LengthMm, e.WidthMm}
		row, ok := rows[k]
		if !ok {
			row = len(problem.Demand)
			rows[k] = row
			problem.Demand = append(problem.Demand, cutting.Panel{Code: string(e.Kind), Kind: string(e.Kind), LengthMm: e.LengthMm, WidthMm: e.WidthMm, Turn: turns(m)})
			codes = append(codes, nil)
		}
		problem.Demand[row].Count++
		codes[row] = append(codes[row], e.Code)
	}
	var salvaged []*salvage.Piece
	for _, q := range bestFirst(stock[bySheet][s]) {
		salvaged = append(salvaged, q)
		problem.Stock = append(problem.Stock, cutting.Sheet{Code: q.Code, LengthMm: q.UsableMm, WidthMm: q.WidthMm, Count: 1, Serves: serves(q)})
	}
	sizes := merchants(r.Catalogue, prices, bySheet, s)
	for _, x := range sizes {
		problem.Stock = append(problem.Stock, cutting.Sheet{Code: x.code, LengthMm: x.lengthMm, WidthMm: x.widthMm, Count: cutting.Unlimited, PriceMinor: x.price, NoPrice: !x.priced})
	}
	plan, asked, err := p.saw.cutSheets(&problem)
	if err != nil {
		return err
	}
	out := SheetCut{Material: s.material, Name: m.Name, ThickMm: s.a, KerfMm: problem.KerfMm, Layouts: []SheetLayout{}, Bound: plan.Bound, Objective: plan.Objective, GapPercent: plan.GapPercent,
		Proven: plan.Proven, WasteMm2: plan.WasteMm2, Cuts: plan.Cuts, bought: map[merchant]int{}, solved: solved{asked, allPriced(sizes)}}
	for _, layout := range plan.Sheets {
		sheet := problem.Stock[layout.Stock]
		for range layout.Times {
			l := SheetLayout{Become: Become{Stock: sheet.Code, Salvaged: layout.Stock < len(salvaged), LengthMm: sheet.LengthMm, WidthMm: sheet.WidthMm}, Saw: append([]cutting.SawCut{}, layout.Saw...), Offcuts: layout.Offcuts}
			for _, placed := range layout.Panels {
				code := codes[placed.Demand][0]
				codes[placed.Demand] = codes[placed.Demand][1:]
				l.Makes = append(l.Makes, code)
				l.Panels = append(l.Panels, Panel{code, placed.Turned, placed.Rect})
			}
			out.Layouts = append(out.Layouts, l)
			if !l.Salvaged {
				out.bought[sizes[layout.Stock-len(salvaged)]]++
			}
		}
	}
	p.unmade(codes, plan.Unmade)
	slices.SortStableFunc(out.Layouts, func(a, b SheetLayout) int { return salvagedFirst(a.Become, b.Become) })
	p.Proven = p.Proven && plan.Proven
	p.Sheets = append(p.Sheets, out)
	return nil
}

// turns reports whether a panel may be cut across the sheet.
func turns(m domain.Material) bool {
	if m.Kind == "insulation" {
		return true
	}
	for _, prefix := range []string{"pb-", "mdf-", "hardboard-", "cement-board-"} {
		if len(m.Code) > len(prefix) && m.Code[:len(prefix)] == prefix {
			return true
		}
	}
	return false
}

// scored reports whether a sheet is scored and snapped, or cut with a knife: no saw, no kerf.
func scored(m domain.Material) bool {
	return m.Kind == "insulation" || len(m.Code) > 3 && m.Code[:3] == "pb-"
}
