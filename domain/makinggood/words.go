package makinggood

import (
	"fmt"
	"strconv"

	"unpick/domain"
)

func plural(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}

func trimNumber(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

func depth(h *domain.Hole) string {
	if h.Through {
		return "right through"
	}
	return fmt.Sprintf("%d deep", h.DepthMm)
}

// depthOf is the depth to fill: of a hole right through, half the wall from each face.
func depthOf(h *domain.Hole, host domain.HostSurface) int {
	if h.Through && h.DepthMm == 0 {
		return host.ThicknessMm / 2
	}
	return h.DepthMm
}

// where says where a run lies on its surface, so that it can be found again.
func where(host domain.HostSurface, run domain.Run) string {
	points := run.Points()
	if len(points) == 0 {
		return "place not logged"
	}
	u0, v0, _ := host.Local(points[0])
	if len(points) == 1 {
		return fmt.Sprintf("%.0f along, %.0f across%s", u0, v0, grid(host, u0, v0))
	}
	u1, v1, _ := host.Local(points[len(points)-1])
	return fmt.Sprintf("from %.0f along, %.0f across to %.0f, %.0f%s", u0, v0, u1, v1, grid(host, u0, v0))
}

// grid names the nearest grid line on each axis, where the surface has any.
func grid(host domain.HostSurface, u, v float64) string {
	out := ""
	for _, axis := range []string{"u", "v"} {
		at := u
		if axis == "v" {
			at = v
		}
		best, name := 0.0, ""
		for _, l := range host.GridLines {
			if off := at - float64(l.AtMm); l.Axis == axis && (name == "" || abs(off) < abs(best)) {
				best, name = off, l.Name
			}
		}
		if name != "" {
			out += fmt.Sprintf("; %+.0f from line %s", best, name)
		}
	}
	return out
}

func abs(x float64) float64 {
	if x < 0 {
		return -x
	}
	return x
}

// Why a row is shown and not charged.
const (
	ThereBefore = "there before"
	Kept        = "kept"
	MadeGood    = "made good"
	AtDefect    = "in a defect of the start"
)

// Says is what a row is for, with a word where it rests on what nobody has seen.
func (row Row) Says() string {
	if row.Provisional {
		return row.What + "; provisional: nobody has seen it"
	}
	return row.What
}

// notOwedWords say why a row is not charged, and what the landlord may still want.
func (row *Row) notOwedWords() string {
	switch row.NotOwed {
	case MadeGood:
		return "done: " + row.Steps
	case NotInPart:
		return "not in this part: " + row.Steps
	case Kept:
		return "not owed: it holds what stays. Where the landlord wants it: " + row.Steps
	}
	if row.NotOwed == AtDefect {
		late := ""
		if row.Entered != "" {
			late = "; " + row.Entered
		}
		return "not owed: the surface owed this repair at the start (" + row.Defects + late + "). Where the landlord wants it: " + row.Steps
	}
	return "not owed: there before the tenant. Where the landlord wants it: " + row.Steps
}

// signatures are the repairs that are signed for, by hole set or fixing.
func signatures(r *domain.Register) map[string]domain.SignOff {
	out := map[string]domain.SignOff{}
	for _, s := range r.Signed(domain.MadeGood) {
		for _, code := range s.About {
			out[code] = s
		}
	}
	return out
}

// doneBy names who signed for a repair, or says that nobody did.
func (m *maker) doneBy(code string) string {
	s, ok := m.signed[code]
	if !ok {
		return "logged as made good, signed by nobody"
	}
	return s.Evidenced()
}
