package settingout

import (
	"cmp"
	"slices"

	"unpick/domain"
)

// Joint is an upright edge of the boards of one face: between two boards, the middle of the gap, with the edges beside
// it; at an end of the lining or beside a doorway, the edge itself and no gap.
type Joint struct {
	Face   string `json:"face"`
	AtMm   int    `json:"at_mm" jsonschema_description:"middle of the gap; a half counts up"`
	NearMm int    `json:"near_mm" jsonschema_description:"far edge of the board before it"`
	FarMm  int    `json:"far_mm" jsonschema_description:"near edge of the board behind it"`
	Edge   bool   `json:"edge,omitempty" jsonschema_description:"the lining begins or ends here"`
}

// widestGapMm is the widest gap that still counts as a joint between two boards: the widest that a recipe takes.
const widestGapMm = 20

type boardExtent struct {
	face string
	extent
}

// takeJoints finds the joints of each face: edges of boards that face each other across a gap.
func (s *Sheet) takeJoints(w wall, pieces []*domain.Element) {
	var boards []boardExtent
	for _, e := range pieces {
		if e.Kind == domain.Board && e.Face != "" {
			boards = append(boards, boardExtent{e.Face, w.extent(e)})
		}
	}
	for i := range boards {
		s.uprightJoints(boards, i)
		a := boards[i]
		for _, b := range boards {
			if gap := b.z0 - a.z1; b.face == a.face && gap >= 0 && gap <= widestGapMm && min(a.x1, b.x1) > max(a.x0, b.x0) {
				s.addLevel(Level{What: "joint", Face: a.face, AtMm: a.z1 + (gap+1)/2, Count: 1})
			}
		}
	}
	slices.SortStableFunc(s.Joints, func(a, b Joint) int {
		return cmp.Or(cmp.Compare(a.Face, b.Face), cmp.Compare(a.AtMm, b.AtMm), cmp.Compare(a.NearMm, b.NearMm), cmp.Compare(a.FarMm, b.FarMm))
	})
	s.Joints = slices.Compact(s.Joints)
}

// uprightJoints adds the joint at the far edge of a board, and its edges that face no other board.
func (s *Sheet) uprightJoints(boards []boardExtent, i int) {
	a := boards[i]
	before, behind := false, false
	for _, b := range boards {
		if b.face != a.face || min(a.z1, b.z1) <= max(a.z0, b.z0) {
			continue
		}
		if gap := b.x0 - a.x1; gap >= 0 && gap <= widestGapMm {
			s.Joints = append(s.Joints, Joint{a.face, a.x1 + (gap+1)/2, a.x1, b.x0, false})
			behind = true
		}
		if gap := a.x0 - b.x1; gap >= 0 && gap <= widestGapMm {
			before = true
		}
	}
	if !before {
		s.Joints = append(s.Joints, Joint{a.face, a.x0, a.x0, a.x0, true})
	}
	if !behind {
		s.Joints = append(s.Joints, Joint{a.face, a.x1, a.x1, a.x1, true})
	}
}
