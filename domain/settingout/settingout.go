package settingout

import (
	"cmp"
	"encoding/json"
	"math"
	"slices"

	"unpick/domain"
)

// Sheet is the setting-out of one wall. All distances run from its set-out end, all heights from the floor there.
type Sheet struct {
	Assembly string    `json:"assembly"`
	Name     string    `json:"name"`
	LengthMm int       `json:"length_mm"`
	Uprights []Upright `json:"uprights"`
	Plates   []Plate   `json:"plates"`
	Doorways []Doorway `json:"doorways"`
	Joints   []Joint   `json:"joints"`
	Levels   []Level   `json:"levels"`
	RakeDeg  float64   `json:"rake_deg,omitempty" jsonschema_description:"angle of the head plate, 0 for a level one; it is then marked by along_head_mm"`
}

// Upright is one stud or post: its two edges and its middle.
type Upright struct {
	Code        string `json:"code"`
	NearMm      int    `json:"near_mm"`
	CentreMm    int    `json:"centre_mm"`
	FarMm       int    `json:"far_mm"`
	FootMm      int    `json:"foot_mm" jsonschema_description:"height of its foot"`
	LengthMm    int    `json:"length_mm" jsonschema_description:"to the long point"`
	AlongHeadMm int    `json:"along_head_mm,omitempty" jsonschema_description:"near edge measured along a raked head plate"`
	Short       bool   `json:"short,omitempty" jsonschema_description:"stands over a doorway: no mark on the sole plate"`
}

// Plate is one piece of plate, by where it begins and ends.
type Plate struct {
	Code     string             `json:"code"`
	Kind     domain.ElementKind `json:"kind"`
	NearMm   int                `json:"near_mm"`
	FarMm    int                `json:"far_mm"`
	LengthMm int                `json:"length_mm" jsonschema_description:"to cut: on a rake longer than far less near"`
}

// Doorway is a rough opening: its sides, and the underside of its head.
type Doorway struct {
	Head   string `json:"head" jsonschema_description:"code of the piece over it"`
	NearMm int    `json:"near_mm"`
	FarMm  int    `json:"far_mm"`
	HeadMm int    `json:"head_mm"`
}

// Level is a height to mark on the studs: the underside of a nogging, or a level joint between boards.
type Level struct {
	What    string   `json:"what" jsonschema:"enum=nogging,enum=joint"`
	Face    string   `json:"face,omitempty"`
	AtMm    int      `json:"at_mm"`
	Count   int      `json:"count" jsonschema_description:"pieces, or joints, at this height"`
	Codes   []string `json:"codes,omitempty"`
	Sloping bool     `json:"sloping,omitempty" jsonschema_description:"the height is that of the lower end"`
}

// Of takes the setting-out of a wall from what stands of it. An assembly that is not there, or that has no studs
// standing, is NotFound.
func Of(r *domain.Register, assembly string) (Sheet, error) {
	at := slices.IndexFunc(r.Assemblies, func(a domain.Assembly) bool { return a.Code == assembly })
	if at < 0 {
		return Sheet{}, domain.Errorf(domain.NotFound, "there is no assembly %s to set out", assembly)
	}
	var pieces []*domain.Element
	for i := range r.Elements {
		if e := &r.Elements[i]; e.Assembly == assembly && e.IsInPlace() {
			pieces = append(pieces, e)
		}
	}
	slices.SortStableFunc(pieces, func(a, b *domain.Element) int { return cmp.Compare(a.Code, b.Code) })
	w, ok := axesOf(&r.Assemblies[at], pieces)
	s := Sheet{Assembly: assembly, Name: r.Assemblies[at].Name}
	if ok {
		s.take(w, pieces)
	}
	if len(s.Uprights) == 0 {
		return Sheet{}, domain.Errorf(domain.NotFound, "%s has no studs standing: there is nothing to set out", assembly)
	}
	return s, nil
}

// wall is the axes of a wall: its set-out end and its direction on plan.
type wall struct {
	origin domain.Vector
	along  domain.Vector
}

// axesOf takes the set-out end from the parameters where the assembly has them, else from the end of its longest
// level plate, at its foot.
func axesOf(a *domain.Assembly, pieces []*domain.Element) (wall, bool) {
	var p struct {
		Origin *domain.Point    `json:"origin"`
		Along  domain.Direction `json:"along"`
	}
	if json.Unmarshal(a.Params, &p) == nil && p.Origin != nil && !p.Along.IsZero() {
		return wall{p.Origin.Vector(), p.Along.Unit()}, true
	}
	var longest *domain.Element
	low := math.Inf(1)
	for _, e := range pieces {
		lo, _ := e.Box().Bounds()
		low = math.Min(low, lo.Z)
		if isPlate(e.Kind) && (longest == nil || e.LengthMm > longest.LengthMm) {
			longest = e
		}
	}
	if longest == nil {
		return wall{}, false
	}
	u := longest.Placement.Along.Unit()
	start := longest.Placement.Origin.Vector()
	return wall{domain.Vector{X: start.X, Y: start.Y, Z: low}, domain.Vector{X: u.X, Y: u.Y}.Unit()}, true
}

func isPlate(k domain.ElementKind) bool {
	return k == domain.SolePlate || k == domain.HeadPlate || k == domain.CapPlate
}

// extent is how far a piece reaches in the axes of the wall, to the nearest millimetre.
type extent struct{ x0, x1, z0, z1 int }

func (w wall) extent(e *domain.Element) extent {
	x0, x1, z0, z1 := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	for _, c := range e.Box().Corners() {
		d := c.Sub(w.origin)
		x, z := d.Dot(w.along), d.Z
		x0, x1, z0, z1 = math.Min(x0, x), math.Max(x1, x), math.Min(z0, z), math.Max(z1, z)
	}
	return extent{round(x0), round(x1), round(z0), round(z1)}
}

func round(v float64) int { return int(math.Round(v)) }

func (s *Sheet) take(w wall, pieces []*domain.Element) {
	for _, e := range pieces {
		x := w.extent(e)
		switch {
		case e.Kind == domain.Stud || e.Kind == domain.Post:
			s.Uprights = append(s.Uprights, Upright{Code: e.Code, NearMm: x.x0, CentreMm: x.x0 + (x.x1-x.x0)/2, FarMm: x.x1, FootMm: x.z0, LengthMm: e.LengthMm})
		case isPlate(e.Kind):
			s.takePlate(w, e)
		case e.Kind == domain.OpeningHead:
			s.Doorways = append(s.Doorways, Doorway{e.Code, x.x0, x.x1, x.z0})
		case e.Kind == domain.Nogging:
			rise := math.Abs(e.Placement.Along.Unit().Z) > 1e-6
			s.addLevel(Level{What: "nogging", AtMm: x.z0, Count: 1, Codes: []string{e.Code}, Sloping: rise})
		}
	}
	s.takeJoints(w, pieces)
	slices.SortStableFunc(s.Uprights, func(a, b Upright) int { return cmp.Compare(a.NearMm, b.NearMm) })
	slices.SortStableFunc(s.Plates, func(a, b Plate) int {
		return cmp.Or(cmp.Compare(order(a.Kind), order(b.Kind)), cmp.Compare(a.NearMm, b.NearMm))
	})
	slices.SortStableFunc(s.Doorways, func(a, b Doorway) int { return cmp.Compare(a.NearMm, b.NearMm) })
	s.Doorways = slices.CompactFunc(s.Doorways, func(a, b Doorway) bool { return a.NearMm == b.NearMm && a.FarMm == b.FarMm })
	slices.SortStableFunc(s.Levels, func(a, b Level) int {
		return cmp.Or(cmp.Compare(b.What, a.What), cmp.Compare(a.Face, b.Face), cmp.Compare(a.AtMm, b.AtMm))
	})
	s.finishUprights()
}

// order puts sole plates before head plates.
func order(k domain.ElementKind) int {
	if k == domain.SolePlate {
		return 0
	}
	return 1
}

// takePlate records a plate. A sloping one is cut plumb and its box is the middle of the cut: on plan it runs the
// length of its slope times the cosine.
func (s *Sheet) takePlate(w wall, e *domain.Element) {
	b := e.Box()
	u := e.Placement.Along.Unit()
	middle, half := b.Centre.Sub(w.origin).Dot(w.along), b.Half[0]*math.Abs(u.Dot(w.along))
	s.Plates = append(s.Plates, Plate{e.Code, e.Kind, round(middle - half), round(middle + half), e.LengthMm})
	s.LengthMm = max(s.LengthMm, round(middle+half))
	if e.Kind != domain.SolePlate && u.Z != 0 {
		s.RakeDeg = math.Round(math.Asin(math.Abs(u.Z))*180/math.Pi*100) / 100
	}
}

// finishUprights marks the studs over doorways, and gives each its place along a raked head.
func (s *Sheet) finishUprights() {
	stretch := 1 / math.Cos(s.RakeDeg*math.Pi/180)
	for i := range s.Uprights {
		u := &s.Uprights[i]
		s.LengthMm = max(s.LengthMm, u.FarMm)
		u.Short = slices.ContainsFunc(s.Doorways, func(d Doorway) bool { return d.NearMm < u.CentreMm && u.CentreMm < d.FarMm })
		if s.RakeDeg != 0 {
			u.AlongHeadMm = round(float64(u.NearMm) * stretch)
		}
	}
}

func (s *Sheet) addLevel(l Level) {
	for i := range s.Levels {
		if k := &s.Levels[i]; k.What == l.What && k.Face == l.Face && k.AtMm == l.AtMm && k.Sloping == l.Sloping {
			k.Count += l.Count
			k.Codes = append(k.Codes, l.Codes...)
			return
		}
	}
	s.Levels = append(s.Levels, l)
}
