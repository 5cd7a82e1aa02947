package pages

import (
	"testing"

	"unpick/domain"
	"unpick/domain/licence"
)

// A bar is as long as what was agreed, or as what was made where that is more, and what is over looks over.
func TestBarOf(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name         string
		licensed     licence.LicensedSurface
		within, past int
	}{
		{"half used", licence.LicensedSurface{Built: 5, Agreed: 10}, 50, 0},
		{"used up", licence.LicensedSurface{Built: 10, Agreed: 10}, 100, 0},
		{"12 of 10", licence.LicensedSurface{Built: 12, Agreed: 10}, 84, 16},
		{"none agreed", licence.LicensedSurface{Built: 3}, 0, 100},
		{"never to be drilled", licence.LicensedSurface{Built: 3, Agreed: 10, Rule: domain.Never}, 0, 30},
		{"none made", licence.LicensedSurface{Agreed: 10}, 0, 0},
	} {
		if b := barOf(tt.licensed); b.Within != tt.within || b.Past != tt.past {
			t.Errorf("%s: %d within, %d past, want %d and %d", tt.name, b.Within, b.Past, tt.within, tt.past)
		}
	}
}
