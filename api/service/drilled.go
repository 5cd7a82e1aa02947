package service

import (
	"fmt"
	"slices"

	"unpick/domain"
)

// withHoles adds the hole sets of fixings into the landlord's fabric that were sent without any: as many as there are
// fixings, of the size that the catalogue gives the type, in both faces where it goes right through masonry. Fixings
// with a hole set of their own, as many as it may hold, are left as they were sent.
func withHoles(r *domain.Register, add domain.Records) domain.Records {
	sent := map[string]bool{}
	for i := range add.Holes {
		sent[add.Holes[i].Fixing] = true
	}
	hosts := map[string]domain.HostSurface{}
	for _, h := range slices.Concat(r.Hosts, add.Hosts) {
		hosts[h.Code] = h
	}
	taken := codesOf(r, add)
	holes := slices.Clone(add.Holes)
	for i := range add.Fixings {
		f := &add.Fixings[i]
		t, listed := r.Catalogue.FixingTypes[f.Type]
		host, known := hosts[f.IntoHost]
		if !listed || !known || !t.MakesHole() || sent[f.Code] || f.Code == "" || f.State == domain.FixingStruck {
			continue
		}
		holes = append(holes, drilledFor(f, t, host, taken)...)
	}
	add.Holes = holes
	return add
}

// drilledFor is the hole set of one set of fixings, and that of the far face where there is one.
func drilledFor(f *domain.Fixing, t domain.FixingType, host domain.HostSurface, taken map[string]bool) []domain.Hole {
	h := domain.Hole{Code: freeCode(f.Code+"-H", taken), Host: host.Code, Face: domain.FrontFace, DiameterMm: t.HoleInHostMm, DepthMm: drilledDepth(t, f),
		Through: t.ThroughHost, Count: f.Count, Run: f.Run, State: domain.HoleInUse, Fixing: f.Code, Assembly: f.Assembly, Known: f.Known, BuiltOrder: f.BuiltOrder,
		Note: "size and depth as the catalogue gives them for the fixing"}
	h.Run.PositionsMm = slices.Clone(f.Run.PositionsMm)
	if h.Through {
		h.DepthMm = host.ThicknessMm
	}
	onto(&h, host, 0)
	if !h.Through || t.Family != "masonry" {
		return []domain.Hole{h}
	}
	back := h
	back.Code, back.Face = freeCode(f.Code+"-HB", taken), domain.BackFace
	back.Run.PositionsMm = slices.Clone(f.Run.PositionsMm)
	onto(&back, host, float64(host.ThicknessMm))
	return []domain.Hole{h, back}
}

// drilledDepth is how deep the holes of a set of fixings are taken to be: as the type's usually go. A wood screw goes no deeper
// than it is long.
func drilledDepth(t domain.FixingType, f *domain.Fixing) int {
	if t.HoleDepthMm == 0 && f.LengthMm > 0 {
		return min(t.DepthMm(), f.LengthMm)
	}
	return t.DepthMm()
}

// onto moves a run of fixings, which starts at their heads, to a face so deep under the surface.
func onto(h *domain.Hole, host domain.HostSurface, deepMm float64) {
	if len(h.Run.PositionsMm) == 0 || host.U.IsZero() || host.V.IsZero() {
		return
	}
	_, _, out := host.Local(h.Run.Start.Vector())
	h.Run.Start = h.Run.Start.Moved(host.Normal().Scale(-out - deepMm))
}

func codesOf(r *domain.Register, add domain.Records) map[string]bool {
	taken := map[string]bool{}
	for _, holes := range [][]domain.Hole{r.Holes, add.Holes} {
		for i := range holes {
			taken[holes[i].Code] = true
		}
	}
	return taken
}

// freeCode is the code itself, or with the first number behind it that no hole has.
func freeCode(code string, taken map[string]bool) string {
	free := code
	for n := 2; taken[free]; n++ {
		free = fmt.Sprint(code, n)
	}
	taken[free] = true
	return free
}
