package domain

import "math"

func (c *checker) assemblies() {
	for i := range c.r.Assemblies {
		a := &c.r.Assemblies[i]
		s := spot{assemblyNoun, i, a.Code}
		c.needText(s, "name", a.Name)
		c.findOptional(s, "zone", a.Zone, zoneNoun)
		if a.Recipe == "" && len(a.Params) > 0 {
			c.fault(s, "recipe", "has parameters and no recipe that they are for: name the recipe, or take them out")
		}
		oneOf(c, s, "owner", a.Owner, "", TenantOwns, LandlordOwns, HiredIn)
		c.whole(s, "built_order", a.BuiltOrder, 0, 1<<31-1)
		c.whole(s, "version", a.Version, 0, 1<<31-1)
		if a.Struck {
			c.reason(s, a.Reason)
		}
		c.text(s, "reason", a.Reason)
		c.text(s, "recipe", a.Recipe)
		c.text(s, "builder", a.Builder)
		c.text(s, "licensed", a.Licensed)
		c.text(s, "left_by_consent", a.LeftBy)
		c.known(s, a.Known)
		c.text(s, "note", a.Note)
	}
}

// belongs holds a record to an assembly that is not struck out, unless the record is struck itself.
func (c *checker) belongs(s spot, assembly string, struck bool) {
	if assembly == "" {
		return
	}
	if at, ok := c.find(s, "assembly", assembly, assemblyNoun); ok && c.r.Assemblies[at].Struck && !struck {
		c.fault(s, "assembly", "belongs to assembly %s, which is struck out: strike this too, or name another", assembly)
	}
}

func (c *checker) elements() {
	kinds := ElementKinds()
	for i := range c.r.Elements {
		e := &c.r.Elements[i]
		s := spot{elementNoun, i, e.Code}
		oneOf(c, s, "kind", e.Kind, kinds...)
		listed(c, s, "material", "material", e.Material, c.r.Catalogue.Materials)
		c.belongs(s, e.Assembly, e.State == Struck)
		c.findOptional(s, "zone", e.Zone, zoneNoun)
		c.sizes(s, e)
		c.point(s, "placement/origin", e.Placement.Origin)
		c.axes(s, "placement/along", "placement/across", e.Placement.Along, e.Placement.Across)
		c.outline(s, e)
		oneOf(c, s, "owner", e.Owner, "", TenantOwns, LandlordOwns, HiredIn)
		oneOf(c, s, "state", e.State, "", InPlace, TakenDown, Stored, Reused, Disposed, Struck)
		if e.State == Struck {
			c.reason(s, e.Reason)
		}
		c.known(s, e.Known)
		c.elementTexts(s, e)
	}
}

// sizes refuses absurd sizes: a piece of a hundred metres is one given in the wrong unit.
func (c *checker) sizes(s spot, e *Element) {
	const longestMm, heaviestKg = 100_000, 100_000
	c.whole(s, "length_mm", e.LengthMm, 1, longestMm)
	c.whole(s, "width_mm", e.WidthMm, 1, longestMm)
	c.whole(s, "thickness_mm", e.ThicknessMm, 1, longestMm)
	c.real(s, "mass_kg", e.MassKg, 0, heaviestKg)
	c.real(s, "start_cut_deg", e.StartCutDeg, -89, 89)
	c.real(s, "end_cut_deg", e.EndCutDeg, -89, 89)
	c.whole(s, "built_order", e.BuiltOrder, 0, 1<<31-1)
	c.whole(s, "version", e.Version, 0, 1<<31-1)
}

func (c *checker) elementTexts(s spot, e *Element) {
	if e.Subassembly != "" {
		c.codeForm(s, "subassembly", e.Subassembly)
	}
	c.text(s, "name", e.Name)
	c.text(s, "face", e.Face)
	c.text(s, "builder", e.Builder)
	c.text(s, "finish", e.Finish)
	c.text(s, "reason", e.Reason)
	c.text(s, "note", e.Note)
}

// outline holds the corners of a cut piece to the rectangle that it was cut from.
func (c *checker) outline(s spot, e *Element) {
	if len(e.Outline) == 0 {
		return
	}
	if len(e.Outline) < 3 {
		c.fault(s, "outline", "has an outline of %d corners: give three at least, or none for a plain rectangle", len(e.Outline))
		return
	}
	for _, p := range e.Outline {
		if p.AlongMm < 0 || p.AlongMm > e.LengthMm || p.AcrossMm < 0 || p.AcrossMm > e.WidthMm {
			c.fault(s, "outline", "has a corner at %d along, %d across, off its own face of %d x %d mm: move the corner, or give the size before cutting",
				p.AlongMm, p.AcrossMm, e.LengthMm, e.WidthMm)
			return
		}
	}
	if area := e.FaceAreaM2(); area == 0 || math.IsNaN(area) {
		c.fault(s, "outline", "has an outline that encloses nothing: give the corners in order round the piece")
	}
}

// reason asks why something was struck out: what was logged is never deleted without a word.
func (c *checker) reason(s spot, reason string) {
	if reason == "" {
		c.fault(s, "reason", "is struck out without a reason: say why")
	}
}
