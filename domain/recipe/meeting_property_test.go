package recipe

import (
	"encoding/json"
	"testing"

	"pgregory.net/rapid"

	"unpick/domain"
)

// placeIn is a position given in a wall's own axes, in the fit-out's.
func placeIn(p StudWall, x, y int) domain.Point {
	return frame{p.Origin, p.Along}.point(spot(x, y, 0))
}

// tryBuild expands an assembly into a register; a refusal draws again.
func tryBuild(t *rapid.T, r *domain.Register, code, recipe string, params any) (*domain.Register, domain.Records) {
	text, err := json.Marshal(params)
	if err != nil {
		t.Fatal(err)
	}
	a := domain.Assembly{Code: code, Name: code, Recipe: recipe, Params: text}
	made, err := Expand(r, a)
	if err != nil {
		t.Skip(err)
	}
	all := domain.Records{Assemblies: []domain.Assembly{a}}
	all.Append(made)
	return r.With(all), made
}

// Two walls that meet anywhere along the first, turned any way, onto bare studs or through the lining, by either end of
// the second, come apart again.
func TestMeetingWallsComeOut(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p := worked()
		p.Start, p.End = WallEnd{Meets: "free"}, WallEnd{Meets: "free"}
		p.Origin = domain.Point{X: 8000, Y: 8000}
		p.Along = rapid.SampledFrom([]domain.Direction{{X: 1}, {Y: 1}, {X: -1}, {Y: -1}, {X: 3, Y: 4}, {X: -12, Y: 5}}).Draw(t, "along")
		p.FaceA.ShareCut, p.FaceB.ShareCut = true, true
		face := rapid.SampledFrom([]string{"a", "b"}).Draw(t, "face")
		onto := rapid.SampledFrom([]string{"studs", "lining"}).Draw(t, "onto")
		at := rapid.IntRange(0, 4200-89).Draw(t, "at")
		if onto == "studs" {
			p.Junctions = []Junction{{AtMm: at, WidthMm: 89, Face: face}}
		} else {
			at = rapid.IntRange(1, 6).Draw(t, "stud")*600 - 45
		}
		if rapid.Bool().Draw(t, "door") {
			p.Openings = []Opening{{AtMm: rapid.IntRange(200, 3000).Draw(t, "door at"), LeafWidthMm: 762, LeafHeightMm: 1981}}
		}
		r, made := tryBuild(t, under(premises(), p), "W1", "stud-wall", p)
		r, more := tryBuild(t, r, "W2", "stud-wall", returning(p, at, face, onto, rapid.Bool().Draw(t, "by its far end")))
		made.Append(more)
		if len(p.Openings) > 0 {
			r, more = tryBuild(t, r, "D1", "door-set", DoorSet{Wall: "W1", Leaf: "door-leaf-hollow-762", HungOn: face})
			made.Append(more)
			r, more = tryBuild(t, r, "K1", "trim", Trim{Wall: "W1", Face: face})
			made.Append(more)
		}
		sound(t, r, made, 2.5)
		workable(t, r)
	})
}

// returning is a wall that runs away from a face of another, square to it, its frame at to at + 89 along it.
func returning(p StudWall, at int, face, onto string, byFarEnd bool) StudWall {
	const long = 2400
	q := worked()
	y, away := 89, 1
	if onto == "lining" {
		y += 11
	}
	if face == "a" {
		y, away = 89-y, -1
	}
	f := frame{p.Origin, p.Along}
	out := f.direction(domain.Direction{Y: away})
	q.LengthMm = long
	meets, free := WallEnd{Meets: "wall", Code: "W1", Onto: onto}, WallEnd{Meets: "free"}
	// The second wall's frame lies to the left of its direction. Away from face b that is towards the first's start.
	if byFarEnd {
		q.Start, q.End, q.Along = free, meets, out.Opposite()
		x := at
		if face == "a" {
			x = at + 89
		}
		q.Origin = placeIn(p, x, y+away*long)
		return q
	}
	q.Start, q.End, q.Along = meets, free, out
	x := at + 89
	if face == "a" {
		x = at
	}
	q.Origin = placeIn(p, x, y)
	return q
}
