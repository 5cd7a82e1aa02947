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

// Register is the register as the planners have to see it under the scope, and the whole that it is a part of: of a scope
// that is no part, itself. Errors: NotFound for an assembly that there is none of; Invalid where two scopes are asked for at
// once.
func (s Scope) Register(r *domain.Register) (part, whole *domain.Register, err error) {
	switch {
	case s.Everything && len(s.Only) > 0:
		return nil, nil, domain.Errorf(domain.Invalid, "everything and only some assemblies are asked for at once: take one")
	case s.Everything && len(r.Consents()) > 0:
		all := r.Agreeing(nil)
		return all, all, nil
	case len(s.Only) > 0:
		return r.Part(s.Only)
	}
	return r, r, nil
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
		words += "; items under " + clauseCalled(s.Clause) + " alone"
	}
	return words
}

// clauseCalled names a clause that may be logged as "5.3" or as "clause 5.3".
func clauseCalled(clause string) string {
	if strings.Contains(clause, " ") {
		return clause
	}
	return "clause " + clause
}
