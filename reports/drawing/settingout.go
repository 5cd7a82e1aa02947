package drawing

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"unpick/domain"
	"unpick/domain/settingout"
)

// rodTextMm is the height of a code on a setting-out sheet, and rodWideMm how wide the sheet is inside its margins:
// an A3 sheet on its side.
const (
	rodTextMm = 3
	rodWideMm = 390
)

// SettingOut draws the setting-out sheet of a wall for A3 on its side: strips with running dimensions from the
// set-out end, for the plates and for the boards of each face, drawn to fit with true figures, and the figures as
// tables. It shows the wall as it stands; of the options' state it takes nothing.
func SettingOut(w io.Writer, r *domain.Register, assembly string, o Options) error {
	sheetOut, err := settingout.Of(r, assembly)
	if err != nil {
		return err
	}
	note := "All figures run from the set-out end, on the left: mark a rod once and lay it on each plate. The strips are drawn to fit; the figures are true. Crosses are doorways, dashed studs stand over one."
	if sheetOut.RakeDeg != 0 {
		note += fmt.Sprintf(" The head plate lies at %g degrees: mark it by the figures along the head.", sheetOut.RakeDeg)
	}
	s := newSheet(o, "Setting out of "+strings.TrimSpace(assembly+" "+sheetOut.Name), note, rodTextMm, 0)
	s.note = "Millimetres. Not to scale. From the register: check on site."
	wide := float64(rodWideMm)
	if o.WidthPx > 0 { // a code is then 11 px high
		wide = min(wide, float64(o.WidthPx)/11*rodTextMm-6*rodTextMm)
	}
	y := s.strips(&sheetOut, wide)
	s.tables(rodTables(&sheetOut), wide, y+4*s.textMm)
	s.reach(paper{wide, 0})
	return s.write(w, 0)
}

// strips draws the plates and the faces one below the other, and answers where they end.
func (s *sheet) strips(out *settingout.Sheet, wide float64) float64 {
	k := min(wide/float64(max(out.LengthMm, 1)), .2)
	y := s.rod(out, k, 0)
	a, b := jointsOf(out, "a"), jointsOf(out, "b")
	switch {
	case len(a) > 0 && slices.EqualFunc(a, b, func(x, y settingout.Joint) bool { return x.AtMm == y.AtMm && x.Edge == y.Edge }):
		y = s.boardStrip("Boards, both faces: joints", a, k, y)
	default:
		if len(a) > 0 {
			y = s.boardStrip("Boards of face a: joints", a, k, y)
		}
		if len(b) > 0 {
			y = s.boardStrip("Boards of face b: joints", b, k, y)
		}
	}
	return y
}

func jointsOf(out *settingout.Sheet, face string) []settingout.Joint {
	var all []settingout.Joint
	for _, j := range out.Joints {
		if j.Face == face {
			all = append(all, j)
		}
	}
	return all
}

// rod draws the plates with every stud on them, codes above and running dimensions below.
func (s *sheet) rod(out *settingout.Sheet, k, y float64) float64 {
	t := s.textMm
	s.heading(paper{0, y}, "Plates: near edge of each stud, sides of doorways")
	top := y + 6*t
	high := 2.2 * t
	length := float64(out.LengthMm) * k
	s.outline("scale-white", "", box(0, top, length, top+high))
	var marks []runningMark
	for _, d := range out.Doorways {
		x0, x1 := float64(d.NearMm)*k, float64(d.FarMm)*k
		s.raw(`<path class="d-opening" d="M%.1f %.1fL%.1f %.1fM%.1f %.1fL%.1f %.1f"/>`+"\n", x0, top, x1, top+high, x1, top, x0, top+high)
		marks = append(marks, mmMark(d.NearMm, k), mmMark(d.FarMm, k))
	}
	last := math.Inf(-1)
	for _, u := range out.Uprights {
		x0, x1 := float64(u.NearMm)*k, float64(u.FarMm)*k
		class := "timber"
		if u.Short {
			class = "overhead"
		}
		end := s.open("element", u.Code, fmt.Sprintf("%s from %d to %d, centre %d", u.Code, u.NearMm, u.FarMm, u.CentreMm))
		s.polygon(class, box(x0, top, x1, top+high))
		s.body.WriteString(end)
		marks = append(marks, mmMark(u.NearMm, k))
		if x0 > last+1.15*t {
			// The end of a code tells studs apart: the wall's own code stands in the heading.
			s.text("start", paper{(x0+x1)/2 + .33*t, top - .4*t}, 90, strings.TrimPrefix(u.Code, out.Assembly+"-"))
			last = x0
		}
	}
	marks = append(marks, mmMark(out.LengthMm, k))
	return top + high + s.running(paper{0, top + high}, marks) + 2*t
}

// boardStrip draws the boards of a face as a band with its joints.
func (s *sheet) boardStrip(heading string, joints []settingout.Joint, k, y float64) float64 {
	t := s.textMm
	s.heading(paper{0, y}, heading)
	top, high := y+1.2*t, 1.6*t
	var marks []runningMark
	begin := joints[0].AtMm
	for i, j := range joints {
		marks = append(marks, mmMark(j.AtMm, k))
		if i > 0 && j.AtMm > begin {
			s.polygon("board", box(float64(begin)*k, top, float64(j.AtMm)*k, top+high))
		}
		begin = j.AtMm
	}
	return top + high + s.running(paper{0, top + high}, marks) + 2*t
}

func (s *sheet) heading(at paper, words string) {
	s.text("strong", at, 0, words)
}

func box(x0, y0, x1, y1 float64) []paper { return []paper{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}} }

func mmMark(mm int, k float64) runningMark { return runningMark{float64(mm) * k, fmt.Sprint(mm)} }
