// Package settingout reads the setting-out of a wall from the register: the running dimensions from the set-out end
// of every stud, doorway, plate end and board joint, so that a rod is marked once and laid on each plate.
//
// The idea: figures are taken from the pieces as they stand, not from the parameters that once made them, in the axes
// of the wall: X from its set-out end, Z up from the floor there.
//
// Looking for
//
//   - what a sheet holds, and taking it: settingout.go
//   - joints between boards: joint.go
package settingout
