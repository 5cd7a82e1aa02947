package domain

import "strconv"

func (c *checker) hosts() {
	for i := range c.r.Hosts {
		h := &c.r.Hosts[i]
		s := spot{hostNoun, i, h.Code}
		c.host(s, h)
		if h.Struck {
			c.fault(s, "struck", "is struck out: it belongs under struck_host_surfaces")
		}
	}
	for i := range c.r.StruckHosts {
		h := &c.r.StruckHosts[i]
		s := spot{struckHostNoun, i, h.Code}
		c.host(s, h)
		c.reason(s, h.Reason)
		if !h.Struck {
			c.fault(s, "struck", "is among the struck host surfaces and is not struck out: it belongs under host_surfaces")
		}
	}
}

// onHost is the host surface that a record names: one in force, or a struck one where the record is struck out itself.
func (c *checker) onHost(s spot, field, code string, struck bool) (int, bool) {
	if c.named[code].noun != struckHostNoun {
		return c.find(s, field, code, hostNoun)
	}
	if !struck {
		c.fault(s, field, "names host surface %s, which is struck out: name one that is there", code)
	}
	return 0, false
}

// host holds one host surface to what may be said of it.
func (c *checker) host(s spot, h *HostSurface) {
	c.needText(s, "name", h.Name)
	listed(c, s, "kind", "kind", h.Kind, c.r.Catalogue.HostKinds)
	c.findOptional(s, "zone", h.Zone, zoneNoun)
	c.point(s, "origin", h.Origin)
	c.axes(s, "u", "v", h.U, h.V)
	c.whole(s, "u_mm", h.UMm, 1, farthestMm)
	c.whole(s, "v_mm", h.VMm, 1, farthestMm)
	c.whole(s, "thickness_mm", h.ThicknessMm, 0, 10_000)
	oneOf(c, s, "rule", h.Rule, Allowed, Ask, Never)
	c.whole(s, "agreed_holes", h.AgreedHoles, 0, 1_000_000)
	c.real(s, "max_diameter_mm", h.MaxDiameterMm, 0, 1000)
	c.whole(s, "max_depth_mm", h.MaxDepthMm, 0, 10_000)
	c.known(s, h.Known)
	c.text(s, "finish", h.Finish)
	c.real(s, "finish_m2", h.FinishM2, 0, 1_000_000)
	if whole := float64(h.UMm) * float64(h.VMm) / 1e6; h.FinishM2 > whole {
		c.fault(s, "finish_m2", "has a finish of %g m2 and is %.2f m2 in all: give at most that, or mend the surface", h.FinishM2, whole)
	}
	c.text(s, "clause", h.Clause)
	c.text(s, "note", h.Note)
	c.text(s, "reason", h.Reason)
	c.whole(s, "version", h.Version, 0, 1<<31-1)
	c.gridLines(s, h)
	c.fixingKinds(s, "fixings_allowed", h.Fixings)
	c.conditions(s, h)
}

// gridLines holds a surface's lines to one name each on an axis: a place "on B" has to be one place.
func (c *checker) gridLines(s spot, h *HostSurface) {
	seen := make(map[GridLine]bool, len(h.GridLines))
	for i, line := range h.GridLines {
		field := "grid_lines/" + strconv.Itoa(i)
		c.needText(s, field+"/name", line.Name)
		oneOf(c, s, field+"/axis", line.Axis, "u", "v")
		c.whole(s, field+"/at_mm", line.AtMm, -farthestMm, farthestMm)
		key := GridLine{Name: line.Name, Axis: line.Axis}
		if seen[key] {
			c.fault(s, field+"/name", "has two grid lines %.60q across %s: name one of them otherwise", line.Name, line.Axis)
		}
		seen[key] = true
	}
}
