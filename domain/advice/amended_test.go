package advice

import (
	"strings"
	"testing"

	"unpick/domain"
)

// TestForAmended: an amendment is told what logging it so would have been told, and nothing that held before it.
func TestForAmended(t *testing.T) {
	t.Parallel()
	count := func(n int) func(*domain.Records) {
		return func(put *domain.Records) { put.Fixings[0].Count, put.Holes[0].Count = n, n }
	}
	both := func(change func(*domain.Records)) func(*domain.Register) domain.Records {
		return func(r *domain.Register) domain.Records {
			put := domain.Records{Fixings: []domain.Fixing{r.Fixings[0]}, Holes: []domain.Hole{r.Holes[0]}}
			change(&put)
			return put
		}
	}
	moved := func(by domain.Point) func(*domain.Register) domain.Records {
		return func(r *domain.Register) domain.Records {
			f := r.Fixings[0]
			f.Run.Start.X, f.Run.Start.Y, f.Run.Start.Z = f.Run.Start.X+by.X, f.Run.Start.Y+by.Y, f.Run.Start.Z+by.Z
			return domain.Records{Fixings: []domain.Fixing{f}}
		}
	}
	for _, tt := range []struct {
		name   string
		before func(*domain.Register)
		put    func(*domain.Register) domain.Records
		want   []string
	}{
		{"a note alone", nil, both(func(put *domain.Records) { put.Fixings[0].Note = "painted over" }), nil},
		{"up to the agreed count", nil, both(count(4)), nil},
		{"over the agreed count", nil, both(count(5)), []string{"5 holes, 1 more than the 4 agreed"}},
		{"a note where it was over before", func(r *domain.Register) { r.Hosts[0].AgreedHoles = 1 }, both(func(put *domain.Records) { put.Fixings[0].Note = "painted over" }), nil},
		{"more where it was over before", func(r *domain.Register) { r.Hosts[0].AgreedHoles = 1 }, both(count(3)), []string{"3 holes, 2 more"}},
		// 1000 × 100 mm at 10 mm from each other: 101 by 11.
		{"as many as there is room for", func(r *domain.Register) { r.Hosts[0].AgreedHoles = 2000 }, both(count(1111)), nil},
		{"a slip of the keys", func(r *domain.Register) { r.Hosts[0].AgreedHoles = 2000 }, both(count(1112)), []string{"no room for more than 1111"}},
		{"a little aside", nil, moved(domain.Point{Y: 30}), nil},
		{"one metre up", nil, moved(domain.Point{Z: 1100}), []string{"away from OLD"}},
		{"900 metres off", nil, moved(domain.Point{Y: 900_000}), []string{"900 m away from OLD"}},
		{"its places not known, but where it begins", func(r *domain.Register) { r.Fixings[0].Run.PositionsMm = nil }, moved(domain.Point{Y: 900_000}), []string{"900 m away from OLD"}},
		{"the piece moved from under what holds it", nil, func(r *domain.Register) domain.Records {
			e := r.Elements[0]
			e.Placement.Origin.Y += 2000
			return domain.Records{Elements: []domain.Element{e}}
		}, []string{"OLDF lies up to"}},
		{"into another piece", func(r *domain.Register) { r.Elements = append(r.Elements, piece("BESIDE", 1000)) }, func(r *domain.Register) domain.Records {
			e := r.Elements[1]
			e.Placement.Origin.Y -= 950
			return domain.Records{Elements: []domain.Element{e}}
		}, []string{"deep in OLD"}},
		{"another type, its holes as they were", nil, func(r *domain.Register) domain.Records {
			f := r.Fixings[0]
			f.Type = "concrete-screw-10"
			return domain.Records{Fixings: []domain.Fixing{f}}
		}, nil},
		{"struck", nil, both(func(put *domain.Records) {
			put.Fixings[0].State, put.Holes[0].State, put.Fixings[0].Count = domain.FixingStruck, domain.HoleStruck, 99_999
		}), nil},
	} {
		r := unit()
		if tt.before != nil {
			tt.before(r)
		}
		var said []string
		for _, a := range ForAmended(r, domain.Records{}, tt.put(r)) {
			if a.Severity != domain.Note {
				said = append(said, a.Text)
			}
		}
		if len(said) != len(tt.want) {
			t.Errorf("%s: said %q, want %q", tt.name, said, tt.want)
			continue
		}
		for i := range said {
			if !strings.Contains(said[i], tt.want[i]) {
				t.Errorf("%s: said %q, want %q", tt.name, said[i], tt.want[i])
			}
		}
	}
}
