package domain

import "slices"

// signOffs holds what was signed to what is there. Their codes are numbers in the day book, apart from the codes of things.
func (c *checker) signOffs() {
	given := make(map[string]int, len(c.r.SignOffs))
	for i := range c.r.SignOffs {
		o := &c.r.SignOffs[i]
		s := spot{signOffNoun, i, o.Code}
		if c.codeForm(s, "code", o.Code) {
			if first, twice := given[o.Code]; twice {
				c.faultAs(Exists, s, "code", "has the code of sign-off %d as well: give it the next free one", first+1)
			}
		}
		oneOf(c, s, "kind", o.Kind, SignOffKinds()...)
		c.needText(s, "what", o.What)
		c.needText(s, "by", o.By)
		if o.On == "" {
			c.fault(s, "on", "has no date: say on which day it was signed")
		}
		c.date(s, "on", o.On)
		for _, code := range o.About {
			if n := c.named[code].noun; n != elementNoun && n != fixingNoun && n != holeNoun && n != assemblyNoun && n != hostNoun && n != struckHostNoun {
				c.fault(s, "about", "is about %.60s, and there is no piece, fixing, hole, assembly or host surface of that code", code)
			}
		}
		if _, earlier := given[o.Withdraws]; o.Withdraws != "" && !earlier {
			c.fault(s, "withdraws", "withdraws %.60s, and no sign-off before it has that code", o.Withdraws)
		}
		given[o.Code] = i
		c.walked(s, o)
		c.whole(s, "minutes", o.Minutes, 0, 100_000)
		c.whole(s, "people", o.People, 0, 1000)
		c.whole(s, "planned_minutes", o.PlannedMinutes, 0, 100_000)
		c.text(s, "hold", o.Hold)
		c.text(s, "role", o.Role)
		c.text(s, "note", o.Note)
		c.text(s, "no_photo", o.NoPhoto)
		if o.NoPhoto != "" && (o.Kind != MadeGood || len(o.Photos) > 0) {
			c.fault(s, "no_photo", "says why there is no photo, and is no repair or has one: leave it out")
		}
		c.graded(s, o)
		c.noticed(s, o)
	}
}

// graded holds what a sign-off says of pieces to its kind: a condition where pieces were found, a code where waste was
// assessed, and neither anywhere else.
func (c *checker) graded(s spot, o *SignOff) {
	found, assessed := o.Kind == PieceFound && o.Withdraws == "", o.Kind == WasteAssessed && o.Withdraws == ""
	switch {
	case found:
		oneOf(c, s, "found", o.Found, PieceConditions()...)
	case o.Found != "" || o.UsableMm != 0:
		c.fault(s, "found", "says what pieces are fit for, and its kind is %.60s: use the kind %s", o.Kind, PieceFound)
	}
	c.whole(s, "usable_mm", o.UsableMm, 0, 100_000)
	if _, listed := c.r.Catalogue.WasteCodes[o.WasteCode]; assessed && !listed {
		c.fault(s, "waste_code", "has %.60q, which is no entry of the List of Waste in the catalogue", o.WasteCode)
	} else if !assessed && o.WasteCode != "" {
		c.fault(s, "waste_code", "has a waste code, and its kind is %.60s: use the kind %s", o.Kind, WasteAssessed)
	}
	if !found && !assessed {
		return
	}
	if len(o.About) == 0 {
		c.fault(s, "about", "names no piece")
	}
	for _, code := range o.About {
		if named, ok := c.named[code]; ok && named.noun != elementNoun {
			c.fault(s, "about", "is about %.60s, and only pieces are found or assessed", code)
		}
	}
}

// noticed holds a notice that was given to all that is known of one, and anything else to none of it.
func (c *checker) noticed(s spot, o *SignOff) {
	if o.Kind != NoticeGiven || o.Withdraws != "" {
		if o.Notice != "" || o.Ends != "" || o.How != "" {
			c.fault(s, "notice", "says which notice was given, how or for when, and is none: use the kind %s", NoticeGiven)
		}
		return
	}
	oneOf(c, s, "notice", o.Notice, NoticeKinds()...)
	c.needText(s, "how", o.How)
	if o.Ends == "" {
		c.fault(s, "ends", "has no date: say on which day the tenancy ends by it")
	}
	c.date(s, "ends", o.Ends)
	if len(o.About) > 0 {
		c.fault(s, "about", "is a notice of the tenancy, and about no piece or hole: leave it out")
	}
}

// walked holds an answer on a walk-round to one hole by its number, and to one of the two parties.
func (c *checker) walked(s spot, o *SignOff) {
	if o.Kind != HoleAgreed && o.Kind != HoleDisputed {
		if o.Number != 0 {
			c.fault(s, "number", "has a hole's number and is no answer on a walk-round: leave the number out")
		}
		return
	}
	oneOf(c, s, "role", Party(o.Role), Parties()...)
	if len(o.About) != 1 || c.named[o.About[0]].noun != holeNoun {
		c.fault(s, "about", "is an answer on a walk-round: give the code of the one set of holes that it is about")
		return
	}
	if h := c.r.Holes[c.named[o.About[0]].at]; !slices.Contains(h.Numbers, o.Number) {
		c.fault(s, "number", "is about hole %d of %s, which has no hole of that number", o.Number, h.Code)
	}
	if o.Kind == HoleDisputed && o.Withdraws == "" {
		c.needText(s, "note", o.Note)
	}
}
