package advice_test

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"unpick/domain"
	"unpick/domain/advice"
	"unpick/domain/catalogue"
	"unpick/domain/fitoutfile"
	"unpick/domain/recipe"
)

// TestNoFalseAdvice: every register that was built rightly is told nothing of where its pieces and holes are: the demo and its
// layout with all their recipes, the examples, and the registers with answer keys (corners, T junctions, raked heads, floors on
// walls, services through studs, a head that slides).
func TestNoFalseAdvice(t *testing.T) {
	t.Parallel()
	var files []string
	for _, of := range []string{"*.json", "examples/*.json", "keys/*.json"} {
		found, err := filepath.Glob("../../testdata/" + of)
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, found...)
	}
	if len(files) < 14 {
		t.Fatalf("only %d registers", len(files))
	}
	for _, name := range files {
		text, err := os.Open(name)
		if err != nil {
			t.Fatal(err)
		}
		r, err := fitoutfile.Read(text, catalogue.Default(), recipe.Expand)
		text.Close()
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		site := *r
		site.Assemblies, site.Elements, site.Fixings, site.Holes, site.Relations = nil, nil, nil, nil, nil
		for _, a := range advice.For(&site, domain.Records{Assemblies: r.Assemblies, Elements: r.Elements, Fixings: r.Fixings, Holes: r.Holes, Relations: r.Relations}) {
			if slices.Contains([]string{advice.Clash, advice.OutOfPlace, advice.NearHole, advice.NoRoom}, a.Kind) {
				t.Errorf("%s: %s", name, a.Text)
			}
		}
	}
}

// BenchmarkFor looks at whole portfolios: copies of the worked wall, side by side. It grows with the pieces, not with their pairs.
func BenchmarkFor(b *testing.B) {
	text, err := os.Open("../../testdata/examples/one-wall.json")
	if err != nil {
		b.Fatal(err)
	}
	one, err := fitoutfile.Read(text, catalogue.Default(), recipe.Expand)
	text.Close()
	if err != nil {
		b.Fatal(err)
	}
	for _, copies := range []int{30, 300, 3000} {
		r := copied(one, copies)
		site := *r
		site.Assemblies, site.Elements, site.Fixings, site.Holes, site.Relations = nil, nil, nil, nil, nil
		b.Run(fmt.Sprintf("%d", len(r.Elements)), func(b *testing.B) {
			for b.Loop() {
				advice.For(&site, domain.Records{Assemblies: r.Assemblies, Elements: r.Elements, Fixings: r.Fixings, Holes: r.Holes, Relations: r.Relations})
			}
		})
	}
}

// copied is a register many times over, each copy beside the last and under codes of its own.
func copied(one *domain.Register, copies int) *domain.Register {
	out := *one
	out.Hosts, out.Assemblies, out.Elements, out.Fixings, out.Holes, out.Relations = nil, nil, nil, nil, nil, nil
	for n := range copies {
		as := func(code string) string {
			if code == "" {
				return ""
			}
			return fmt.Sprintf("%s~%d", code, n)
		}
		beside := domain.Vector{X: float64(n % 60 * 10_000), Y: float64(n / 60 * 10_000)}
		for _, h := range one.Hosts {
			h.Code, h.Origin = as(h.Code), h.Origin.Moved(beside)
			out.Hosts = append(out.Hosts, h)
		}
		for _, e := range one.Elements {
			e.Code, e.Assembly, e.Placement.Origin = as(e.Code), as(e.Assembly), e.Placement.Origin.Moved(beside)
			out.Elements = append(out.Elements, e)
		}
		for _, f := range one.Fixings {
			f.Code, f.Holds, f.IntoElement, f.IntoHost, f.Assembly, f.Run.Start = as(f.Code), as(f.Holds), as(f.IntoElement), as(f.IntoHost), as(f.Assembly), f.Run.Start.Moved(beside)
			f.Through = slices.Clone(f.Through)
			for i := range f.Through {
				f.Through[i] = as(f.Through[i])
			}
			out.Fixings = append(out.Fixings, f)
		}
		for _, h := range one.Holes {
			h.Code, h.Host, h.Fixing, h.Assembly, h.Run.Start = as(h.Code), as(h.Host), as(h.Fixing), as(h.Assembly), h.Run.Start.Moved(beside)
			out.Holes = append(out.Holes, h)
		}
		for _, rel := range one.Relations {
			rel.Code, rel.From, rel.To, rel.Assembly = as(rel.Code), as(rel.From), as(rel.To), as(rel.Assembly)
			out.Relations = append(out.Relations, rel)
		}
	}
	return &out
}
