// Package resize says which sizes of a layout could be others, and what the layout would be then: a wall longer or shorter
// at an end that is not the building's, a low wall lower, a floor or ceiling smaller.
//
// The idea: a recipe can be asked again. An assembly is described with the other size and expanded anew, with what stands
// on it; a wall that meets the end that moves slides with it. What cannot be carried through honestly is not a size at all,
// and the reason is said: an end on the landlord's fabric, a floor that stands on the wall, pieces amended by hand.
// Doorways keep their place. Nothing here is stored, and nothing is chosen: what a size is worth is the caller's to ask.
//
// Looking for
//
//   - the sizes of a register, and why others are fixed: resize.go; the register at another size: at.go
//   - what hangs together: ties.go; walls: walls.go, slide.go; floors and ceilings: floors.go
//   - whether it would run into something: clash.go
package resize
