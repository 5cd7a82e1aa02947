package domain

type relationKey struct {
	kind     RelationKind
	from, to string
}

func (c *checker) relations() {
	kinds := RelationKinds()
	seen := make(map[relationKey]int, len(c.r.Relations))
	for i := range c.r.Relations {
		rel := &c.r.Relations[i]
		s := spot{relationNoun, i, rel.Code}
		oneOf(c, s, "kind", rel.Kind, kinds...)
		oneOf(c, s, "origin", rel.Origin, "", FromRecipe, FromLog, FromGeometry)
		c.findOptional(s, "assembly", rel.Assembly, assemblyNoun)
		c.ends(s, rel)
		if rel.Struck {
			c.reason(s, rel.Reason)
		} else {
			c.statedOnce(s, rel, seen)
		}
		c.whole(s, "version", rel.Version, 0, 1<<31-1)
		c.text(s, "how", rel.How)
		c.text(s, "reason", rel.Reason)
		c.text(s, "note", rel.Note)
	}
}

// ends holds a relation to ends that its kind can be said of.
func (c *checker) ends(s spot, rel *Relation) {
	if rel.From == rel.To && rel.From != "" {
		c.fault(s, "to", "says that %.60s %s itself: name two things", rel.From, rel.Kind)
		return
	}
	if from, ok := c.find(s, "from", rel.From, elementNoun); ok {
		kind := c.r.Elements[from].Kind
		switch {
		case rel.Kind == RunsThrough && !kind.IsService():
			c.fault(s, "from", "says that %s runs through %.60s, and it is a %s: only a cable or a pipe runs through", rel.From, rel.To, kind)
		case rel.Kind == Seals && kind != Seal:
			c.fault(s, "from", "says that %s seals %.60s, and it is a %s: only a seal seals", rel.From, rel.To, kind)
		}
	}
	to := c.named[rel.To].noun
	if rel.Kind == BearsOn && to == struckHostNoun {
		c.onHost(s, "to", rel.To, rel.Struck)
		return
	}
	if rel.Kind == BearsOn && to == hostNoun || rel.Kind == Hides && to == fixingNoun {
		return
	}
	c.find(s, "to", rel.To, elementNoun)
}

func (c *checker) statedOnce(s spot, rel *Relation, seen map[relationKey]int) {
	key := relationKey{rel.Kind, rel.From, rel.To}
	if first, stated := seen[key]; stated {
		c.faultAs(Exists, s, "", "says again what relation %s says: strike one of them", c.r.Relations[first].Code)
		return
	}
	seen[key] = s.at
}
