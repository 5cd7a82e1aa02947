package domain

import "strconv"

// LicenceItem is one item of the licence to alter: a named work with its limits. A limit of 0, or an empty list, is one
// that the item does not state.
type LicenceItem struct {
	Item          string   `json:"item" jsonschema_description:"as assemblies name it in licensed: licence, item 6"`
	What          string   `json:"what" jsonschema_description:"in the licence's words: one partition on line B"`
	Count         int      `json:"count,omitempty" jsonschema:"minimum=0,maximum=100000" jsonschema_description:"how many assemblies it allows"`
	Recipe        string   `json:"recipe,omitempty" jsonschema_description:"which assemblies count counts: stud-wall; empty counts every one that names the item"`
	Hosts         []string `json:"hosts,omitempty" jsonschema_description:"host surfaces that it may be fixed to"`
	Holes         int      `json:"holes,omitempty" jsonschema:"minimum=0,maximum=1000000" jsonschema_description:"holes that it may make, on all surfaces together"`
	MaxDiameterMm float64  `json:"max_diameter_mm,omitempty" jsonschema:"minimum=0,maximum=1000"`
	MaxDepthMm    int      `json:"max_depth_mm,omitempty" jsonschema:"minimum=0,maximum=10000"`
	Fixings       []string `json:"fixings_allowed,omitempty" jsonschema_description:"families or types of the catalogue"`
	Conditions    string   `json:"conditions,omitempty"`
}

// Allows reports whether a list of families and types lets a type of fixing through; an empty list says nothing.
func Allows(allowed []string, t FixingType) bool {
	if len(allowed) == 0 {
		return true
	}
	for _, a := range allowed {
		if a == t.Family || a == t.Slug {
			return true
		}
	}
	return false
}

// licence holds the licence's items: one name each, surfaces that are there, kinds of fixing that the catalogue has.
func (c *checker) licence(s spot, t Tenancy) {
	seen := map[string]bool{}
	for i, item := range t.Items {
		field := "tenancy/licence_items/" + strconv.Itoa(i)
		c.needText(s, field+"/item", item.Item)
		c.needText(s, field+"/what", item.What)
		if seen[item.Item] {
			c.fault(s, field+"/item", "has two licence items %.60q: name each once", item.Item)
		}
		seen[item.Item] = true
		c.whole(s, field+"/count", item.Count, 0, 100_000)
		c.whole(s, field+"/holes", item.Holes, 0, 1_000_000)
		c.real(s, field+"/max_diameter_mm", item.MaxDiameterMm, 0, 1000)
		c.whole(s, field+"/max_depth_mm", item.MaxDepthMm, 0, 10_000)
		c.text(s, field+"/conditions", item.Conditions)
		c.text(s, field+"/recipe", item.Recipe)
		for k, code := range item.Hosts {
			if c.named[code].noun != hostNoun {
				c.fault(s, field+"/hosts/"+strconv.Itoa(k), "has an item for the surface %.60q, and there is no host surface of that code", code)
			}
		}
		c.fixingKinds(s, field+"/fixings_allowed", item.Fixings)
	}
	for i, words := range t.Conditions {
		c.needText(s, "tenancy/licence_conditions/"+strconv.Itoa(i), words)
	}
}

// fixingKinds holds kinds of fixing to the catalogue's types and families.
func (c *checker) fixingKinds(s spot, field string, kinds []string) {
	if len(kinds) == 0 {
		return
	}
	known := map[string]bool{}
	for slug, t := range c.r.Catalogue.FixingTypes {
		known[slug], known[t.Family] = true, true
	}
	for i, kind := range kinds {
		if !known[kind] {
			c.fault(s, field+"/"+strconv.Itoa(i), "allows fixings %.60q, which is no family or type of the catalogue: %s", kind, guess(c, kind, known))
		}
	}
}
