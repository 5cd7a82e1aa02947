package fitoutfile

import (
	"strconv"
	"strings"
)

// pointer is the JSON pointer through these names and places, RFC 6901.
func pointer(parts ...string) string {
	var b strings.Builder
	for _, part := range parts {
		b.WriteByte('/')
		b.WriteString(strings.NewReplacer("~", "~0", "/", "~1").Replace(part))
	}
	return b.String()
}

// part is one part of a pointer, not escaped: the name of a value in a group, its place in a list.
func part(name []byte, i int) string {
	if name == nil {
		return strconv.Itoa(i)
	}
	return string(name)
}

// place is a part of a pointer as a place in a list of n, -1 where it is none.
func place(part string, n int) int {
	i, err := strconv.Atoi(part)
	if err != nil || i < 0 || i >= n {
		return -1
	}
	return i
}
