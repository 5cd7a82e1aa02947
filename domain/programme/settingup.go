package programme

import (
	"slices"

	"unpick/domain/strip"
)

// fromSettingUp keeps equipment where the minutes of setting it up were counted. One tower goes through its steps in the order of
// the sequence, since that is the order in which its moves were counted. Of several nobody knows which stands where: none is
// worked from before the step that builds, nor after the one that takes down. What is worked in a zone that is shut off
// waits for the step that shuts it off.
func (m *stepMapping) fromSettingUp(towers int) {
	tower := strip.TowerOf(m.graph.Register.Catalogue)
	var from []int32 // the steps that are worked from a tower
	shut := int32(-1)
	for i := range m.steps {
		s, k := &m.steps[i], int32(i)
		if s.Access == strip.FromTower {
			from = append(from, k)
		}
		switch {
		case !s.ShutsOff():
		case shut < 0 || m.steps[shut].Place() != s.Place():
			shut = k
		default:
			m.link(shut, k)
		}
	}
	for i, k := range from {
		if i > 0 && towers == 1 {
			m.link(from[i-1], k)
		}
		if slices.Contains(m.steps[k].SetUp, tower.Build) {
			m.linkAll(k, from[i+1:], false)
		}
		if slices.Contains(m.steps[k].SetUp, tower.Down) {
			m.linkAll(k, from[:i], true)
		}
	}
}

// linkAll has a step come before all the others, or after them.
func (m *stepMapping) linkAll(step int32, others []int32, after bool) {
	for _, other := range others {
		if after {
			m.link(other, step)
		} else {
			m.link(step, other)
		}
	}
}
