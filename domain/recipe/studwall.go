package recipe

import (
	"cmp"

	"unpick/domain"
)

// StudWall are the parameters of a timber stud wall. Everything is measured from the set-out end: X along the
// wall, Z up from the floor there. The frame of studs stands between the origin's line and its own depth to the
// left of along; face a is the side on the origin's line, to the right of along.
type StudWall struct {
	Origin        domain.Point     `json:"origin" jsonschema_description:"set-out end of the wall: floor level, on the line of face a's studs"`
	Along         domain.Direction `json:"along" jsonschema_description:"direction of the wall on plan; face a lies to the right of it"`
	LengthMm      int              `json:"length_mm" jsonschema:"minimum=200,maximum=60000"`
	HeightMm      int              `json:"height_mm" jsonschema:"minimum=300,maximum=12000" jsonschema_description:"clear height at the set-out end, floor to head; for a half-height wall to the top of its cap"`
	EndHeightMm   int              `json:"end_height_mm,omitempty" jsonschema:"minimum=0,maximum=12000" jsonschema_description:"clear height at the far end; 0 reads as the same"`
	EndFloorMm    int              `json:"end_floor_mm,omitempty" jsonschema:"minimum=-1000,maximum=1000" jsonschema_description:"floor level at the far end, measured from the floor at the set-out end; negative falls"`
	Sole          string           `json:"sole,omitempty" jsonschema:"enum=follows,enum=packed" jsonschema_description:"on a falling floor: the sole plate follows it, or lies level on packers"`
	Section       string           `json:"section,omitempty" jsonschema_description:"timber of plates, studs and noggings; empty reads as c16-cls-38x89"`
	StudCentresMm int              `json:"stud_centres_mm,omitempty" jsonschema:"minimum=0,maximum=1200" jsonschema_description:"0 reads as 600"`
	SetOutMm      int              `json:"set_out_mm,omitempty" jsonschema:"minimum=0,maximum=1200" jsonschema_description:"slides studs and board joints along the wall"`
	FaceA         *WallFace        `json:"face_a,omitempty" jsonschema_description:"lining of face a; left out is unlined"`
	FaceB         *WallFace        `json:"face_b,omitempty" jsonschema_description:"lining of face b; left out is unlined"`
	Foot          Contact          `json:"foot" jsonschema_description:"what the sole plate is fixed to"`
	Head          *Head            `json:"head,omitempty" jsonschema_description:"what the head plate is fixed to; left out of a half-height wall"`
	Start         WallEnd          `json:"start" jsonschema_description:"what the set-out end meets"`
	End           WallEnd          `json:"end" jsonschema_description:"what the far end meets"`
	Openings      []Opening        `json:"openings,omitempty"`
	Junctions     []Junction       `json:"junctions,omitempty" jsonschema_description:"where another wall will meet the bare studs of this one"`
	ExtraStudsMm  []int            `json:"extra_studs_mm,omitempty" jsonschema_description:"centres of further studs, from the set-out end"`
	HalfHeight    bool             `json:"half_height,omitempty"`
	Frames        bool             `json:"frames,omitempty" jsonschema_description:"raised in frames instead of built in place"`
	MaxFrameMm    int              `json:"max_frame_mm,omitempty" jsonschema:"minimum=0,maximum=6000" jsonschema_description:"longest frame; 0 reads as 2400"`
	Insulation    string           `json:"insulation,omitempty" jsonschema_description:"insulation in the bays; empty is none"`
	MidNoggings   bool             `json:"mid_noggings,omitempty" jsonschema_description:"one more row of noggings at half the height"`
	NoggingRowsMm []int            `json:"nogging_rows_mm,omitempty" jsonschema_description:"heights of further rows, to their middle"`
	FixPitchMm    int              `json:"fix_pitch_mm,omitempty" jsonschema:"minimum=0,maximum=1200" jsonschema_description:"pitch of fixings into the landlord's fabric; 0 reads as 600"`
	FixEndMm      int              `json:"fix_end_mm,omitempty" jsonschema:"minimum=0,maximum=600" jsonschema_description:"first fixing from the end of a plate or stud; 0 reads as 150"`
	StudScrew     string           `json:"stud_screw,omitempty" jsonschema_description:"studs to plates; empty reads as wood-screw-5, 80 long, on the skew"`
	NoggingScrew  string           `json:"nogging_screw,omitempty" jsonschema_description:"noggings to studs; empty reads as wood-screw-5, 80 long, on the skew"`
}

// WallFace is the lining of one face of a wall. Boards come in modules: a piece measures its cell less the gap.
type WallFace struct {
	Board         string `json:"board" jsonschema_description:"board from the catalogue, e.g. osb3-11-metric"`
	Lay           string `json:"lay,omitempty" jsonschema:"enum=upright,enum=laid" jsonschema_description:"length of the board up the wall (the default), or along it"`
	GapMm         *int   `json:"gap_mm,omitempty" jsonschema:"minimum=0,maximum=20" jsonschema_description:"between boards; left out reads as 3, for plasterboard 0"`
	FootGapMm     *int   `json:"foot_gap_mm,omitempty" jsonschema:"minimum=0,maximum=100" jsonschema_description:"above the floor; left out reads as 10"`
	HeadGapMm     *int   `json:"head_gap_mm,omitempty" jsonschema:"minimum=0,maximum=100" jsonschema_description:"below the head; left out reads as 10, for a half-height wall 0"`
	EndGapMm      int    `json:"end_gap_mm,omitempty" jsonschema:"minimum=0,maximum=100" jsonschema_description:"at both ends of the wall"`
	StaggerMm     int    `json:"stagger_mm,omitempty" jsonschema:"minimum=0,maximum=2400" jsonschema_description:"slides the joints of this face by whole stud centres"`
	SheetLengthMm int    `json:"sheet_length_mm,omitempty" jsonschema:"minimum=0,maximum=4000" jsonschema_description:"where a longer sheet than the catalogue's is bought; 0 is the catalogue's"`
	ShareCut      bool   `json:"share_cut,omitempty" jsonschema_description:"a strip or row under 100 mm is shared with the board beside or under it"`
	Screw         string `json:"screw,omitempty" jsonschema_description:"empty reads as sheet-screw-4-5x50, for plasterboard drywall-screw-timber-3-5"`
}

// Contact is a plate against one surface of the landlord's.
type Contact struct {
	Host           string `json:"host"`
	Fixing         string `json:"fixing,omitempty" jsonschema_description:"empty reads as the usual demountable one for the surface"`
	FixingLengthMm int    `json:"fixing_length_mm,omitempty" jsonschema:"minimum=0,maximum=1000" jsonschema_description:"length of one; of a wood screw it says how deep its hole is, 0 takes six diameters"`
	EngineerAgreed string `json:"engineer_agreed,omitempty" jsonschema_description:"reference of the landlord's engineer's agreement to holes in steel"`
}

// Head is what the head plate of a full-height wall is fixed to.
type Head struct {
	Host           string     `json:"host,omitempty" jsonschema_description:"one surface all along the plate"`
	Crossings      []Crossing `json:"crossings,omitempty" jsonschema_description:"or purlins and beams that the plate passes under, one fixing at each"`
	Fixing         string     `json:"fixing,omitempty" jsonschema_description:"empty reads as the usual demountable one for the surface: on steel, clamps"`
	FixingLengthMm int        `json:"fixing_length_mm,omitempty" jsonschema:"minimum=0,maximum=1000" jsonschema_description:"length of one; of a wood screw it says how deep its hole is, 0 takes six diameters"`
	EngineerAgreed string     `json:"engineer_agreed,omitempty" jsonschema_description:"reference of the landlord's engineer's agreement to holes in steel"`
	Kind           string     `json:"kind,omitempty" jsonschema:"enum=fixed,enum=deflection" jsonschema_description:"deflection leaves the studs free to slide under a roof that moves"`
	MovementMm     int        `json:"movement_mm,omitempty" jsonschema:"minimum=0,maximum=75" jsonschema_description:"how far a deflection head lets the roof come down; 0 reads as 20"`
}

// Crossing is a purlin or beam that a head plate passes under.
type Crossing struct {
	Host string `json:"host"`
	AtMm int    `json:"at_mm" jsonschema:"minimum=0,maximum=60000"`
}

// WallEnd is what an end of a wall meets. A free end is warned of: it does not stand alone.
type WallEnd struct {
	Meets          string `json:"meets" jsonschema:"enum=host,enum=wall,enum=free"`
	Code           string `json:"code,omitempty" jsonschema_description:"the host surface, or the wall's assembly"`
	Onto           string `json:"onto,omitempty" jsonschema:"enum=studs,enum=lining" jsonschema_description:"of a wall: its bare studs (it needs a junction there), or through its lining"`
	Fixing         string `json:"fixing,omitempty"`
	FixingLengthMm int    `json:"fixing_length_mm,omitempty" jsonschema:"minimum=0,maximum=1000" jsonschema_description:"length of one; of a wood screw it says how deep its hole is, 0 takes six diameters"`
	EngineerAgreed string `json:"engineer_agreed,omitempty"`
}

// Junction keeps a face bare where another wall meets it, with a backing stud each side where the boards stop.
type Junction struct {
	AtMm    int    `json:"at_mm" jsonschema:"minimum=0,maximum=60000" jsonschema_description:"near side of the other wall's frame, from the set-out end"`
	WidthMm int    `json:"width_mm" jsonschema:"minimum=38,maximum=400" jsonschema_description:"depth of the other wall's frame"`
	Face    string `json:"face" jsonschema:"enum=a,enum=b"`
}

// withDefaults fills in what was left out.
func (p StudWall) withDefaults() StudWall {
	p.Section = cmp.Or(p.Section, "c16-cls-38x89")
	p.Sole = cmp.Or(p.Sole, "follows")
	p.StudCentresMm = cmp.Or(p.StudCentresMm, 600)
	p.EndHeightMm = cmp.Or(p.EndHeightMm, p.HeightMm)
	p.FixPitchMm = cmp.Or(p.FixPitchMm, 600)
	p.FixEndMm = cmp.Or(p.FixEndMm, 150)
	p.MaxFrameMm = cmp.Or(p.MaxFrameMm, 2400)
	p.StudScrew = cmp.Or(p.StudScrew, "wood-screw-5")
	p.NoggingScrew = cmp.Or(p.NoggingScrew, "wood-screw-5")
	if p.Head != nil {
		head := *p.Head
		head.Kind = cmp.Or(head.Kind, "fixed")
		if head.Kind == "deflection" {
			head.MovementMm = cmp.Or(head.MovementMm, 20)
		}
		p.Head = &head
	}
	openings := make([]Opening, len(p.Openings))
	for i, o := range p.Openings {
		openings[i] = o.withDefaults()
	}
	p.Openings = openings
	return p
}

// buildStudWall is the recipe: set out first, then build in the order of work. Full height: plates, studs,
// noggings, face a, insulation, face b. In frames: each frame whole, then its fixings.
func buildStudWall(b *builder, p StudWall) error {
	w := planWall(b, p)
	if len(b.faults) > 0 {
		return nil // Expand reports them
	}
	for i := range w.frames {
		w.buildFrame(i)
	}
	w.joinFrames()
	w.meetEnds()
	w.lineFace(0)
	w.insulate(w.p.Insulation)
	w.lineFace(1)
	return nil
}
