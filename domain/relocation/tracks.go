package relocation

// busy is a stretch of one day on which a person or a vehicle is taken, and where it begins and ends.
type busy struct {
	from, to int // minutes of the day
	in, out  place
}

// track is one person or one vehicle in time, day by day.
type track [][]busy

// free reports whether a stretch fits in, with the way to and from what is before and after it on the same day.
func (t track) free(day int, b busy, travel int) bool {
	for _, o := range t[day] {
		before, after := 0, 0
		if o.out != b.in {
			before = travel
		}
		if b.out != o.in {
			after = travel
		}
		if o.to+before > b.from && b.to+after > o.from {
			return false
		}
	}
	return true
}

// near reports whether it is on the same day in the place where a stretch begins.
func (t track) near(day int, at place) bool {
	for _, o := range t[day] {
		if o.out == at {
			return true
		}
	}
	return len(t[day]) == 0
}

// store is equipment or room of which there is a fixed amount: what is taken of it, day by day.
type store struct {
	capacity int
	taken    [][]share
}

type share struct{ from, to, amount int }

// has reports whether so much is left all through a stretch of a day.
func (s *store) has(day, from, to, amount int) bool {
	if s.used(day, from, from+1)+amount > s.capacity {
		return false
	}
	for _, o := range s.taken[day] {
		if o.from > from && o.from < to && s.used(day, o.from, o.from+1)+amount > s.capacity {
			return false
		}
	}
	return true
}

func (s *store) used(day, from, to int) int {
	n := 0
	for _, o := range s.taken[day] {
		if o.from < to && o.to > from {
			n += o.amount
		}
	}
	return n
}
