package plan

import (
	"strings"

	"unpick/domain"
)

// stands refuses to leave what does not stand without what comes out, with the mend.
func stands(r *domain.Register) error {
	leans := r.Leanings()
	if len(leans) == 0 {
		return nil
	}
	lines := make([]string, len(leans))
	for i, l := range leans {
		lines[i] = l.Says()
	}
	return domain.Errorf(domain.Refused, "%s\nLet that stay too, or take both out", strings.Join(lines, "\n"))
}
