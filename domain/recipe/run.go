package recipe

import "slices"

// Positions are the places of a run of fixings along a piece lengthMm long: at endMm, endMm + pitchMm, ... and
// the last at lengthMm - endMm; that is ceil((l - 2e)/p) + 1 of them, and at least two. Where the two ends meet
// or cross (l <= 2e), e becomes l/4, so that the two never fall on one place.
func Positions(lengthMm, pitchMm, endMm int) []int {
	if lengthMm <= 2*endMm {
		endMm = lengthMm / 4
	}
	between := lengthMm - 2*endMm
	gaps := max(1, (between+pitchMm-1)/pitchMm)
	out := make([]int, gaps+1)
	for i := range out {
		out[i] = endMm + min(i*pitchMm, between)
	}
	return out
}

// apart is a run of fixings into the landlord's fabric: where the last would fall within closeMm of the one before it, that one
// goes midway between its neighbours; where there are only the two, each goes to a quarter of the piece, as on a shorter one. Two
// holes side by side hold no more than one, and break out what is between them.
func apart(positions []int) []int {
	last := len(positions) - 1
	switch {
	case last < 1 || positions[last]-positions[last-1] >= closeMm:
	case last == 1:
		length := positions[0] + positions[1] // as far from one end as from the other
		positions[0], positions[1] = length/4, length-length/4
	default:
		positions[last-1] = (positions[last-2] + positions[last]) / 2
	}
	return positions
}

// closeMm is how near to each other two holes of a run do not come (common practice, no source).
const closeMm = 50

// clearMm is how far a fixing through a plate keeps from a stud's centre: a driver fits beside the stud
// (common practice, no source).
const clearMm = 50

// slideClear moves each position that lies within clearMm of a stud's centre to the nearest place that is clear
// of every stud, on the piece and not on another fixing; of two as near, the one nearer the middle. One that has
// no such place stays. Centres are along the same line, from the same zero.
func slideClear(positions, centres []int, lengthMm int) []int {
	out := slices.Clone(positions)
	for i, at := range out {
		if isClear(at, centres) {
			continue
		}
		best := -1
		for _, c := range centres {
			for _, to := range [...]int{c - clearMm, c + clearMm} {
				if to < endEdgeMm || to > lengthMm-endEdgeMm || !isClear(to, centres) || taken(out, i, to) {
					continue
				}
				if best < 0 || nearer(to, best, at, lengthMm) {
					best = to
				}
			}
		}
		if best >= 0 {
			out[i] = best
		}
	}
	slices.Sort(out)
	return out
}

// endEdgeMm is how near the end of a piece a fixing may slide (common practice, no source).
const endEdgeMm = 40

func isClear(at int, centres []int) bool {
	for _, c := range centres {
		if distance(at, c) < clearMm {
			return false
		}
	}
	return true
}

func taken(positions []int, self, to int) bool {
	for i, other := range positions {
		if i != self && distance(other, to) < clearMm {
			return true
		}
	}
	return false
}

func nearer(a, b, from, lengthMm int) bool {
	if distance(a, from) != distance(b, from) {
		return distance(a, from) < distance(b, from)
	}
	return distance(2*a, lengthMm) < distance(2*b, lengthMm)
}

func distance(a, b int) int { return max(a-b, b-a) }
