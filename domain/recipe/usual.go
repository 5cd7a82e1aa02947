package recipe

// UsualFixing is the demountable fixing that goes into a kind of host where nobody says otherwise; "" where there is
// none, because the surface must not be drilled without somebody deciding how.
func UsualFixing(hostKind string) string { return usualFixing(hostKind) }
