package recipe

import (
	"cmp"
	"strconv"
	"strings"

	"unpick/domain"
)

// Loose is anything, piece by piece, with codes of the logger's own: what no recipe describes comes in through the
// same door as the rest. Codes are kept as given; an assembly, zone or build order left out is filled in.
type Loose struct {
	Elements  []domain.Element  `json:"elements,omitempty"`
	Fixings   []domain.Fixing   `json:"fixings,omitempty"`
	Holes     []domain.Hole     `json:"holes,omitempty"`
	Relations []domain.Relation `json:"relations,omitempty"`
}

func buildLoose(b *builder, p Loose) error {
	if len(p.Elements)+len(p.Fixings)+len(p.Holes)+len(p.Relations) == 0 {
		return domain.FieldErrorf(domain.Invalid, "/params", "there is nothing to log: give elements, fixings, holes or relations")
	}
	for i, e := range p.Elements {
		b.turn++
		e.BuiltOrder, e.Zone = cmp.Or(e.BuiltOrder, b.turn), cmp.Or(e.Zone, b.assembly.Zone)
		e.Owner, e.Builder = cmp.Or(e.Owner, b.assembly.Owner), cmp.Or(e.Builder, b.assembly.Builder)
		b.own(&e.Assembly, "elements", i)
		b.made.Elements = append(b.made.Elements, e)
	}
	for i, f := range p.Fixings {
		b.turn++
		f.BuiltOrder, f.Builder = cmp.Or(f.BuiltOrder, b.turn), cmp.Or(f.Builder, b.assembly.Builder)
		b.own(&f.Assembly, "fixings", i)
		b.made.Fixings = append(b.made.Fixings, f)
	}
	for i, h := range p.Holes {
		h.BuiltOrder = cmp.Or(h.BuiltOrder, b.turn)
		b.own(&h.Assembly, "holes", i)
		b.made.Holes = append(b.made.Holes, h)
	}
	for i, rel := range p.Relations {
		rel.Origin = cmp.Or(rel.Origin, domain.FromLog)
		b.own(&rel.Assembly, "relations", i)
		b.made.Relations = append(b.made.Relations, rel)
	}
	b.checkLoose()
	return nil
}

// own puts a record into this assembly; one that names another belongs there.
func (b *builder) own(assembly *string, list string, i int) {
	if *assembly != "" && *assembly != b.assembly.Code {
		b.faults.Addf(domain.Invalid, "/params/"+list+"/"+strconv.Itoa(i)+"/assembly", "is %q: log it with that assembly, or leave it out", *assembly)
		return
	}
	*assembly = b.assembly.Code
}

// checkLoose holds the pieces to every rule that always holds, and points each fault at the parameter. Faults that
// the register had before are not theirs.
func (b *builder) checkLoose() {
	add := b.made
	if _, known := b.index.Assemblies[b.assembly.Code]; !known {
		add.Assemblies = []domain.Assembly{{Code: b.assembly.Code, Name: cmp.Or(b.assembly.Name, b.assembly.Code), Zone: b.assembly.Zone}}
	}
	before := map[string]int{"elements": len(b.register.Elements), "fixings": len(b.register.Fixings), "holes": len(b.register.Holes), "relations": len(b.register.Relations)}
	known := map[domain.Error]bool{}
	for _, f := range domain.Check(b.register) {
		known[*f] = true
	}
	for _, f := range domain.Check(b.register.With(add)) {
		if !known[*f] {
			b.faults.Addf(f.Code, looseField(f.Field, before), "%s", f.Text)
		}
	}
}

// looseField points at the parameter that a place in the register came from; a fault that shows at an older record
// is laid at the whole.
func looseField(field string, before map[string]int) string {
	parts := strings.SplitN(field, "/", 4)
	if len(parts) < 3 {
		return "/params"
	}
	n, listed := before[parts[1]]
	at, err := strconv.Atoi(parts[2])
	if !listed || err != nil || at < n {
		return "/params"
	}
	out := "/params/" + parts[1] + "/" + strconv.Itoa(at-n)
	if len(parts) == 4 {
		out += "/" + parts[3]
	}
	return out
}
