package recipe

import (
	"fmt"

	"unpick/domain"
)

// Amendment is how the records of an assembly are to follow its amended description.
type Amendment struct {
	Now       domain.Assembly // as it is to be, at the version that was read
	Overwrite bool            // also what was amended by hand since
	Drilled   bool            // holes that the new description lacks were drilled, and stay as abandoned ones
	Reason    string          // why what no longer exists is struck; one is worded where it is empty
}

// Following is what an amendment does to the register: records to add, and records to put in place of older ones,
// the assembly first. Struck are the codes among them that are struck out. Lost says how many holes were in use
// and are in the new description no more.
type Following struct {
	Add, Put domain.Records
	Struck   []string
	Lost     int
}

// Again expands an assembly that is in the register again, from its amended description. What the new description
// lacks is struck, what is new in it is added, what changed is amended, each under the code that the recipe gives
// it; a code that is struck is not used again, its next life is called W1-S8.2. The assembly keeps its place in the
// build order. Notes, and how a piece is known, stay as people wrote them.
//
// Refused is a change that would undo what was amended by hand since, unless Overwrite is set, and one that takes
// away what other records name. Faults of parameters point into the assembly: "/params/height_mm".
func Again(r *domain.Register, a Amendment) (Following, error) {
	at, ok := r.Index().Assemblies[a.Now.Code]
	if !ok {
		return Following{}, domain.Errorf(domain.NotFound, "there is no assembly %q in this fit-out", a.Now.Code)
	}
	was, rest := r.Assemblies[at], without(r, a.Now.Code)
	base, err := Expand(rest, was)
	if err != nil {
		return Following{}, domain.Errorf(domain.Refused, "assembly %s no longer expands as it was described (%v): strike it and log a new one", was.Code, err)
	}
	made, err := Expand(rest, a.Now)
	if err != nil {
		return Following{}, err
	}
	if a.Reason == "" {
		a.Reason = "not in " + a.Now.Code + " as it was described again"
	}
	g := &again{Amendment: a, r: r, names: newLives(r, a.Now.Code)}
	if err := g.names.give(base, made); err != nil {
		return Following{}, err
	}
	g.base, g.made = g.names.renamed(base, g.names.of), g.names.renamed(made, g.names.next)
	g.keepOrder()
	g.out.Put.Assemblies = []domain.Assembly{a.Now}
	followNoun(g, elementAgain)
	followNoun(g, fixingAgain)
	followNoun(g, holeAgain)
	followNoun(g, relationAgain)
	g.holesLost()
	g.othersStand()
	if err := g.faults.OrNil(); err != nil {
		return Following{}, err
	}
	return g.out, nil
}

// again is one run: the description before and after, under the codes of the register.
type again struct {
	Amendment
	r          *domain.Register
	names      *lives
	base, made domain.Records
	gone       map[string]bool // codes that are struck
	moved      map[string]bool // pieces that come to lie elsewhere or change size
	out        Following
	faults     domain.Errors
}

// without is the register without an assembly and everything that belongs to it.
func without(r *domain.Register, assembly string) *domain.Register {
	out := *r
	out.Assemblies = others(r.Assemblies, assembly, func(a *domain.Assembly) string { return a.Code })
	out.Elements = others(r.Elements, assembly, func(e *domain.Element) string { return e.Assembly })
	out.Fixings = others(r.Fixings, assembly, func(f *domain.Fixing) string { return f.Assembly })
	out.Holes = others(r.Holes, assembly, func(h *domain.Hole) string { return h.Assembly })
	out.Relations = others(r.Relations, assembly, func(rel *domain.Relation) string { return rel.Assembly })
	return &out
}

func others[T any](records []T, assembly string, of func(*T) string) []T {
	var out []T
	for i := range records {
		if of(&records[i]) != assembly {
			out = append(out, records[i])
		}
	}
	return out
}

// keepOrder moves both descriptions, which were expanded behind everything else, to where the assembly was built.
func (g *again) keepOrder() {
	if len(g.base.Elements) == 0 {
		return
	}
	first := &g.base.Elements[0]
	at, ok := g.r.Index().Elements[first.Code]
	if !ok {
		return
	}
	shift := g.r.Elements[at].BuiltOrder - first.BuiltOrder
	for _, made := range [...]*domain.Records{&g.base, &g.made} {
		for i := range made.Elements {
			made.Elements[i].BuiltOrder += shift
		}
		for i := range made.Fixings {
			made.Fixings[i].BuiltOrder += shift
		}
		for i := range made.Holes {
			made.Holes[i].BuiltOrder += shift
		}
	}
}

// othersStand refuses to take away or to move what records name that the recipe did not make.
func (g *again) othersStand() {
	ours := map[string]bool{}
	for i := range g.base.Fixings {
		ours[g.base.Fixings[i].Code] = true
	}
	for i := range g.base.Relations {
		ours[g.base.Relations[i].Code] = true
	}
	say := func(user string, named ...string) {
		for _, code := range named {
			switch {
			case ours[user]:
			case g.gone[code]:
				g.faults.Addf(domain.Refused, "", "%s would go, and %s still names it: amend or strike %s first", code, user, user)
			case g.moved[code] && !g.Overwrite:
				g.faults.Addf(domain.Refused, "", "%s would move, and %s names it: amend or strike %s first, or say that it is to be overwritten", code, user, user)
			}
		}
	}
	for i := range g.r.Fixings {
		if f := &g.r.Fixings[i]; f.InPlace() {
			say(f.Code, append([]string{f.Holds, f.IntoElement}, f.Through...)...)
		}
	}
	for i := range g.r.Relations {
		if rel := &g.r.Relations[i]; !rel.Struck {
			say(rel.Code, rel.From, rel.To)
		}
	}
}

// lives ties the codes that a recipe gives to the codes in the register.
type lives struct {
	assembly string
	taken    map[string]bool   // codes of the fit-out, struck or not
	live     map[string]bool   // those of the assembly's records in force
	of       map[string]string // the recipe's code for what is there: its code in the register, itself where it was struck by hand
	next     map[string]string // the recipe's code for what is to be: its code in the register
}

func newLives(r *domain.Register, assembly string) *lives {
	n := &lives{assembly: assembly, taken: map[string]bool{}, live: map[string]bool{}, of: map[string]string{}, next: map[string]string{}}
	file := func(code, of string, inForce bool) {
		n.taken[code] = true
		n.live[code] = of == assembly && inForce
	}
	for i := range r.Elements {
		file(r.Elements[i].Code, r.Elements[i].Assembly, r.Elements[i].State != domain.Struck)
	}
	for i := range r.Fixings {
		file(r.Fixings[i].Code, r.Fixings[i].Assembly, r.Fixings[i].State != domain.FixingStruck)
	}
	for i := range r.Holes {
		file(r.Holes[i].Code, r.Holes[i].Assembly, r.Holes[i].State != domain.HoleStruck && r.Holes[i].State != domain.HoleAbandoned)
	}
	for i := range r.Relations {
		file(r.Relations[i].Code, r.Relations[i].Assembly, !r.Relations[i].Struck)
	}
	return n
}

// give finds for each code of the old description the record that it lives on in, and for each of the new one that
// record or a code that was never used.
func (n *lives) give(base, made domain.Records) error {
	for _, code := range codesOf(base) {
		n.of[code] = code
		for life := 1; n.taken[lived(code, life)]; life++ {
			if n.live[lived(code, life)] {
				n.of[code] = lived(code, life)
				break
			}
		}
	}
	var faults domain.Errors
	for _, code := range codesOf(made) {
		if now, was := n.of[code]; was && n.live[now] {
			n.next[code] = now
			continue
		}
		life := 1
		for n.taken[lived(code, life)] {
			if n.live[lived(code, life)] {
				faults.Addf(domain.Exists, "", "%s needs the code %s, which was given by hand: strike that one and log it under another code first", n.assembly, lived(code, life))
			}
			life++
		}
		n.next[code] = n.unused(code)
	}
	return faults.OrNil()
}

// unused is the next code in line for a thing, taken from now on.
func (n *lives) unused(code string) string {
	life := 1
	for n.taken[lived(code, life)] {
		life++
	}
	n.taken[lived(code, life)] = true
	return lived(code, life)
}

// lived is the code of a thing in its first, second, ... life.
func lived(code string, life int) string {
	if life == 1 {
		return code
	}
	return fmt.Sprintf("%s.%d", code, life)
}

func codesOf(r domain.Records) []string {
	var out []string
	for i := range r.Elements {
		out = append(out, r.Elements[i].Code)
	}
	for i := range r.Fixings {
		out = append(out, r.Fixings[i].Code)
	}
	for i := range r.Holes {
		out = append(out, r.Holes[i].Code)
	}
	for i := range r.Relations {
		out = append(out, r.Relations[i].Code)
	}
	return out
}

// renamed is records with every code of the recipe's own turned into that of the register.
func (n *lives) renamed(r domain.Records, to map[string]string) domain.Records {
	name := func(code *string) {
		if other, ok := to[*code]; ok {
			*code = other
		}
	}
	for i := range r.Elements {
		name(&r.Elements[i].Code)
	}
	for i := range r.Fixings {
		f := &r.Fixings[i]
		name(&f.Code)
		name(&f.Holds)
		name(&f.IntoElement)
		f.Through = append([]string(nil), f.Through...)
		for k := range f.Through {
			name(&f.Through[k])
		}
	}
	for i := range r.Holes {
		name(&r.Holes[i].Code)
		name(&r.Holes[i].Fixing)
	}
	for i := range r.Relations {
		name(&r.Relations[i].Code)
		name(&r.Relations[i].From)
		name(&r.Relations[i].To)
	}
	return r
}
