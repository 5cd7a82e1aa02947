package choice

import "unpick/domain"

// swap is what serves in place of a fixing.
type swap struct {
	slug     string
	everyMm  int // for one in place of a bead: one each so many millimetres
	lengthMm int
}

// instead names what serves in place of a fixing that does not come out clean (common practice, no source). Nails and
// pins go one for one; a bead of glue is given up for a line of screws at 300.
var instead = map[string]swap{
	"hanger-nail-3-75x30": {slug: "connector-screw-5x40", lengthMm: 40},
	"gun-nail-3-1x90":     {slug: "wood-screw-5", lengthMm: 80},
	"wire-nail-3x50":      {slug: "sheet-screw-4-5x50", lengthMm: 50},
	"shot-fired-pin":      {slug: "concrete-screw-6", lengthMm: 80},
	"pop-rivet-4-8":       {slug: "self-drill-st4-8"},
	"grab-adhesive":       {slug: "sheet-screw-4-5x50", everyMm: 300, lengthMm: 50},
	"pva-floor":           {slug: "sheet-screw-4-5x50", everyMm: 300, lengthMm: 50},
	"tape-double":         {slug: "sheet-screw-4-5x50", everyMm: 300, lengthMm: 50},
}

// insteadOf is what serves in place of a type, where something does and the catalogue has it.
func insteadOf(c *domain.Catalogue, slug string) (swap, bool) {
	s, ok := instead[slug]
	if !ok {
		return swap{}, false
	}
	_, ok = c.FixingTypes[s.slug]
	return s, ok
}

// in puts the alternative in a fixing's place.
func (s swap) in(f *domain.Fixing) {
	f.Type, f.LengthMm = s.slug, s.lengthMm
	if s.everyMm > 0 {
		f.Count = max(2, (f.BeadMm+s.everyMm-1)/s.everyMm+1)
		f.BeadMm = 0
	}
}
