package move

import (
	"unpick/domain"
	"unpick/domain/advice"
)

// misfits is where a layout does not fit, as the advice at logging says it: two pieces in one place, a piece in the
// landlord's fabric, out of the unit, above or below it. Nothing of that can be put up as it is described.
func misfits(to *domain.Register) []domain.Advice { return advice.Misplaced(to) }
