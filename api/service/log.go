package service

import (
	"context"
	"fmt"

	"unpick/domain"
	"unpick/domain/recipe"
)

// LogAssembly expands a recipe and logs everything that it makes, with the assembly itself. Places in errors are
// pointers into the assembly ("/params/height_mm") or, where what was made breaks a rule, into the records.
func (s *Service) LogAssembly(ctx context.Context, who domain.Actor, fitOut string, a domain.Assembly, consent Consent) (Logged, error) {
	return s.add(ctx, fitOut, who, consent, expanded(a))
}

// expanded is everything that an assembly's recipe makes, with the assembly itself.
func expanded(a domain.Assembly) func(*domain.Register) (addition, error) {
	return func(r *domain.Register) (addition, error) {
		made, err := recipe.Expand(r, a)
		if err != nil {
			return addition{}, err
		}
		said := recipe.Warnings(r, a, made)
		made.Assemblies = append([]domain.Assembly{a}, made.Assemblies...)
		return addition{fmt.Sprintf("%s %s: %s", a.Recipe, a.Code, counted(made)), made, said}, nil
	}
}

// LogRecords logs loose records, all of them or none. Relations are marked as logged by a person, and a fixing into the
// landlord's fabric that came without its holes gets those of its type.
func (s *Service) LogRecords(ctx context.Context, who domain.Actor, fitOut string, add domain.Records, consent Consent) (Logged, error) {
	for i := range add.Relations {
		add.Relations[i].Origin = domain.FromLog
	}
	return s.add(ctx, fitOut, who, consent, func(r *domain.Register) (addition, error) {
		add := withHoles(r, add)
		return addition{what: counted(add) + " logged", add: add}, nil
	})
}

// counted says what there is of records: "33 elements, 58 sets of fixings". One record alone is named by its code.
func counted(r domain.Records) string {
	c := domain.CountsOf(r)
	text := ""
	for _, n := range []struct {
		count     int
		one, many string
		code      func() string
	}{
		{c.Zones, "zone", "zones", func() string { return r.Zones[0].Code }},
		{c.Hosts, "host surface", "host surfaces", func() string { return r.Hosts[0].Code }},
		{c.Elements, "element", "elements", func() string { return r.Elements[0].Code }},
		{c.Fixings, "set of fixings", "sets of fixings", func() string { return r.Fixings[0].Code }},
		{c.Holes, "set of holes", "sets of holes", func() string { return r.Holes[0].Code }},
		{c.Relations, "relation", "relations", func() string { return r.Relations[0].Code }},
		{c.Prices, "price", "prices", func() string { return r.Prices[0].Key }},
		{c.SignOffs, "sign-off", "sign-offs", func() string { return r.SignOffs[0].Code }},
	} {
		if n.count == 0 {
			continue
		}
		if text != "" {
			text += ", "
		}
		if n.count == 1 {
			text += n.one + " " + n.code()
		} else {
			text += fmt.Sprintf("%d %s", n.count, n.many)
		}
	}
	return text
}
