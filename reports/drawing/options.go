package drawing

import (
	"cmp"
	"io"
	"strings"

	"unpick/domain"
)

// Options say for whom a drawing is made. The zero value is a file of its own, light, for paper, of the fit-out as it
// stands.
type Options struct {
	// State is the moment shown; the zero value is all that stands.
	State State
	// Inline makes the drawing a part of an HTML page under a strict policy: no style in it at all, colours and lines by
	// the classes of Stylesheet, no size of its own.
	Inline bool
	// ID stands before every id in the drawing, so that several fit on one page. Empty reads as "d".
	ID string
	// Link answers where a record is shown: kind is "element", "fixing", "assembly", "host" or "step". Empty leaves it
	// without a link; nil links nothing.
	Link func(kind, code string) string
	// WidthPx is how wide a screen shows the drawing: words come out at least 11 px high, and there are fewer of them.
	// 0 is paper.
	WidthPx int
	// Scale draws at 1:Scale on paper; 0 is the drawing's usual scale. Letters keep their height on paper. Setting-out
	// sheets are drawn to fit and take none.
	Scale float64
	// Bare leaves out the heading and the notes under a drawing, for a page that has its own; the legend stays.
	Bare bool
	// Stamp says which copy this is: the issue with its hash, or that it is a draft. It stands over the heading, its first line large; empty is none.
	Stamp string
}

// The usual scales: of an elevation, and of the whole fit-out.
const (
	elevationScale = 25
	wholeScale     = 50
)

// ToScale reports whether a view is drawn to scale; what is not is drawn to fit, with true figures.
func (k ViewKind) ToScale() bool { return k != SettingOutView }

// Emphasis says why a piece stands out. Each has its own line, hatch and colour.
type Emphasis string

// The ways to stand out.
const (
	Chosen  Emphasis = "chosen"   // what was asked about
	Out     Emphasis = "out"      // must come out to free what was chosen
	Falls   Emphasis = "falls"    // would lose its path to ground
	PutBack Emphasis = "put-back" // comes out and goes back
	Added   Emphasis = "added"    // not stored yet: a preview
)

// State is a moment of a fit-out, by codes. A fixing is gone when it is named or when the piece that it holds is
// gone; the holes of gone fixings show where they are known.
type State struct {
	Gone      map[string]bool     // pieces and fixings that are out
	Held      map[string]bool     // pieces that props hold
	Highlight map[string]Emphasis // pieces, fixings and the landlord's surfaces that stand out
	Dim       bool                // all that does not stand out steps back
}

// View names one drawing of a fit-out.
type View struct {
	Kind     ViewKind
	Assembly string // for an elevation or a setting-out sheet
	Title    string
}

// ViewKind is the sort of a view.
type ViewKind string

// The sorts of view.
const (
	PlanView       ViewKind = "plan"
	IsometricView  ViewKind = "isometric"
	ElevationView  ViewKind = "elevation"
	SettingOutView ViewKind = "setting-out"
)

// Views lists every drawing that a fit-out has: plan, isometric, then for each assembly with a frame its elevation,
// and for a wall its setting-out sheet, in order of code.
func Views(r *domain.Register) []View {
	out := []View{{PlanView, "", "Plan"}, {IsometricView, "", "Isometric view"}}
	framed, walls := map[string]bool{}, map[string]bool{}
	for i := range r.Elements {
		if e := &r.Elements[i]; e.IsInPlace() {
			framed[e.Assembly] = framed[e.Assembly] || IsFrame(e)
			walls[e.Assembly] = walls[e.Assembly] || e.Kind == domain.Stud
		}
	}
	for _, a := range byCode(r.Assemblies, func(a *domain.Assembly) string { return a.Code }) {
		name := strings.TrimSpace(a.Code + " " + a.Name)
		if framed[a.Code] {
			out = append(out, View{ElevationView, a.Code, "Elevation of " + name})
		}
		if walls[a.Code] {
			out = append(out, View{SettingOutView, a.Code, "Setting out of " + name})
		}
	}
	return out
}

// Draw draws a view. A kind that is none is NotFound.
func Draw(w io.Writer, r *domain.Register, v View, o Options) error {
	switch v.Kind {
	case PlanView:
		return Plan(w, r, o)
	case IsometricView:
		return Isometric(w, r, o)
	case ElevationView:
		return Elevation(w, r, v.Assembly, o)
	case SettingOutView:
		return SettingOut(w, r, v.Assembly, o)
	}
	return domain.Errorf(domain.NotFound, "there is no drawing %q: use plan, isometric, elevation or setting-out", v.Kind)
}

func (o Options) prefix() string { return cmp.Or(o.ID, "d") }

// scale is the scale that is drawn at, usual where nothing else is asked for.
func (o Options) scale(usual float64) float64 { return cmp.Or(o.Scale, usual) }

// letters is the height of a code in drawing millimetres, for one of usualMm at the usual scale.
func (o Options) letters(usualMm, usual float64) float64 { return usualMm * o.scale(usual) / usual }

// leastPx is how high the letters of a code are on a screen at least.
const leastPx = 11

// text is the height of a code in drawing millimetres: as on paper, and on a screen at least 11 px where widthMm of
// drawing, with some ten heights beside it for dimensions and margin, fill the screen's width.
func (o Options) text(onPaper, widthMm float64) float64 {
	const beside = 10
	if o.WidthPx <= 0 {
		return onPaper
	}
	room := max(float64(o.WidthPx)-leastPx*beside, leastPx*beside)
	return max(onPaper, leastPx*widthMm/room)
}

// gone reports whether a piece is out at the moment shown.
func (s State) gone(e *domain.Element) bool { return !e.IsInPlace() || s.Gone[e.Code] }

// undone reports whether a fixing is out at the moment shown: its piece took it along, or it was undone.
func (s State) undone(f *domain.Fixing) bool {
	return !f.InPlace() || s.Gone[f.Code] || s.Gone[f.Holds]
}
