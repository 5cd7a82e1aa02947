package replay

import (
	"slices"

	"unpick/domain"
)

// judge replays a plan by the oracle: which rules are broken in which step.
func judge(r *domain.Register, steps []Step) map[int]map[Rule]bool {
	o := newOracle(r)
	for i, s := range steps {
		o.step, o.strike = i, s.Kind == StrikeProp
		o.take(s)
	}
	o.step, o.strike = len(steps), false
	for _, e := range r.Elements {
		if e.ComesOut() && o.now.in[e.Code] {
			o.broken(Never)
		}
	}
	if len(o.now.props) > 0 {
		o.broken(PropLeft)
	}
	return o.found
}

func (o *oracle) broken(rule Rule) {
	if o.found[o.step] == nil {
		o.found[o.step] = map[Rule]bool{}
	}
	o.found[o.step][rule] = true
}

func (o *oracle) take(s Step) {
	before := o.standing()
	switch s.Kind {
	case MakeDead:
		for _, v := range s.Services {
			o.now.dead[v] = true
		}
	case Prop:
		for _, p := range s.Props {
			switch {
			case !o.now.in[p]:
				o.broken(NotInPlace)
			case o.now.props[p]:
				o.broken(Twice)
			default:
				o.now.props[p] = true
			}
		}
	case StrikeProp:
		for _, p := range s.Props {
			if !o.now.props[p] {
				o.broken(NotInPlace)
				continue
			}
			delete(o.now.props, p)
		}
		for _, p := range s.Props {
			o.struck(p)
		}
	case Remove:
		o.remove(s)
		return
	}
	o.falls(before)
}

// struck is what a prop that has just gone leaves behind.
func (o *oracle) struck(piece string) {
	if o.propped(piece) {
		return
	}
	for _, a := range o.arcs {
		if o.together(a.from, piece) && o.now.in[a.from] && a.to != "" && !o.now.in[a.to] {
			o.broken(PropNeeded)
		}
	}
	for u, by := range o.steady {
		if o.together(u, piece) && o.now.in[u] && len(by) > 0 && !slices.ContainsFunc(by, func(c string) bool { return o.now.in[c] }) {
			o.broken(PropNeeded)
		}
	}
}

func (o *oracle) propped(code string) bool {
	for p := range o.now.props {
		if o.together(p, code) && o.now.in[p] && !slices.Contains(o.leaving, p) {
			return true
		}
	}
	return false
}

func (o *oracle) remove(s Step) {
	var out []string
	own := map[string][]string{}
	before := o.standing()
	for _, e := range s.Elements {
		switch {
		case o.now.seen[e]:
			o.broken(Twice)
		case o.landlords(e):
			o.broken(Landlords)
		case !o.el[e].IsInPlace():
			o.broken(NotInPlace)
		default:
			o.now.seen[e] = true
			out = append(out, e)
		}
	}
	var alone []string
	for _, f := range s.Fixings {
		if o.now.seen["fixing "+f] {
			o.broken(Twice)
			continue
		}
		o.now.seen["fixing "+f] = true
		if slices.Contains(out, o.fix[f].Holds) {
			own[o.fix[f].Holds] = append(own[o.fix[f].Holds], f)
		} else {
			o.now.undone[f] = true
			alone = append(alone, f)
		}
	}
	for _, f := range alone {
		o.touchFixing(f, nil)
	}
	o.falls(before)
	for _, e := range out {
		if !o.now.in[e] {
			continue
		}
		var group, undo []string
		for _, m := range out {
			if o.together(m, e) {
				group, undo = append(group, m), append(undo, own[m]...)
			}
		}
		before = o.standing()
		o.leave(group, undo)
		o.falls(before)
	}
}

// touchFixing is undoing one fixing; of those that join only pieces of the group leaving, nobody asks.
func (o *oracle) touchFixing(f string, leaving []string) {
	x := o.fix[f]
	if o.el[x.Holds].Kind.IsService() || o.runsThrough(x.Holds) {
		o.touchService(x.Holds)
	}
	if o.inside(x, leaving) {
		return
	}
	if o.covered(x, leaving) {
		o.broken(Hidden)
	}
	o.relations(domain.Hides, func(rel domain.Relation) {
		if rel.To == f && o.now.in[rel.From] && !slices.Contains(leaving, rel.From) && !o.landlords(rel.From) {
			o.broken(Hidden)
		}
	})
}

func (o *oracle) inside(x domain.Fixing, leaving []string) bool {
	for _, t := range append([]string{x.Holds, x.IntoElement}, x.Through...) {
		if !slices.Contains(leaving, t) {
			return false
		}
	}
	return true
}

func (o *oracle) runsThrough(code string) bool {
	found := false
	o.relations(domain.RunsThrough, func(x domain.Relation) { found = found || x.From == code && o.box[x.To] != cuboid{} })
	return found
}

func (o *oracle) touchService(code string) {
	if !o.now.dead[code] && !o.shock[code] {
		o.shock[code] = true
		o.broken(Live)
	}
}

// covered: every side has a piece across the 250 mm line of some head, and one of them has no fabric there.
func (o *oracle) covered(x domain.Fixing, leaving []string) bool {
	if len(x.Undo) == 0 || len(x.Run.PositionsMm) == 0 {
		return false
	}
	pieceOnly := false
	for _, d := range x.Undo {
		across := func(c cuboid, fabric, soft bool) bool {
			whole := c
			c = c.drawnIn()
			for axis, n := range [3]int{d.X, d.Y, d.Z} {
				if n == 0 && !fabric && !soft { // a bit 6 mm thick
					c.lo[axis], c.hi[axis] = whole.lo[axis]-3, whole.hi[axis]+3
				}
			}
			for _, p := range x.Run.Points() {
				line := cuboid{[3]float64{p.X, p.Y, p.Z}, [3]float64{p.X, p.Y, p.Z}}
				if fabric && c.overlaps(line) {
					continue
				}
				for axis, n := range [3]int{d.X, d.Y, d.Z} {
					if n != 0 {
						line = line.stretched(axis, float64(n)*250)
					}
				}
				if c.overlaps(line) {
					return true
				}
			}
			return false
		}
		piece, fabric := false, false
		for _, c := range o.codes() {
			joint := c == x.Holds || c == x.IntoElement || slices.Contains(x.Through, c) || o.together(c, x.Holds) || slices.Contains(leaving, c)
			piece = piece || !joint && !o.landlords(c) && across(o.box[c], false, o.el[c].Kind == domain.Insulation)
			fabric = fabric || o.landlords(c) && across(o.box[c], true, false)
		}
		for _, h := range o.host {
			fabric = fabric || across(h, true, false)
		}
		if !piece && !fabric {
			return false
		}
		pieceOnly = pieceOnly || piece && !fabric
	}
	return pieceOnly
}

func (o *oracle) leave(group, undo []string) {
	o.leaving = group
	defer func() { o.leaving = nil }()
	whole, others := true, false
	for code, e := range o.el {
		if o.together(code, group[0]) && e.ComesOut() && !slices.Contains(group, code) {
			whole, others = whole && o.now.in[code], true
		}
	}
	if whole && others {
		o.broken(Apart)
	}
	for _, f := range undo {
		o.now.undone[f] = true
	}
	for _, f := range undo {
		o.touchFixing(f, group)
	}
	for _, m := range group {
		if o.el[m].Kind.IsService() || o.runsThrough(m) {
			o.touchService(m)
		}
		for _, f := range o.fix {
			if f.Holds == m && !o.now.undone[f.Code] && !o.inside(f, group) {
				o.broken(Held)
			}
			if slices.Contains(f.Through, m) && o.now.in[f.Holds] && !slices.Contains(group, f.Holds) &&
				(!o.landlords(f.Holds) || !o.now.undone[f.Code]) {
				o.broken(Clamped)
			}
		}
		o.leaveRelated(m, group)
	}
	for _, a := range o.arcs {
		if !slices.Contains(group, a.to) || slices.Contains(group, a.from) || !o.now.in[a.from] {
			continue
		}
		still := a.fixing != "" && !o.now.undone[a.fixing]
		if letGo := a.fixing != "" && o.landlords(a.from) || o.propped(a.from); still || !letGo {
			o.broken(Carried)
		}
	}
	if o.trapped(group) {
		o.broken(Trapped)
	}
	for _, m := range group {
		delete(o.now.in, m)
	}
	for u, by := range o.steady {
		last := slices.ContainsFunc(by, func(c string) bool { return slices.Contains(group, c) })
		if left := slices.ContainsFunc(by, func(c string) bool { return o.now.in[c] }); o.now.in[u] && last && !left && !o.propped(u) {
			o.broken(Unsteadied)
		}
	}
}

func (o *oracle) leaveRelated(m string, group []string) {
	for kind, rule := range map[domain.RelationKind]Rule{domain.Hides: Hidden, domain.Traps: Trapped, domain.Interlocks: Interlocked,
		domain.Seals: Sealed, domain.RunsThrough: ServiceIn} {
		o.relations(kind, func(x domain.Relation) {
			if x.To != m {
				return
			}
			if o.now.in[x.From] && !slices.Contains(group, x.From) && !o.landlords(x.From) {
				o.broken(rule)
			}
			if kind == domain.RunsThrough && o.landlords(x.From) {
				o.touchService(x.From)
			}
		})
	}
	o.relations(domain.Serves, func(x domain.Relation) {
		if x.From == m && o.now.in[x.To] && !slices.Contains(group, x.To) && !o.landlords(x.To) {
			o.broken(Unserved)
		}
	})
}

// trapped: along each of six directions something is in the way, and along one of them only pieces are.
func (o *oracle) trapped(group []string) bool {
	lead := slices.MinFunc(group, func(a, b string) int {
		if d := o.el[b].LengthMm - o.el[a].LengthMm; d != 0 {
			return d
		}
		if a < b {
			return -1
		}
		return 1
	})
	around := func(codes []string) cuboid {
		out := o.box[codes[0]]
		for _, c := range codes {
			for i := range 3 {
				out.lo[i], out.hi[i] = min(out.lo[i], o.box[c].lo[i]), max(out.hi[i], o.box[c].hi[i])
			}
		}
		return out
	}
	whole := around(group)
	assembly := []string{lead}
	for code, e := range o.el {
		if e.Assembly != "" && e.Assembly == o.el[lead].Assembly && e.IsInPlace() {
			assembly = append(assembly, code)
		}
	}
	room := around(assembly)
	pieceOnly := false
	for axis := range 3 {
		for _, sign := range []float64{1, -1} {
			by := whole.hi[axis] - whole.lo[axis] + 1200
			if k := o.el[lead].Kind; k == domain.GuardRail || k == domain.GuardPost || k == domain.ToeBoard {
				by -= 700
			}
			if o.el[lead].Assembly != "" {
				clear := room.hi[axis] - whole.lo[axis]
				if sign < 0 {
					clear = whole.hi[axis] - room.lo[axis]
				}
				by = min(by, clear)
			}
			piece, fabric := false, false
			for _, m := range group {
				way := o.box[m].drawnIn()
				within := func(c cuboid, by float64) bool {
					return way.stretched(axis, sign*by).overlaps(c) && !way.overlaps(c)
				}
				meets := func(c cuboid) bool { return within(c, by) }
				near := min(by, whole.hi[axis]-whole.lo[axis]+500)
				for _, c := range o.codes() {
					if slices.Contains(group, c) || slices.ContainsFunc(o.arcs, func(a standsOn) bool { return a.from == m && a.to == c && a.fixing == "" }) && !o.landlords(c) {
						continue
					}
					piece = piece || !o.landlords(c) && meets(o.box[c])
					fabric = fabric || o.landlords(c) && within(o.box[c], near)
				}
				for _, h := range o.host {
					fabric = fabric || within(h, near)
				}
			}
			if !piece && !fabric {
				return false
			}
			pieceOnly = pieceOnly || piece && !fabric
		}
	}
	return pieceOnly
}

// standing are the groups in place that reach the fabric now.
func (o *oracle) standing() map[string]bool {
	var arcs []standsOn
	for _, a := range o.arcs {
		if o.now.in[a.from] && (a.to == "" || o.now.in[a.to]) && !o.now.undone[a.fixing] {
			arcs = append(arcs, a)
		}
	}
	return o.grounded(arcs, o.now.props)
}

func (o *oracle) falls(before map[string]bool) {
	after := o.standing()
	for _, code := range o.codes() {
		u := o.unit(code)
		if before[u] && !after[u] && !o.fallen[u] {
			o.fallen[u] = true
			if o.strike {
				o.broken(PropNeeded)
			} else {
				o.broken(Ungrounded)
			}
		}
	}
}
