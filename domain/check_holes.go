package domain

// holeSum is what the hole sets that name one fixing add up to, on the host surface that it goes into.
type holeSum struct {
	front, back int // sets in being or once in being, abandoned ones apart
	through     int // of the front ones, those right through
	left        int // in either face, abandoned ones as well, not struck
}

func (c *checker) holes() {
	c.toFixing = make([]holeSum, len(c.r.Fixings))
	drilled := make(map[drilledAt]int, len(c.r.Holes))
	for i := range c.r.Holes {
		h := &c.r.Holes[i]
		s := spot{holeNoun, i, h.Code}
		host, hasHost := c.onHost(s, "host", h.Host, h.State == HoleStruck)
		c.holeValues(s, h)
		c.run(s, h.Run, h.Count)
		c.holeFixing(s, h)
		if hasHost && h.State != HoleStruck {
			c.onSurface(s, h, &c.r.Hosts[host])
			c.onceOnly(s, h, host, drilled)
		}
	}
	for i := range c.r.Fixings {
		c.balance(i)
	}
}

func (c *checker) holeValues(s spot, h *Hole) {
	oneOf(c, s, "face", h.Face, FrontFace, BackFace)
	oneOf(c, s, "state", h.State, HoleInUse, HoleEmpty, HoleAbandoned, HoleInherited, HoleMadeGood, HoleStruck)
	c.whole(s, "count", h.Count, 1, 100_000)
	if !(h.DiameterMm > 0 && h.DiameterMm <= 1000) { // refuses NaN too
		c.fault(s, "diameter_mm", "has diameter %g mm: give more than 0 and 1000 at most", h.DiameterMm)
	}
	if h.DepthMm == 0 && !h.Through {
		c.fault(s, "depth_mm", "has no depth and does not go right through: give its depth, or say that it goes through")
	}
	c.whole(s, "depth_mm", h.DepthMm, 0, 10_000)
	c.findOptional(s, "assembly", h.Assembly, assemblyNoun)
	c.known(s, h.Known)
	if h.State == HoleStruck {
		c.reason(s, h.Reason)
	}
	c.whole(s, "built_order", h.BuiltOrder, 0, 1<<31-1)
	c.whole(s, "version", h.Version, 0, 1<<31-1)
	c.text(s, "residue", h.Residue)
	c.text(s, "reason", h.Reason)
	c.text(s, "note", h.Note)
}

// holeFixing ties a hole set to its fixing and adds it up there.
func (c *checker) holeFixing(s spot, h *Hole) {
	if h.Fixing == "" {
		if h.State == HoleInUse {
			c.fault(s, "fixing", "is in use and names no fixing: name it, or call the hole empty")
		}
		return
	}
	at, ok := c.find(s, "fixing", h.Fixing, fixingNoun)
	if !ok || h.State == HoleStruck {
		return
	}
	f, sum := &c.r.Fixings[at], &c.toFixing[at]
	if f.IntoHost != h.Host {
		// A bolt may pass through one of the landlord's surfaces on its way into something else.
		return
	}
	sum.left += h.Count
	switch {
	case h.State == HoleAbandoned:
	case h.Face == BackFace:
		sum.back += h.Count
	default:
		sum.front += h.Count
		if h.Through {
			sum.through += h.Count
		}
	}
}

// balance holds a fixing to its holes: as many in the front face as there are fixings, and in the back face
// where a bolt goes right through masonry. One too many is charged twice, one too few is not made good.
func (c *checker) balance(at int) {
	f, sum := &c.r.Fixings[at], c.toFixing[at]
	s := spot{fixingNoun, at, f.Code}
	if f.State == FixingStruck {
		c.struckHoles(s, f, sum)
		return
	}
	t, listed := c.r.Catalogue.FixingTypes[f.Type]
	if !listed || f.IntoHost == "" || f.IntoElement != "" { // into both is told already
		return
	}
	if t.MakesHole() && sum.front != f.Count {
		c.fault(s, "count", "makes %d holes in the front of %s and its hole sets there add up to %d: log as many as were drilled, each once", f.Count, f.IntoHost, sum.front)
		return
	}
	far := 0
	if sum.back > 0 {
		far = sum.through
	}
	if t.ThroughHost && t.Family == "masonry" {
		far = f.Count
	}
	if sum.back != far {
		c.fault(s, "count", "makes %d holes right through to the back of %s and its hole sets there add up to %d: log the far face too, once", far, f.IntoHost, sum.back)
	}
}

// struckHoles holds a struck fixing to its answer: what was drilled stays a hole, what was not leaves none.
func (c *checker) struckHoles(s spot, f *Fixing, sum holeSum) {
	switch {
	case f.Drilled && sum.left == 0:
		c.fault(s, "drilled", "is struck out as drilled and leaves no hole in being: log the hole that is there, or say that it was not drilled")
	case !f.Drilled && sum.left > 0:
		c.fault(s, "drilled", "is struck out as not drilled and %d of its holes are still in being: strike them too, or say that it was drilled", sum.left)
	}
}

// offSurfaceMm is how far a hole may lie off its surface: a tape is read to a few millimetres.
const offSurfaceMm = 5

// onSurface holds known positions to the surface that they are said to be in.
func (c *checker) onSurface(s spot, h *Hole, host *HostSurface) {
	if host.U.IsZero() || host.V.IsZero() {
		return // said already
	}
	deepest := -float64(offSurfaceMm)
	if h.Face == BackFace {
		deepest -= 10_000 // where nobody knows how thick it is
		if host.ThicknessMm > 0 {
			deepest = -float64(host.ThicknessMm + offSurfaceMm)
		}
	}
	for i, p := range h.Run.Points() {
		u, v, out := host.Local(p)
		switch {
		case u < -offSurfaceMm || u > float64(host.UMm+offSurfaceMm) || v < -offSurfaceMm || v > float64(host.VMm+offSurfaceMm):
			c.fault(s, "run", "lies beside host surface %s: number %d is at %.0f, %.0f mm on a surface of %d x %d: mend the run, or name another surface",
				h.Host, i+1, u, v, host.UMm, host.VMm)
			return
		case out > offSurfaceMm || out < deepest:
			c.fault(s, "run", "lies off host surface %s: number %d is %.0f mm out from its %s face: mend the run, or name another surface",
				h.Host, i+1, out, h.Face)
			return
		}
	}
}

// drilledAt is one hole in one face, to the millimetre.
type drilledAt struct {
	host int
	face HoleFace
	at   Point
}

// onceOnly refuses a second hole set over the first: a hole face is counted once. A hole that was made good may
// be drilled again.
func (c *checker) onceOnly(s spot, h *Hole, host int, drilled map[drilledAt]int) {
	if h.State == HoleMadeGood {
		return
	}
	for _, p := range h.Run.Points() {
		key := drilledAt{host, h.Face, Point{}.Moved(p)}
		if first, taken := drilled[key]; taken {
			other := "another of the same set"
			if first != s.at {
				other = "hole " + c.r.Holes[first].Code
			}
			c.fault(s, "run", "has a hole at %d, %d, %d mm, where %s is already: a hole is counted once in a face", key.at.X, key.at.Y, key.at.Z, other)
			return
		}
		drilled[key] = s.at
	}
}
