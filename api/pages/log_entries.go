package pages

// entries lists every way to log something, in the order in which a fit-out goes up.
func entries() []entry {
	return []entry{
		studWallEntry(), liningEntry(), doorSetEntry(), mezzanineEntry(), ceilingEntry(), trimEntry(), insulationEntry(), sealEntry(), serviceRunEntry(), looseEntry(),
		runEntry(), pieceEntry(), foundEntry(),
	}
}
