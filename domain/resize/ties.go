package resize

import (
	"encoding/json"
	"math"
	"slices"

	"unpick/domain"
	"unpick/domain/recipe"
)

// layout is a register with what hangs together in it.
type layout struct {
	*domain.Register
	index  *domain.Index
	stands map[string]bool     // assemblies with pieces in place
	on     map[string][]string // per assembly, those whose records name its pieces or whose recipe names it, in order of code
	walls  map[string]recipe.StudWall
	before map[[2]string]bool // pairs of assemblies that share room as the layout is
}

func newLayout(r *domain.Register) *layout {
	l := &layout{Register: r, index: r.Index(), stands: map[string]bool{}, on: map[string][]string{}, walls: map[string]recipe.StudWall{}}
	of := map[string]string{}
	for i := range r.Elements {
		if e := &r.Elements[i]; e.ComesOut() {
			of[e.Code] = e.Assembly
			l.stands[e.Assembly] = true
		}
	}
	tie := func(user string, named ...string) {
		for _, code := range named {
			if a, ok := of[code]; ok {
				l.tie(user, a)
			}
		}
	}
	for i := range r.Fixings {
		if f := &r.Fixings[i]; f.InPlace() {
			tie(f.Assembly, append([]string{f.Holds, f.IntoElement}, f.Through...)...)
		}
	}
	for i := range r.Relations {
		if rel := &r.Relations[i]; !rel.Struck {
			tie(rel.Assembly, rel.From, rel.To)
		}
	}
	for i := range r.Assemblies {
		a := &r.Assemblies[i]
		if a.Struck || !l.stands[a.Code] {
			continue
		}
		var names struct {
			Wall   string `json:"wall"`
			Joists any    `json:"joists"`
		}
		if json.Unmarshal(a.Params, &names) == nil {
			l.tie(a.Code, names.Wall)
			if code, ok := names.Joists.(string); ok {
				l.tie(a.Code, code)
			}
		}
		var w recipe.StudWall
		if a.Recipe == "stud-wall" && json.Unmarshal(a.Params, &w) == nil {
			l.walls[a.Code] = w
			for _, e := range []recipe.WallEnd{w.Start, w.End} {
				if e.Meets == "wall" {
					l.tie(a.Code, e.Code)
				}
			}
		}
	}
	for _, users := range l.on {
		slices.Sort(users)
	}
	return l
}

func (l *layout) tie(user, named string) {
	if named != "" && user != named && !slices.Contains(l.on[named], user) {
		l.on[named] = append(l.on[named], user)
	}
}

// rides are the recipes that follow a wall of another size by themselves: they are given by the wall and not by a place.
var rides = []string{"door-set", "trim", "lining", "insulation", "seal"}

func (l *layout) recipeOf(code string) string {
	if at, ok := l.index.Assemblies[code]; ok {
		return l.Assemblies[at].Recipe
	}
	return ""
}

// asDescribed is why assemblies are not what their recipes would make of them now, "" where they are.
func (l *layout) asDescribed(codes []string) string {
	var same []domain.Assembly
	for _, code := range codes {
		same = append(same, l.Assemblies[l.index.Assemblies[code]])
	}
	anew, err := recipe.Redone(l.Register, same)
	if err != nil {
		return "its recipe no longer makes it as it was described: " + words(err)
	}
	if faults := domain.Check(anew); len(faults) > 0 {
		return "as it is described it breaks a rule: " + faults[0].Text
	}
	was, is := piecesOf(l.Register, codes), piecesOf(anew, codes)
	for _, code := range codes {
		if !slices.Equal(was[code], is[code]) {
			return code + " is not as its recipe makes it now: it was amended by hand, or logged with an earlier version, and would lose that"
		}
	}
	return ""
}

// piece is what makes two pieces the same to whoever cuts them.
type piece struct {
	code, material      string
	long, wide, thick   int
	treated             bool
	startDeg, endDeg    float64
	originX, originY, z int
}

func piecesOf(r *domain.Register, codes []string) map[string][]piece {
	out := map[string][]piece{}
	for i := range r.Elements {
		e := &r.Elements[i]
		if !e.ComesOut() || !slices.Contains(codes, e.Assembly) {
			continue
		}
		o := e.Placement.Origin
		out[e.Assembly] = append(out[e.Assembly], piece{e.Code, e.Material, e.LengthMm, e.WidthMm, e.ThicknessMm, e.Treated, e.StartCutDeg, e.EndCutDeg, o.X, o.Y, o.Z})
	}
	for _, pieces := range out {
		slices.SortFunc(pieces, func(a, b piece) int { return compareCode(a.code, b.code) })
	}
	return out
}

func compareCode(a, b string) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// moved is a point moved along a direction on plan, to the whole millimetre.
func moved(p domain.Point, along domain.Direction, mm int) domain.Point {
	return p.Moved(along.Unit().Scale(float64(mm)))
}

// square reports whether two directions on plan are at a right angle, within what a builder can see.
func square(a, b domain.Direction) bool { return math.Abs(a.Unit().Dot(b.Unit())) < 0.001 }
