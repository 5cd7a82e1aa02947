package domain

// HostSurface is one part of the landlord's fabric that the fit-out touches: a slab, a block wall, a beam, a
// roof panel. It is drawn as a rectangle on a plane; the normal U x V points at the tenant's side.
type HostSurface struct {
	Code          string      `json:"code"`
	Name          string      `json:"name"`
	Kind          string      `json:"kind" jsonschema_description:"host kind from the catalogue, e.g. concrete-slab"`
	Zone          string      `json:"zone,omitempty"`
	Origin        Point       `json:"origin"`
	U             Direction   `json:"u" jsonschema_description:"first axis of the surface; for a wall seen from the room, to the right"`
	V             Direction   `json:"v" jsonschema_description:"second axis; U x V points into the room"`
	UMm           int         `json:"u_mm" jsonschema:"minimum=1,maximum=1000000"`
	VMm           int         `json:"v_mm" jsonschema:"minimum=1,maximum=1000000"`
	ThicknessMm   int         `json:"thickness_mm,omitempty" jsonschema:"minimum=0,maximum=10000" jsonschema_description:"0 where it is not known"`
	GridLines     []GridLine  `json:"grid_lines,omitempty"`
	Finish        string      `json:"finish,omitempty"`
	FinishM2      float64     `json:"finish_m2,omitempty" jsonschema:"minimum=0,maximum=1000000" jsonschema_description:"decorated area in square metres where it is not the whole rectangle: a wall under a sloping roof, openings taken off; 0 takes the rectangle"`
	Rule          FixingRule  `json:"rule" jsonschema:"enum=allowed,enum=ask,enum=never"`
	AgreedHoles   int         `json:"agreed_holes,omitempty" jsonschema:"minimum=0,maximum=1000000" jsonschema_description:"how many holes the licence allows"`
	MaxDiameterMm float64     `json:"max_diameter_mm,omitempty" jsonschema:"minimum=0,maximum=1000"`
	MaxDepthMm    int         `json:"max_depth_mm,omitempty" jsonschema:"minimum=0,maximum=10000"`
	Fixings       []string    `json:"fixings_allowed,omitempty" jsonschema_description:"kinds of fixing that the licence allows here: families (masonry, steel, timber, ...) or types of the catalogue; empty says nothing of kinds"`
	Clause        string      `json:"clause,omitempty" jsonschema_description:"clause of the lease or licence that governs it"`
	Conditions    []Condition `json:"conditions,omitempty"`
	Known         Known       `json:"known,omitempty" jsonschema:"enum=seen,enum=measured,enum=assumed,enum=unknown"`
	Note          string      `json:"note,omitempty"`
	Struck        bool        `json:"struck,omitempty" jsonschema_description:"it is not there, or was logged by mistake; nothing is on it"`
	Reason        string      `json:"reason,omitempty" jsonschema_description:"why it was struck"`
	Version       int         `json:"version,omitempty" jsonschema:"minimum=0"`
}

// GridLine names a line across a host surface, so that a place on it can be found again.
type GridLine struct {
	Name string `json:"name"`
	Axis string `json:"axis" jsonschema:"enum=u,enum=v"`
	AtMm int    `json:"at_mm"`
}

// DecoratedM2 is the area of its finish: as stated, else the whole rectangle.
func (h HostSurface) DecoratedM2() (areaM2 float64, stated bool) {
	if h.FinishM2 > 0 {
		return h.FinishM2, true
	}
	return float64(h.UMm) * float64(h.VMm) / 1e6, false
}

// Normal is the unit vector out of the surface into the room.
func (h HostSurface) Normal() Vector { return h.Plane().Axes()[2] }

// Plane is the placement of the surface: origin, U and V.
func (h HostSurface) Plane() Placement { return Placement{h.Origin, h.U, h.V} }

// At is the point of the surface at u, v millimetres along its axes.
func (h HostSurface) At(uMm, vMm float64) Vector {
	axes := h.Plane().Axes()
	return h.Origin.Vector().Add(axes[0].Scale(uMm)).Add(axes[1].Scale(vMm))
}

// Local is where a point lies seen from the surface: along U, along V, and out from it, in millimetres.
func (h HostSurface) Local(p Vector) (u, v, out float64) {
	axes := h.Plane().Axes()
	d := p.Sub(h.Origin.Vector())
	return d.Dot(axes[0]), d.Dot(axes[1]), d.Dot(axes[2])
}
