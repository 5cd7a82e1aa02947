package freeing

import (
	"slices"
	"strings"

	"unpick/domain"
)

// Named is the thing of a code, whatever it is: a piece, a fixing, an assembly or a host surface, looked for in that
// order, and once more without regard to capitals. An unknown code is refused with the nearest that there are.
func Named(r *domain.Register, code string) (Target, error) {
	code = strings.TrimSpace(code)
	exactly := func(other string) bool { return other == code }
	if t, ok := named(r, exactly); ok {
		return t, nil
	}
	if t, ok := named(r, func(other string) bool { return strings.EqualFold(other, code) }); ok {
		return t, nil
	}
	var codes []string
	for i := range r.Elements {
		codes = append(codes, r.Elements[i].Code)
	}
	hint := ""
	if near := domain.Nearest(code, slices.Values(codes)); near != "" {
		hint = ": did you mean " + near + "?"
	}
	return Target{}, domain.FieldErrorf(domain.NotFound, "/code", "there is no piece, fixing, assembly or surface %s here%s", shown(code), hint)
}

func named(r *domain.Register, is func(code string) bool) (Target, bool) {
	for i := range r.Elements {
		if is(r.Elements[i].Code) {
			return Target{Element: r.Elements[i].Code}, true
		}
	}
	for i := range r.Fixings {
		if is(r.Fixings[i].Code) {
			return Target{Fixing: r.Fixings[i].Code}, true
		}
	}
	for i := range r.Assemblies {
		if is(r.Assemblies[i].Code) {
			return Target{Assembly: r.Assemblies[i].Code}, true
		}
	}
	for i := range r.Hosts {
		if is(r.Hosts[i].Code) {
			return Target{Host: r.Hosts[i].Code}, true
		}
	}
	return Target{}, false
}

// shown is a code as it is said back: the first of it where it is longer than any code.
func shown(code string) string {
	const most = 60
	if runes := []rune(code); len(runes) > most {
		return string(runes[:most]) + "…"
	}
	return code
}
