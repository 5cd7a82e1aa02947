package schedule

import (
	"maps"
	"slices"
	"strings"

	"unpick/domain"
)

// Scope is how much of the works a schedule is for. The zero value is what the register says: everything but what the
// landlord's consent leaves. At most one of Everything and Only is given; a clause goes with either.
type Scope struct {
	Everything bool     // what the landlord has agreed may stay comes out too
	Only       []string // assemblies: these alone come out, everything else stays for now
	Clause     string   // items under this clause alone
}

// StaysForNow is in whose words something stays where only a part comes out.
const StaysForNow = "not part of this schedule"

// Register is the register as the planners have to see it under the scope. Errors: NotFound for an assembly that there
// is none of; Invalid where two scopes are asked for at once.
func (s Scope) Register(r *domain.Register) (*domain.Register, error) {
	switch {
	case s.Everything && len(s.Only) > 0:
		return nil, domain.Errorf(domain.Invalid, "everything and only some assemblies are asked for at once: take one")
	case s.Everything:
		return r.Agreeing(nil), nil
	case len(s.Only) > 0:
		why, err := r.StayingBut(s.Only, StaysForNow)
		if err != nil {
			return nil, err
		}
		return r.Agreeing(why), nil
	}
	return r, nil
}

// Clauses are the clauses that the items come under, in order.
func (s Schedule) Clauses() []string {
	var out []string
	for _, i := range s.Items {
		out = append(out, i.Clause)
	}
	slices.Sort(out)
	return slices.DeleteFunc(slices.Compact(out), func(c string) bool { return c == "" })
}

// Under is the schedule with the items of one clause alone, which keep their numbers; "" is the whole. Errors: NotFound
// where no item comes under it.
func (s Schedule) Under(clause string, f domain.FitOut) (Schedule, error) {
	if clause == "" {
		return s, nil
	}
	out := Schedule{Total: Total{Known: true}, NotInTotal: s.NotInTotal}
	for _, i := range s.Items {
		if i.Clause == clause {
			out.Items = append(out.Items, i)
			out.Total.add(i)
		}
	}
	if len(out.Items) == 0 {
		return out, domain.Errorf(domain.NotFound, "no item comes under clause %q: the clauses are %q", clause, s.Clauses())
	}
	out.Figures = FiguresOf(out.Items, f)
	return out, nil
}

// Words say what the schedule is for, as its cover does.
func (s Scope) Words(r *domain.Register) string {
	words := "full reinstatement"
	stays := r.Consents()
	switch {
	case len(s.Only) > 0:
		words = "partial: " + strings.Join(s.Only, ", ") + " alone"
	case !s.Everything && len(stays) > 0:
		words = "all but what the landlord has agreed may stay: " + strings.Join(slices.Sorted(maps.Keys(stays)), ", ")
	}
	if s.Clause != "" {
		words += "; items under clause " + s.Clause + " alone"
	}
	return words
}
