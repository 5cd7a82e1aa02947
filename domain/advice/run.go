package advice

import (
	"fmt"
	"math"

	"unpick/domain"
)

const (
	offRunMm    = 150 // how far a fixing may enter from the piece that it holds: through a cleat, a bracket, a board (common practice, no source)
	leastRoomMm = 10  // middle to middle, nearer no two fixings go (common practice, no source)
)

// runs looks at fixings against the pieces that they hold: those added, and those of the pieces added, which may have been moved
// away from under them.
func (l *look) runs() {
	if len(l.add.Fixings) == 0 && len(l.add.Elements) == 0 {
		return
	}
	for i := range l.add.Fixings {
		f := &l.add.Fixings[i]
		if e, ok := l.element(f.Holds); ok && f.InPlace() && e.IsInPlace() {
			l.awayFrom(f, e)
			l.room(f, e)
		}
	}
	for i := range l.register.Fixings {
		f := &l.register.Fixings[i]
		if at, moved := l.fresh.Elements[f.Holds]; moved && f.InPlace() && l.add.Elements[at].IsInPlace() {
			l.awayFrom(f, &l.add.Elements[at])
		}
	}
}

// awayFrom warns of a run of which some fixing enters away from the piece that it holds.
func (l *look) awayFrom(f *domain.Fixing, e *domain.Element) {
	points := f.Run.Points()
	if start := f.Run.Start; points == nil && start != (domain.Point{}) { // where each is nobody knows, but where they begin is said
		points = []domain.Vector{start.Vector()}
	}
	box, most := e.Box(), 0.0
	for _, p := range points {
		most = max(most, distance(box, p))
	}
	if most <= offRunMm {
		return
	}
	away := fmt.Sprintf("%.0f mm", most)
	if most >= 10_000 {
		away = fmt.Sprintf("%.0f m", most/1000)
	}
	l.say(domain.Advice{Kind: OutOfPlace, Severity: domain.Warning, Codes: []string{f.Code, e.Code},
		Text: fmt.Sprintf("%s lies up to %s away from %s, which it holds", f.Code, away, e.Code),
		Mend: "mend where the run or the piece is: a piece is moved with what holds it, or the other way about"})
}

// distance is how far a point lies outside a box, 0 within it.
func distance(b domain.Box, p domain.Vector) float64 {
	sum := 0.0
	off := p.Sub(b.Centre)
	for i := range b.Axes {
		if out := math.Abs(off.Dot(b.Axes[i])) - b.Half[i]; out > 0 {
			sum += out * out
		}
	}
	return math.Sqrt(sum)
}

// room stops a set of more fixings than the largest face of the piece has room for: a slip of the keys.
func (l *look) room(f *domain.Fixing, e *domain.Element) {
	most := (e.LengthMm/leastRoomMm + 1) * (max(e.WidthMm, e.ThicknessMm)/leastRoomMm + 1)
	if f.Count <= most {
		return
	}
	l.say(domain.Advice{Kind: NoRoom, Severity: domain.Stop, Codes: []string{f.Code, e.Code},
		Text: fmt.Sprintf("%s has %d fixings, and %s, %d × %d mm, has no room for more than %d at %d mm from each other", f.Code, f.Count, e.Code, e.LengthMm, max(e.WidthMm, e.ThicknessMm), most, leastRoomMm),
		Mend: "mend the count"})
}
