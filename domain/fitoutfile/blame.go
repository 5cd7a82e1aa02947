package fitoutfile

import (
	"strconv"
	"strings"

	"unpick/domain"
)

// mostPerRecipe is how many faults of one assembly's pieces are told: a wrong size breaks all of them alike.
const mostPerRecipe = 5

// blame moves faults of records that a recipe made to the assembly in the file: the records have no place there.
func blame(faults domain.Errors, before, after *domain.Register) domain.Errors {
	assembly := map[string]int{}
	for i, a := range after.Assemblies {
		assembly[a.Code] = i
	}
	told := map[string]int{}
	var out domain.Errors
	for _, f := range faults {
		code, made := maker(f.Field, before, after)
		if !made {
			out = append(out, f)
			continue
		}
		if told[code]++; told[code] > mostPerRecipe {
			continue
		}
		at := ""
		if i, ok := assembly[code]; ok {
			at = pointer("assemblies", strconv.Itoa(i))
		}
		out = append(out, &domain.Error{Code: f.Code, Field: at, Text: "the recipe of assembly " + code + " makes what breaks a rule: " + f.Text})
	}
	return out
}

// maker is the assembly of the record that a pointer leads to, where the file itself does not have the record.
func maker(at string, before, after *domain.Register) (code string, made bool) {
	parts := strings.Split(at, "/")
	if len(parts) < 3 {
		return "", false
	}
	in := func(had, has int) int {
		if i := place(parts[2], has); i >= had {
			return i
		}
		return -1
	}
	switch parts[1] {
	case "elements":
		if i := in(len(before.Elements), len(after.Elements)); i >= 0 {
			return after.Elements[i].Assembly, true
		}
	case "fixings":
		if i := in(len(before.Fixings), len(after.Fixings)); i >= 0 {
			return after.Fixings[i].Assembly, true
		}
	case "holes":
		if i := in(len(before.Holes), len(after.Holes)); i >= 0 {
			return after.Holes[i].Assembly, true
		}
	case "relations":
		if i := in(len(before.Relations), len(after.Relations)); i >= 0 {
			return after.Relations[i].Assembly, true
		}
	}
	return "", false
}
