package domain

import (
	"iter"
	"strings"
)

// Nearest is the candidate that a person most likely meant by a misspelt word, "" where none comes near. It
// counts letters added, dropped, changed or swapped with their neighbour, at most a third of the word (and two
// in a short one); a candidate that the word begins, or that begins the word, is near as well. Ties go to the
// first in the alphabet, so that the order of the candidates does not matter.
//
// The distance is optimal string alignment: Damerau, "A technique for computer detection and correction of
// spelling errors", Communications of the ACM 7(3), 1964, doi:10.1145/363958.363994, for more than one error.
func Nearest(word string, candidates iter.Seq[string]) string {
	const longest = 60 // what is longer is no misspelling, and would cost its square
	if word == "" || len(word) > longest {
		return ""
	}
	best, least := "", max(2, len(word)/3)+1
	for candidate := range candidates {
		if candidate == "" || len(candidate) > longest {
			continue
		}
		d := misspellings(strings.ToLower(word), strings.ToLower(candidate))
		if begins(word, candidate) || begins(candidate, word) {
			d = min(d, 2)
		}
		if d < least || d == least && best != "" && candidate < best {
			best, least = candidate, d
		}
	}
	return best
}

// begins reports whether word is a useful beginning of longer: three letters say little.
func begins(word, longer string) bool { return len(word) > 3 && strings.HasPrefix(longer, word) }

func misspellings(a, b string) int {
	var rows [3][]int
	for i := range rows {
		rows[i] = make([]int, len(b)+1)
	}
	before, last, now := rows[0], rows[1], rows[2]
	for j := range last {
		last[j] = j
	}
	for i := range len(a) {
		now[0] = i + 1
		for j := range len(b) {
			changed := last[j]
			if a[i] != b[j] {
				changed++
			}
			now[j+1] = min(changed, last[j+1]+1, now[j]+1)
			if i > 0 && j > 0 && a[i] == b[j-1] && a[i-1] == b[j] {
				now[j+1] = min(now[j+1], before[j-1]+1)
			}
		}
		before, last, now = last, now, before
	}
	return last[len(b)]
}
