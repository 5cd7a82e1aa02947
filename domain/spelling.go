package domain

import "strings"

// Spelling is how the register spells a typed code: as one of its codes that differs in case alone, where it has just one such;
// else the code stays as it was typed.
func (r *Register) Spelling() func(typed string) string {
	exact, lower := map[string]bool{}, map[string]string{}
	index := r.Index()
	for _, of := range []map[string]int{index.Hosts, index.Assemblies, index.Elements, index.Fixings, index.Holes, index.Zones} {
		for code := range of {
			exact[code] = true
			small := strings.ToLower(code)
			if other, taken := lower[small]; taken && other != code {
				code = "" // two: nobody can say which is meant
			}
			lower[small] = code
		}
	}
	return func(typed string) string {
		if code := lower[strings.ToLower(typed)]; !exact[typed] && code != "" {
			return code
		}
		return typed
	}
}
