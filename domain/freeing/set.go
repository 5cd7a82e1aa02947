package freeing

import (
	"encoding/binary"
	"slices"
)

// set is a set of nodes, one bit each.
type set []uint64

func newSet(n int) set { return make(set, (n+63)/64) }

func (s set) has(m int32) bool { return s[m>>6]&(1<<(m&63)) != 0 }
func (s set) put(m int32)      { s[m>>6] |= 1 << (m & 63) }
func (s set) copy() set        { return slices.Clone(s) }

func (s set) holds(list []int32) bool {
	for _, m := range list {
		if !s.has(m) {
			return false
		}
	}
	return true
}

// key is the same for the same set with the same keepers, and for no other.
func (s set) key(keepers []keeper) string {
	out := make([]byte, 0, 8*len(s)+8*len(keepers))
	for _, word := range s {
		out = binary.LittleEndian.AppendUint64(out, word)
	}
	for _, k := range keepers {
		out = binary.LittleEndian.AppendUint32(out, uint32(k.steadying))
		out = binary.LittleEndian.AppendUint32(out, uint32(k.by))
	}
	return string(out)
}
