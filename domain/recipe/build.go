package recipe

import (
	"slices"
	"strconv"

	"unpick/domain"
)

// builder collects what a recipe makes. Every piece and fixing takes the next turn in the build order, from the
// one after the last in the register. Faults about parameters are gathered and refuse the whole recipe.
type builder struct {
	frame
	register *domain.Register
	index    *domain.Index
	assembly domain.Assembly
	made     domain.Records
	place    map[string]int // element code -> place in made.Elements
	faults   domain.Errors
	turn     int
	numbers  map[string]int // last number given by kind letters
}

func newBuilder(r *domain.Register, a domain.Assembly) *builder {
	return &builder{
		register: r, index: r.Index(), assembly: a, turn: r.LastBuilt(),
		place: map[string]int{}, numbers: map[string]int{},
	}
}

// number is the next code with these kind letters: W1-S3 is the third stud of W1.
func (b *builder) number(letters string) string {
	b.numbers[letters]++
	return b.assembly.Code + "-" + letters + strconv.Itoa(b.numbers[letters])
}

// add puts a piece into the records under the next code with these kind letters and answers the code. Numbers
// are given in build order and are never reused, so that the same parameters always give the same codes.
func (b *builder) add(letters string, e domain.Element) string {
	return b.addAs(b.number(letters), e)
}

// addAs puts a piece into the records under a code of the recipe's choosing.
func (b *builder) addAs(code string, e domain.Element) string {
	b.turn++
	e.Code, e.BuiltOrder = code, b.turn
	e.Assembly, e.Zone, e.Owner, e.Builder = b.assembly.Code, b.assembly.Zone, b.assembly.Owner, b.assembly.Builder
	b.place[code] = len(b.made.Elements)
	b.made.Elements = append(b.made.Elements, e)
	return code
}

// piece is an element that this recipe made, or one already in the register; nil where there is none.
func (b *builder) piece(code string) *domain.Element {
	if i, ok := b.place[code]; ok {
		return &b.made.Elements[i]
	}
	if i, ok := b.index.Elements[code]; ok {
		return &b.register.Elements[i]
	}
	return nil
}

// joint is a set of like fixings as a recipe thinks of it, in its frame.
type joint struct {
	typ       string // fixing type from the catalogue
	lengthMm  int
	beadMm    int
	holds     string
	through   []string
	into      string             // element that it goes into, or
	host      string             // host surface that it goes into
	start     domain.Vector      // the run of heads: where it starts,
	along     domain.Direction   // which way it runs,
	positions []int              // and where on it the heads are
	undo      []domain.Direction // from the head towards the tool; any one will do
	toHost    domain.Vector      // from a head to where it enters the host surface
	depthMm   int                // of the hole; 0 takes the fixing type's own
	reason    string
	note      string
}

// fix puts a set of fixings into the records and answers its code. Where it goes into a host surface and its type
// makes holes, the holes are recorded with it: one set, and one more in the far face for a bolt right through
// masonry. Nothing else ever counts them.
func (b *builder) fix(j joint) string {
	b.turn++
	run := domain.Run{Start: b.point(j.start), Along: b.direction(j.along), PositionsMm: slices.Clone(j.positions)}
	f := domain.Fixing{
		Code: b.number("F"), Type: j.typ, LengthMm: j.lengthMm, BeadMm: j.beadMm, Count: max(1, len(j.positions)),
		Holds: j.holds, Through: j.through, IntoElement: j.into, IntoHost: j.host, Run: run,
		Assembly: b.assembly.Code, Builder: b.assembly.Builder, BuiltOrder: b.turn, Reason: j.reason, Note: j.note,
	}
	for _, d := range j.undo {
		f.Undo = append(f.Undo, b.direction(d))
	}
	b.made.Fixings = append(b.made.Fixings, f)
	if j.host != "" {
		b.drill(f, j)
	}
	return f.Code
}

// drill records the holes of a fixing that goes into a host surface.
func (b *builder) drill(f domain.Fixing, j joint) {
	t, ok := b.register.Catalogue.FixingTypes[j.typ]
	if !ok || !t.MakesHole() {
		return
	}
	h := domain.Hole{
		Code: b.number("H"), Host: j.host, Face: domain.FrontFace, DiameterMm: t.HoleInHostMm, DepthMm: t.DepthMm(),
		Through: t.ThroughHost, Count: f.Count, Run: f.Run, State: domain.HoleInUse, Fixing: f.Code,
		Assembly: b.assembly.Code, BuiltOrder: f.BuiltOrder,
	}
	if j.depthMm > 0 {
		h.DepthMm = j.depthMm
	} else if host := b.host(j.host); host != nil && j.typ == usualFixing(host.Kind) {
		h.DepthMm = stopped(t, host, b.register.Catalogue.HostKinds[host.Kind])
	}
	h.Run.Start = b.point(j.start.Add(j.toHost))
	h.Run.PositionsMm = slices.Clone(f.Run.PositionsMm)
	host := b.host(j.host)
	if h.Through && host != nil {
		h.DepthMm = host.ThicknessMm
	}
	b.made.Holes = append(b.made.Holes, h)
	if !h.Through || t.Family != "masonry" || host == nil {
		return
	}
	back := h
	back.Code, back.Face = b.number("H"), domain.BackFace
	back.Run.Start = h.Run.Start.Moved(host.Normal().Scale(-float64(host.ThicknessMm)))
	back.Run.PositionsMm = slices.Clone(h.Run.PositionsMm)
	b.made.Holes = append(b.made.Holes, back)
}

// relate states a fact that no fixing states, as from the recipe.
func (b *builder) relate(kind domain.RelationKind, from, to, note string) {
	b.made.Relations = append(b.made.Relations, domain.Relation{
		Code: b.number("R"), Kind: kind, From: from, To: to, Origin: domain.FromRecipe, Assembly: b.assembly.Code, Note: note,
	})
}

// host is a host surface by its code, nil where the register has none.
func (b *builder) host(code string) *domain.HostSurface {
	if i, ok := b.index.Hosts[code]; ok {
		return &b.register.Hosts[i]
	}
	return nil
}

// needHost is a host surface that a parameter names; where there is none the parameter is at fault.
func (b *builder) needHost(code, pointer string) *domain.HostSurface {
	h := b.host(code)
	if h == nil {
		b.faults.Addf(domain.Invalid, pointer, "there is no host surface %q: add it first, or name one that there is", code)
	}
	return h
}

// needMaterial is a material that a parameter names; where there is none the parameter is at fault.
func (b *builder) needMaterial(code, pointer string) domain.Material {
	m, ok := b.register.Catalogue.Materials[code]
	if !ok {
		b.faults.Addf(domain.Invalid, pointer, "there is no material %q in the catalogue", code)
	}
	return m
}

// needFixing is a fixing type that a parameter names; where there is none the parameter is at fault.
func (b *builder) needFixing(slug, pointer string) domain.FixingType {
	t, ok := b.register.Catalogue.FixingTypes[slug]
	if !ok {
		b.faults.Addf(domain.Invalid, pointer, "there is no fixing type %q in the catalogue", slug)
	}
	return t
}
