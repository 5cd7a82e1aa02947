package fitoutfile

import (
	"fmt"
	"strings"
)

// pointer is the JSON pointer through these names and places, RFC 6901.
func pointer(parts ...any) string {
	var b strings.Builder
	for _, part := range parts {
		b.WriteByte('/')
		b.WriteString(pointerEscape.Replace(fmt.Sprint(part)))
	}
	return b.String()
}

// pointerEscape writes a name into a JSON pointer, RFC 6901 section 3.
var pointerEscape = strings.NewReplacer("~", "~0", "/", "~1")
