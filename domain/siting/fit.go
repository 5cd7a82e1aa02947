package siting

import (
	"cmp"
	"slices"
	"strings"

	"unpick/domain"
	"unpick/domain/recipe"
)

// Fits lists the types of fixing that go into a thing, the usual one first, then by name: into a host surface those of
// its sort, into a piece those of its material. Expansion anchors are left out where the block cannot take them.
func Fits(r *domain.Register, t Target) []domain.FixingType {
	families, usual := []string{"timber", "lining"}, "wood-screw-5"
	kind := domain.HostKind{}
	switch {
	case t.host != nil:
		kind, usual = r.Catalogue.HostKinds[t.host.Kind], recipe.UsualFixing(t.host.Kind)
		families = familiesOf(t.host.Kind)
	case r.Catalogue.Materials[t.piece.Material].Kind == "metal":
		families, usual = []string{"steel"}, "self-drill-st4-8"
	}
	var out []domain.FixingType
	for _, f := range r.Catalogue.FixingTypes {
		if slices.Contains(families, f.Family) && (t.host == nil || !f.Expands() || kind.TakesExpansion()) {
			out = append(out, f)
		}
	}
	slices.SortFunc(out, func(a, b domain.FixingType) int {
		return cmp.Or(-compareBool(a.Slug == usual, b.Slug == usual), cmp.Compare(a.Name, b.Name), cmp.Compare(a.Slug, b.Slug))
	})
	return out
}

func familiesOf(hostKind string) []string {
	switch {
	case hostKind == "hot-rolled-steel" || hostKind == "cold-formed-purlin" || strings.HasPrefix(hostKind, "profiled"):
		return []string{"steel"}
	case strings.HasPrefix(hostKind, "timber") || strings.HasPrefix(hostKind, "trussed"):
		return []string{"timber"}
	case strings.HasPrefix(hostKind, "plasterboard") || strings.HasPrefix(hostKind, "suspended"):
		return []string{"lining", "dry"}
	}
	return []string{"masonry"}
}

func compareBool(a, b bool) int {
	switch {
	case a == b:
		return 0
	case a:
		return 1
	}
	return -1
}

// Target is what fixings go into: a host surface or a piece.
type Target struct {
	host  *domain.HostSurface
	piece *domain.Element
}

// Code is the code of the surface or the piece.
func (t Target) Code() string {
	if t.host != nil {
		return t.host.Code
	}
	return t.piece.Code
}

// TargetBy is what a reference names: "host SLAB", "piece W1-S1".
func TargetBy(r *domain.Register, ref string) (Target, bool) {
	noun, code, _ := strings.Cut(ref, " ")
	if noun == "host" {
		for i := range r.Hosts {
			if r.Hosts[i].Code == code {
				return Target{host: &r.Hosts[i]}, true
			}
		}
	}
	if noun == "piece" {
		if e := pieceBy(r, code); e != nil {
			return Target{piece: e}, true
		}
	}
	return Target{}, false
}

func pieceBy(r *domain.Register, code string) *domain.Element {
	for i := range r.Elements {
		if e := &r.Elements[i]; e.Code == code && e.IsInPlace() {
			return e
		}
	}
	return nil
}

// standOffMm is how far a piece may stand off what it is fixed to: a packer or a spacer is between (common practice, no
// source).
const standOffMm = 60

// Against are the surfaces of the landlord's that a piece lies against: those that meet its largest face first, then the
// nearest.
func Against(r *domain.Register, e *domain.Element) []Target {
	type near struct {
		Target
		face float64 // of the piece, half its sides
		gap  float64
	}
	var found []near
	for i := range r.Hosts {
		t := Target{host: &r.Hosts[i]}
		lie := t.lies(e)
		if lie.gapMm <= standOffMm && lie.gapMm >= -standOffMm && t.overlaps(e) {
			half := e.Box().Half
			found = append(found, near{t, half[0] * half[1] * half[2] / half[lie.axis], lie.gapMm})
		}
	}
	slices.SortStableFunc(found, func(a, b near) int { return cmp.Or(cmp.Compare(b.face, a.face), cmp.Compare(a.gap, b.gap)) })
	out := make([]Target, len(found))
	for i := range found {
		out[i] = found[i].Target
	}
	return out
}

// overlaps reports whether the middle of a piece lies in front of the surface.
func (t Target) overlaps(e *domain.Element) bool {
	u, v, _ := t.host.Local(e.Box().Centre)
	return u >= 0 && v >= 0 && u <= float64(t.host.UMm) && v <= float64(t.host.VMm)
}

// Point is a place in front of a surface: along it, up it, and so far off.
func (t Target) Point(alongMm, upMm int, offMm float64) domain.Point {
	return domain.Point{}.Moved(t.host.At(float64(alongMm), float64(upMm)).Add(t.host.Normal().Scale(offMm)))
}

// FacesUp reports whether it is a surface that one stands on.
func (t Target) FacesUp() bool { return t.host != nil && t.host.Normal().Z > 0.5 }
