package domain

import "strings"

// Expands reports whether a fixing type holds by pressing outwards against its hole: sleeve, wedge and drop-in
// anchors do.
func (t FixingType) Expands() bool {
	return strings.HasPrefix(t.Slug, "sleeve-anchor") || strings.HasPrefix(t.Slug, "wedge-anchor") || strings.HasPrefix(t.Slug, "drop-in")
}

// TakesExpansion reports whether a kind of host stands the pressure of an expansion anchor: aircrete is crushed
// by it and hollow block spins or breaks (the cautions of those host kinds).
func (k HostKind) TakesExpansion() bool {
	return k.Slug != "aircrete-block" && k.Slug != "hollow-block"
}
