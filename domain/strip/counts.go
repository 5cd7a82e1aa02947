package strip

// counts is a list of numbers from 0 to 127, eight in a word, so that two lists are compared and merged by the word.
type counts []uint64

const (
	mostCount = 127
	topBits   = 0x8080808080808080
)

func newCounts(n int) counts { return make(counts, (n+7)/8) }

func (c counts) at(i int32) int { return int(c[i/8] >> (8 * (i % 8)) & mostCount) }

func (c counts) set(i int32, n int) {
	shift := 8 * (i % 8)
	c[i/8] = c[i/8]&^(0xff<<shift) | uint64(min(n, mostCount))<<shift
}

// raise takes the greater of each number and that of another list.
func (c counts) raise(other counts) {
	for i, b := range other {
		a := c[i]
		above := ((a | topBits) - b) & topBits >> 7 * 0xff // all bits of each number of a that is no less
		c[i] = b ^ (a^b)&above
	}
}

// above reports whether no number is less than that of another list.
func (c counts) above(other counts) bool {
	for i, b := range other {
		if ((c[i]|topBits)-b)&topBits != topBits {
			return false
		}
	}
	return true
}

// sum is the sum of all numbers.
func (c counts) sum() int {
	const (
		evens = 0x00ff00ff00ff00ff
		ones  = 0x0001000100010001
	)
	sum := uint64(0)
	for _, x := range c {
		sum += (x&evens + x>>8&evens) * ones >> 48 // four sums of two, added up by the multiplication
	}
	return int(sum)
}
