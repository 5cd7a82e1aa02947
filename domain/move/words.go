package move

import (
	"fmt"
	"maps"
	"slices"
)

func plural(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}

// counted is a number with its noun: "1 piece", "3 pieces".
func counted(n int, one, many string) string { return fmt.Sprintf("%d %s", n, plural(n, one, many)) }

// joined puts two parts of a remark behind each other.
func joined(a, b string) string {
	if a == "" {
		return b
	}
	return a + "; " + b
}

func sorted(words []string) []string {
	out := slices.Clone(words)
	slices.Sort(out)
	return out
}

func sortedKeys[T any](m map[string]T) []string { return slices.Sorted(maps.Keys(m)) }
