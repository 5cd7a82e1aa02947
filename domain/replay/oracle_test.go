package replay

import (
	"maps"
	"math"
	"slices"

	"unpick/domain"
)

// oracle is what each rule means, word for word and without any cleverness: sets of codes, forwards in time,
// everything worked out again at every moment, and boxes as intervals (so that it only knows registers that are
// square to their axes, with the sides of every fixing known). It shares no code with the checker.
type oracle struct {
	r       *domain.Register
	arcs    []standsOn
	steady  map[string][]string // by piece: what steadies it
	box     map[string]cuboid
	host    map[string]cuboid
	el      map[string]domain.Element
	fix     map[string]domain.Fixing
	now     state
	found   map[int]map[Rule]bool // by step; len(steps) is the end
	step    int
	strike  bool
	leaving []string        // the group that leaves at this moment
	fallen  map[string]bool // pieces that have lost their path once
	shock   map[string]bool // services that were touched live once
}

// state is the fit-out at one moment.
type state struct {
	in, undone, dead, props map[string]bool
	seen                    map[string]bool // codes that a step has named
}

func (s state) clone() state {
	return state{maps.Clone(s.in), maps.Clone(s.undone), maps.Clone(s.dead), maps.Clone(s.props), maps.Clone(s.seen)}
}

type standsOn struct{ from, to, fixing, host string }

type cuboid struct{ lo, hi [3]float64 }

func cuboidOf(b domain.Box) cuboid {
	c := cuboid{[3]float64{math.Inf(1), math.Inf(1), math.Inf(1)}, [3]float64{math.Inf(-1), math.Inf(-1), math.Inf(-1)}}
	for _, v := range b.Corners() {
		for i, x := range [3]float64{v.X, v.Y, v.Z} {
			c.lo[i], c.hi[i] = min(c.lo[i], math.Round(x)), max(c.hi[i], math.Round(x))
		}
	}
	return c
}

// drawnIn is c less a sliver of 2 mm on each face, or a quarter of its thickness.
func (c cuboid) drawnIn() cuboid {
	for i := range 3 {
		d := min(2, (c.hi[i]-c.lo[i])/4)
		c.lo[i], c.hi[i] = c.lo[i]+d, c.hi[i]-d
	}
	return c
}

func (c cuboid) overlaps(d cuboid) bool {
	for i := range 3 {
		if c.lo[i] >= d.hi[i] || d.lo[i] >= c.hi[i] {
			return false
		}
	}
	return true
}

func (c cuboid) stretched(axis int, by float64) cuboid {
	if by < 0 {
		c.lo[axis] += by
	} else {
		c.hi[axis] += by
	}
	return c
}

func newOracle(r *domain.Register) *oracle {
	o := &oracle{r: r, box: map[string]cuboid{}, host: map[string]cuboid{}, el: map[string]domain.Element{}, fix: map[string]domain.Fixing{},
		steady: map[string][]string{}, found: map[int]map[Rule]bool{}, fallen: map[string]bool{}, shock: map[string]bool{}}
	o.now = state{map[string]bool{}, map[string]bool{}, map[string]bool{}, map[string]bool{}, map[string]bool{}}
	for _, e := range r.Elements {
		o.el[e.Code] = e
		if e.IsInPlace() {
			o.now.in[e.Code], o.box[e.Code] = true, cuboidOf(e.Box())
		}
	}
	for _, h := range r.Hosts {
		thick := max(10, h.ThicknessMm)
		b := domain.NewBox(h.Plane(), h.UMm, h.VMm, thick)
		b.Centre = b.Centre.Sub(b.Axes[2].Scale(float64(thick)))
		o.host[h.Code] = cuboidOf(b)
	}
	for _, f := range r.Fixings {
		if !f.InPlace() {
			continue
		}
		o.fix[f.Code] = f
		if o.now.in[f.Holds] && (f.IntoHost != "" || o.now.in[f.IntoElement]) {
			o.arcs = append(o.arcs, standsOn{f.Holds, f.IntoElement, f.Code, f.IntoHost})
		}
	}
	o.relations(domain.BearsOn, func(x domain.Relation) {
		if _, ok := o.host[x.To]; ok {
			o.arcs = append(o.arcs, standsOn{x.From, "", "", x.To})
		} else if o.now.in[x.To] {
			o.arcs = append(o.arcs, standsOn{x.From, x.To, "", ""})
		}
	})
	o.addBearings()
	o.addSteadying()
	return o
}

// relations calls visit for every relation of a kind that counts and whose From is in place at the start.
func (o *oracle) relations(kind domain.RelationKind, visit func(domain.Relation)) {
	readHere := kind == domain.BearsOn || kind == domain.Hides || kind == domain.Traps || kind == domain.Steadies
	for _, x := range o.r.Relations {
		e, ok := o.el[x.From]
		if x.Kind == kind && !x.Struck && ok && e.IsInPlace() && (!readHere || x.Origin != domain.FromGeometry) {
			visit(x)
		}
	}
}

// unit is the name of the group that a piece leaves with.
func (o *oracle) unit(code string) string {
	if e := o.el[code]; e.Subassembly != "" && e.ComesOut() {
		return "subassembly " + e.Subassembly
	}
	return code
}

func (o *oracle) together(a, b string) bool { return o.unit(a) == o.unit(b) }

func (o *oracle) landlords(code string) bool { return o.el[code].Owner == domain.LandlordOwns }

// codes are the pieces in place, in order.
func (o *oracle) codes() []string {
	var out []string
	for code, in := range o.now.in {
		if in {
			out = append(out, code)
		}
	}
	slices.Sort(out)
	return out
}

// grounded are the groups that reach the fabric over these arcs.
func (o *oracle) grounded(arcs []standsOn, props map[string]bool) map[string]bool {
	out := map[string]bool{}
	for code, in := range o.now.in {
		if in && (o.landlords(code) || props[code]) {
			out[o.unit(code)] = true
		}
	}
	for changed := true; changed; {
		changed = false
		for _, a := range arcs {
			if (a.to == "" || out[o.unit(a.to)]) && !out[o.unit(a.from)] {
				out[o.unit(a.from)], changed = true, true
			}
		}
	}
	return out
}

// above are the groups that a group carries, directly or not.
func (o *oracle) above(unit string) map[string]bool {
	out := map[string]bool{unit: true}
	for changed := true; changed; {
		changed = false
		for _, a := range o.arcs {
			if a.to != "" && !o.landlords(a.to) && out[o.unit(a.to)] && !out[o.unit(a.from)] {
				out[o.unit(a.from)], changed = true, true
			}
		}
	}
	return out
}

func (o *oracle) addBearings() {
	spoken := map[string]bool{}
	for _, a := range o.arcs {
		spoken[a.from] = true
	}
	rest := func(a, b cuboid) bool {
		plan := a.drawnIn()
		return math.Abs(a.lo[2]-b.hi[2]) <= 2 && plan.lo[0] < b.hi[0] && b.lo[0] < plan.hi[0] && plan.lo[1] < b.hi[1] && b.lo[1] < plan.hi[1]
	}
	var open []standsOn
	for _, a := range o.codes() {
		if spoken[a] || o.landlords(a) {
			continue
		}
		for _, b := range o.codes() {
			if soft := func(k domain.ElementKind) bool {
				return k == domain.Insulation || k == domain.Cable || k == domain.Seal
			}; soft(o.el[b].Kind) && !soft(o.el[a].Kind) {
				continue
			}
			if !o.together(a, b) && rest(o.box[a], o.box[b]) {
				open = append(open, standsOn{from: a, to: b})
			}
		}
		for h, c := range o.host {
			if rest(o.box[a], c) {
				o.arcs = append(o.arcs, standsOn{from: a, host: h})
			}
		}
	}
	for changed := true; changed; {
		changed = false
		for i, a := range open {
			if a.from == "" || !o.grounded(o.arcs, nil)[o.unit(a.to)] || o.above(o.unit(a.from))[o.unit(a.to)] {
				continue
			}
			o.arcs, changed = append(o.arcs, a), true
			open[i] = standsOn{}
		}
	}
}

func (o *oracle) addSteadying() {
	o.relations(domain.Steadies, func(x domain.Relation) {
		if o.now.in[x.To] {
			o.steady[x.To] = append(o.steady[x.To], x.From)
		}
	})
	plates, boards := map[string]bool{}, map[string]bool{}
	for _, code := range o.codes() {
		switch e := o.el[code]; e.Kind {
		case domain.SolePlate, domain.HeadPlate, domain.CapPlate:
			plates[e.Assembly] = true
		case domain.Board:
			boards[e.Assembly] = true
		}
	}
	for _, code := range o.codes() {
		e := o.el[code]
		b := o.box[code]
		tall := b.hi[2]-b.lo[2] == float64(e.LengthMm) && e.LengthMm >= 1500
		if !tall || o.landlords(code) {
			continue
		}
		framed := e.Assembly != "" && plates[e.Assembly] && boards[e.Assembly]
		top := func(a standsOn, other cuboid) float64 {
			high := other.hi[2]
			if f := o.fix[a.fixing]; a.fixing != "" && len(f.Run.PositionsMm) > 0 {
				high = math.Inf(-1)
				for _, p := range f.Run.Points() {
					high = max(high, p.Z)
				}
			}
			return min(1, max(0, (high-b.lo[2])/(b.hi[2]-b.lo[2])))
		}
		held, free := false, true
		var by []string
		for _, a := range o.arcs {
			if a.from == code {
				other := o.host[a.host]
				if a.to != "" {
					other = o.box[a.to]
				}
				held, free = true, free && top(a, other) <= 0.25
			}
			if a.to == code {
				free = free && o.el[a.from].Kind != domain.Board
				if top(a, o.box[a.from]) >= 0.5 {
					by = append(by, a.from)
				}
			}
		}
		if held && free && !framed {
			o.steady[code] = append(o.steady[code], by...)
		}
	}
}
