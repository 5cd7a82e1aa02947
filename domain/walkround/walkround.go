// Package walkround is the joint walk-round: tenant and landlord's surveyor go along a surface with one phone and say, hole
// by hole, whether it is as the register has it.
//
// The idea: an answer is a sign-off about one hole by its number on the surface's map. Both parties' answers stay in the
// log; a party that thinks again withdraws its answer by the next one. A hole is agreed when both have agreed, disputed as
// soon as one disputes, and open until then.
//
// Looking for
//
//   - the holes of each surface with what was said: walkround.go; saying it, taking it back: answer.go
package walkround

import (
	"cmp"
	"slices"

	"unpick/domain"
)

// State is how a hole stands between the parties.
type State string

// The states.
const (
	Agreed   State = "agreed"
	Disputed State = "disputed"
	Open     State = "open" // one of them has not answered
)

// Hole is one hole on the map of a surface.
type Hole struct {
	Number   int              `json:"number"`
	Set      string           `json:"hole" jsonschema_description:"code of its set"`
	State    State            `json:"state"`
	Is       domain.HoleState `json:"is"`
	Face     domain.HoleFace  `json:"face"`
	Placed   bool             `json:"placed" jsonschema_description:"false where nobody knows where it is: it is not on the map"`
	UMm      float64          `json:"u_mm,omitempty"`
	VMm      float64          `json:"v_mm,omitempty"`
	Defect   int              `json:"defect,omitempty" jsonschema_description:"number of the defect of the start that it lies in"`
	Tenant   *domain.SignOff  `json:"tenant,omitempty"`
	Surveyor *domain.SignOff  `json:"surveyor,omitempty"`
	Of       *domain.Hole     `json:"-"`
}

// By is a party's answer that holds, nil for none.
func (h Hole) By(p domain.Party) *domain.SignOff {
	if p == domain.LandlordSide {
		return h.Surveyor
	}
	return h.Tenant
}

// Surface is one surface's holes in the order of their numbers, and how many stand how.
type Surface struct {
	Host     string `json:"host"`
	Name     string `json:"name"`
	Agreed   int    `json:"agreed"`
	Disputed int    `json:"disputed"`
	Open     int    `json:"open"`
	Holes    []Hole `json:"holes"`
}

// Of is every surface that has holes, in the order of the register. Struck sets are none: they were never drilled.
func Of(r *domain.Register) []Surface {
	said := answers(r)
	at := map[string]int{}
	all := make([]Surface, len(r.Hosts))
	for i, h := range r.Hosts {
		at[h.Code] = i
		all[i] = Surface{Host: h.Code, Name: h.Name, Holes: []Hole{}}
	}
	for i := range r.Holes {
		set := &r.Holes[i]
		k, ok := at[set.Host]
		if !ok || set.State == domain.HoleStruck {
			continue
		}
		all[k].take(&r.Hosts[k], set, said)
	}
	out := []Surface{}
	for _, s := range all {
		if len(s.Holes) == 0 {
			continue
		}
		slices.SortFunc(s.Holes, func(a, b Hole) int { return cmp.Compare(a.Number, b.Number) })
		out = append(out, s)
	}
	return out
}

// take adds the holes of a set.
func (s *Surface) take(host *domain.HostSurface, set *domain.Hole, said map[place]*domain.SignOff) {
	points, defects := set.Run.Points(), host.AtDefects(set)
	for i, number := range set.Numbers {
		if i >= set.Count {
			break
		}
		h := Hole{Number: number, Set: set.Code, Is: set.State, Face: set.Face, Of: set, State: Open,
			Tenant: said[place{set.Code, number, domain.TenantSide}], Surveyor: said[place{set.Code, number, domain.LandlordSide}]}
		if i < len(points) {
			h.Placed = true
			h.UMm, h.VMm, _ = host.Local(points[i])
		}
		if defects != nil {
			h.Defect = defects[i]
		}
		switch {
		case disputes(h.Tenant) || disputes(h.Surveyor):
			h.State = Disputed
			s.Disputed++
		case h.Tenant != nil && h.Surveyor != nil:
			h.State = Agreed
			s.Agreed++
		default:
			s.Open++
		}
		s.Holes = append(s.Holes, h)
	}
}

func disputes(o *domain.SignOff) bool { return o != nil && o.Kind == domain.HoleDisputed }

// place is one party's say about one hole.
type place struct {
	set    string
	number int
	party  domain.Party
}

// answers are those that hold: of several of one party about one hole, which only a file can bring, the last.
func answers(r *domain.Register) map[place]*domain.SignOff {
	out := map[place]*domain.SignOff{}
	gone := map[string]bool{}
	for _, o := range r.SignOffs {
		gone[o.Withdraws] = true
	}
	for i := range r.SignOffs {
		o := &r.SignOffs[i]
		if (o.Kind != domain.HoleAgreed && o.Kind != domain.HoleDisputed) || o.Withdraws != "" || gone[o.Code] || len(o.About) != 1 {
			continue
		}
		out[place{o.About[0], o.Number, domain.Party(o.Role)}] = o
	}
	return out
}

// Find is the hole with a number on a surface, the number of the next one that is open for a party (else the next by
// number, else 0), and of the one before (0 for none).
func (s Surface) Find(number int, party domain.Party) (h Hole, next, before int, err error) {
	at := slices.IndexFunc(s.Holes, func(h Hole) bool { return h.Number == number })
	if at < 0 {
		return Hole{}, 0, 0, domain.Errorf(domain.NotFound, "there is no hole %d on %s", number, s.Host)
	}
	for i := 1; i < len(s.Holes) && next == 0; i++ { // round to the first again: what was skipped comes last
		if other := s.Holes[(at+i)%len(s.Holes)]; other.By(party) == nil {
			next = other.Number
		}
	}
	if next == 0 && at+1 < len(s.Holes) {
		next = s.Holes[at+1].Number
	}
	if at > 0 {
		before = s.Holes[at-1].Number
	}
	return s.Holes[at], next, before, nil
}
