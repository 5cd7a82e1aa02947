package drawing

import (
	"io"

	"unpick/domain"
)

// SettingOut draws the setting-out sheet of a wall: running dimensions from the set-out end, not to scale, with true
// figures.
func SettingOut(w io.Writer, r *domain.Register, assembly string, o Options) error {
	s := newSheet(o, "Setting out of "+assembly, "", 10)
	return s.write(w, 0)
}
