package strip

import (
	"math"

	"unpick/domain"
)

// Reach from where the crew stands: up to here from the floor, up to here from steps, above from a tower
// (common practice, no source).
const (
	floorReachMm = 2000
	stepsReachMm = 3300
)

// gripMm is how far above the floor the foot of a piece may be for people on that floor to hold it as it comes free,
// while only its upper fixings are undone from above (common practice, no source).
const gripMm = 1000

// Where a platform is set: the work at shoulder height, or over the head where a wide flat piece is overhead, since
// nobody can stand inside it (common practice, no source).
const (
	shoulderMm = 1300
	headroomMm = 1900
	wideFlatMm = 300
)

// accessFor is what a piece is reached from: by its highest fixing, or its top where nothing holds it, above the
// level that people stand on in its zone. Off steps comes only what stands on the floor and is held from there, and what
// is light enough to be handed down.
func (p *planner) accessFor(n int32) Access {
	kind := p.r.Elements[p.graph.Elements(n)[0]].Kind
	if kind == domain.DeckBoard {
		return FromFloor // the deck itself, as long as it is there
	}
	fromSteps := !twoHanded(kind) && (p.stands(n) && len(p.graph.Elements(n)) == 1 || p.massOf(n) <= p.rates.ladderKg())
	switch above := p.topOf(n) - p.levels[n]; {
	case above <= floorReachMm:
		return FromFloor
	case above <= stepsReachMm && fromSteps:
		return FromSteps
	}
	return FromTower
}

// topOf is the height of a node's highest fixing, of its top where nothing holds it.
func (p *planner) topOf(n int32) float64 {
	if top := p.highest(p.graph.Fixings(n)); top > math.Inf(-1) {
		return top
	}
	top := 0.0
	for _, i := range p.graph.Elements(n) {
		_, hi := p.r.Elements[i].Box().Bounds()
		top = max(top, hi.Z)
	}
	return top
}

// highest is the height of the highest of some fixings, -Inf where none has a place.
func (p *planner) highest(fixings []int32) float64 {
	top := math.Inf(-1)
	for _, i := range fixings {
		run := &p.r.Fixings[i].Run
		if len(run.PositionsMm) == 0 {
			continue
		}
		rise := run.Along.Unit().Z
		for _, at := range run.PositionsMm {
			top = max(top, float64(run.Start.Z)+rise*float64(at))
		}
	}
	return top
}

// stands reports whether a node's foot is low enough for people on the floor to hold it as it comes free.
func (p *planner) stands(n int32) bool { return p.places.lowest(n)-p.levels[n] <= gripMm }

// massOf is the mass of all that leaves with a node.
func (p *planner) massOf(n int32) float64 {
	mass := 0.0
	for _, i := range p.graph.Elements(n) {
		if piece := p.pieces[i]; piece != nil {
			mass += piece.MassKg
		}
	}
	return mass
}

// twoHanded reports whether a piece is held overhead with both hands as it comes free, which nobody does on steps.
func twoHanded(kind domain.ElementKind) bool {
	switch kind {
	case domain.Joist, domain.Trimmer, domain.Beam, domain.WallPlate, domain.Strutting, domain.Hanger, domain.GuardRail, domain.GuardPost, domain.ToeBoard:
		return true
	}
	return false
}

// standLevel is the height of what people stand on who hold a node as it comes free: the floor, or the platform that
// they reach it from.
func (p *planner) standLevel(n int32, access Access) float64 {
	floor := p.levels[n]
	if access == FromFloor || p.stands(n) {
		return floor
	}
	reach := float64(shoulderMm)
	if p.overhead(n) {
		reach = headroomMm
	}
	up := max(p.topOf(n)-floor-reach, p.middle(n)-floor-reach, 0)
	if access == FromSteps {
		up = min(up, stepsReachMm-floorReachMm)
	}
	return floor + up
}

// middle is the height of the middle of a node.
func (p *planner) middle(n int32) float64 {
	lowest, highest := math.Inf(1), math.Inf(-1)
	for _, i := range p.graph.Elements(n) {
		lo, hi := p.r.Elements[i].Box().Bounds()
		lowest, highest = min(lowest, lo.Z), max(highest, hi.Z)
	}
	return (lowest + highest) / 2
}

// overhead reports whether a node is wide and flat over the head: a ceiling board.
func (p *planner) overhead(n int32) bool {
	lo, hi := p.r.Elements[p.graph.Elements(n)[0]].Box().Bounds()
	return hi.Z-lo.Z < wideFlatMm && min(hi.X-lo.X, hi.Y-lo.Y) > wideFlatMm
}

// heightOver is how far a height is above the landlord's floor under a node.
func (p *planner) heightOver(n int32, z float64) float64 {
	low := math.Inf(1)
	for _, i := range p.graph.Elements(n) {
		low = min(low, z-p.places.floorUnder(p.r.Elements[i].Box().Centre, z))
	}
	return low
}

// stand says where the crew stands for a run. standing says that its pieces are held from the floor.
func stand(key runKey, standing, long bool) string {
	switch key.Kind {
	case domain.DeckBoard:
		return "on the boards still down, working back towards the way down; nobody on the board being lifted; keep back from the open joists"
	case domain.Joist, domain.Trimmer, domain.Strutting, domain.Beam, domain.WallPlate, domain.Hanger:
		if key.Access == FromFloor {
			return "on the floor below, clear of the piece; never on the joists"
		}
		return "on a tower or platform below, never on the joists"
	case domain.GuardRail, domain.GuardPost, domain.ToeBoard:
		if key.Access == FromFloor {
			return "on the floor of the zone, once nobody has to be up there"
		}
		return "from below, off a tower or platform, once nobody has to be up there"
	}
	from := ""
	switch {
	case key.Access == FromSteps && long:
		from = "on a low platform, not on steps: over 30 minutes at height"
	case key.Access == FromSteps:
		from = "on steps or a low platform, on the floor of the zone"
	case key.Access == FromTower:
		from = "on a mobile tower, on the floor of the zone"
	default:
		return "on the floor of the zone"
	}
	if standing {
		return from + ", for the upper fixings; the piece stands on the floor and is held from there"
	}
	return from
}
