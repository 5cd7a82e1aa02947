package cutting

import "slices"

// ceiling bounds what can still be had: per item, the best value of it and the lighter ones in some room. Lengths are
// counted in grains, rounded down, so the answer may be too high where a grain is more than 1; it is never too low.
type ceiling struct {
	grain int
	most  [][]int64 // per item, per room in grains
	all   []int64
}

// make makes the tables for a capacity, with at most size entries, in the memory of the last.
func (c *ceiling) make(weight, need []int, value []int64, usable func(i int) bool, capacity, size int) {
	n := len(weight)
	c.grain, c.most = 1, c.most[:0]
	for (capacity/c.grain+1)*(n+1) > size && c.grain < capacity {
		c.grain = max(c.grain+1, (n+1)*capacity/size)
	}
	rooms := capacity/c.grain + 1
	c.all = slices.Grow(c.all[:0], rooms*(n+1))[:rooms*(n+1)]
	for i := range n + 1 {
		c.most = append(c.most, c.all[i*rooms:(i+1)*rooms])
	}
	clear(c.most[n])
	for i := n - 1; i >= 0; i-- {
		row := c.most[i]
		copy(row, c.most[i+1])
		w, v := weight[i]/c.grain, value[i]
		if !usable(i) || v <= 0 || w >= rooms {
			continue
		}
		if fits := capacity / weight[i]; need[i] >= fits && w > 0 && fits == (rooms-1)/w {
			for r := w; r < rooms; r++ {
				row[r] = max(row[r], row[r-w]+v)
			}
			continue
		}
		for left, k := min(need[i], capacity/weight[i]), 1; left > 0; k *= 2 {
			k = min(k, left)
			left -= k
			by, worth := k*w, int64(k)*v
			for r := rooms - 1; r >= by; r-- {
				row[r] = max(row[r], row[r-by]+worth)
			}
		}
	}
}

// of is the most that item i and the lighter ones can bring in some room.
func (c *ceiling) of(i, room int) int64 { return c.most[i][room/c.grain] }
