package recipe

import (
	"strings"

	"unpick/domain"
)

// usualFixing is the demountable fixing that a plate or an end stud takes into a kind of host where nobody says
// otherwise: one that unscrews and leaves a small clean hole, a plug in soft block, a clamp on steel. "" where
// there is no usual one, because the surface must not be drilled (common practice, no source).
func usualFixing(hostKind string) string {
	switch hostKind {
	case "concrete-slab", "slab-hardened", "resin-floor":
		return "concrete-screw-6"
	case "dense-block", "brick":
		return "frame-screw-7-5"
	case "aircrete-block":
		return "aircrete-plug-8"
	case "hollow-block", "plastered-wall", "sand-cement-screed":
		return "frame-fixing-8"
	case "hot-rolled-steel":
		return "beam-clamp-m10"
	case "cold-formed-purlin":
		return "purlin-clamp-m8"
	case "timber-member":
		return "structural-screw-6"
	}
	return ""
}

// dustRoomMm is how much deeper than the screw reaches a hole is drilled, for the dust (common practice, no source).
const dustRoomMm = 10

// stopped is the depth at which the drill is stopped for a kind's usual fixing: short of what the type takes by some of
// the room for dust, where that keeps within the usual limit of the kind. A licence that states a depth was written
// with the fixing in view, and is left to it.
func stopped(t domain.FixingType, host *domain.HostSurface, kind domain.HostKind) int {
	if limit := kind.MaxDepthMm; host.MaxDepthMm == 0 && limit > 0 && t.HoleDepthMm > limit && t.HoleDepthMm <= limit+dustRoomMm {
		return limit
	}
	return t.DepthMm()
}

// reach is how deep a fixing of a known length goes into the landlord's surface behind the piece that it passes; 0, the type's
// usual depth, where the length is not known or the catalogue states the hole. One that does not reach it is refused.
func (b *builder) reach(t domain.FixingType, lengthMm, passedMm int, pointer string) int {
	if lengthMm == 0 || t.HoleDepthMm > 0 || t.ThroughHost || !t.MakesHole() {
		return 0
	}
	if lengthMm <= passedMm {
		b.faults.Addf(domain.Invalid, pointer+"/fixing_length_mm", "is %d and does not come out of the %d of the piece that it holds: give a longer one", lengthMm, passedMm)
		return 0
	}
	return lengthMm - passedMm
}

func isSteel(hostKind string) bool {
	return hostKind == "hot-rolled-steel" || hostKind == "cold-formed-purlin"
}

// isClamp reports whether a fixing grips steel without a hole.
func isClamp(t domain.FixingType) bool { return t.Family == "steel" && !t.MakesHole() }

// hostFixing settles what goes into a host surface: the one asked for, else the usual one. Refused are expansion
// anchors in block that they crush or spin in, and holes in the landlord's steel without the engineer's
// agreement, which is then the fixing's reason.
//
// Faults are about field host or code, and fixing, under pointer.
func (b *builder) hostFixing(hostCode, asked, agreed, pointer, field string) (t domain.FixingType, reason string) {
	host := b.needHost(hostCode, pointer+"/"+field)
	if host == nil {
		return t, ""
	}
	if asked == "" {
		if asked = usualFixing(host.Kind); asked == "" {
			b.faults.Addf(domain.Refused, pointer+"/fixing", "%s is %s, which has no usual fixing: name the one that the landlord has agreed", host.Code, b.hostName(host))
			return t, ""
		}
	}
	t = b.needFixing(asked, pointer+"/fixing")
	switch {
	case t.Expands() && !b.register.Catalogue.HostKinds[host.Kind].TakesExpansion():
		b.faults.Addf(domain.Refused, pointer+"/fixing", "%s presses outwards, and %s is %s: it crushes or spins there. Use %s", asked, host.Code, b.hostName(host), usualFixing(host.Kind))
	case isSteel(host.Kind) && t.MakesHole() && agreed == "":
		b.faults.Addf(domain.Refused, pointer+"/fixing", "%s makes a hole in %s, which is %s: use a clamp (%s), or give the reference under which the landlord's engineer agreed (engineer_agreed)", asked, host.Code, b.hostName(host), usualFixing(host.Kind))
	}
	if agreed != "" {
		reason = "landlord's engineer agreed: " + agreed
	}
	return t, reason
}

func (b *builder) hostName(h *domain.HostSurface) string {
	if kind, ok := b.register.Catalogue.HostKinds[h.Kind]; ok {
		return strings.ToLower(kind.Name[:1]) + kind.Name[1:]
	}
	return h.Kind
}
