package recipe

import (
	"cmp"
	"encoding/json"

	"unpick/domain"
)

// recipe is one entry of the table of recipes.
type recipe struct {
	name   string
	params func() any // a zero value of its parameters
	expand func(r *domain.Register, a domain.Assembly) (domain.Records, error)
	warn   func(r *domain.Register, a domain.Assembly, made domain.Records) []domain.Advice // nil where it has nothing to warn of
}

// recipes is the table of all recipes, in the order in which they are listed to people.
func recipes() []recipe { return append(wallRecipes(), platformRecipes()...) }

// Expand turns an assembly (its recipe's name and parameters) into every element, fixing, hole and relation, in
// build order behind whatever the register already holds. The same register and assembly always give the same
// records. Unknown fields and values out of range are refused with a pointer that starts at /params; nothing is
// checked against other records but what the recipe itself has to meet.
func Expand(r *domain.Register, a domain.Assembly) (domain.Records, error) {
	for _, known := range recipes() {
		if known.name == a.Recipe {
			made, err := known.expand(r, a)
			return asKnown(made, a.Known), err
		}
	}
	return domain.Records{}, domain.FieldErrorf(domain.Invalid, "/recipe", "there is no recipe %q: use %s", a.Recipe, names())
}

// asKnown is what was made, known as its assembly is where it does not say itself: a wall entered from a survey.
func asKnown(made domain.Records, k domain.Known) domain.Records {
	if k == "" {
		return made
	}
	for i := range made.Elements {
		made.Elements[i].Known = cmp.Or(made.Elements[i].Known, k)
	}
	for i := range made.Fixings {
		made.Fixings[i].Known = cmp.Or(made.Fixings[i].Known, k)
	}
	for i := range made.Holes {
		made.Holes[i].Known = cmp.Or(made.Holes[i].Known, k)
	}
	return made
}

// Warnings is what a recipe itself has to say about what it made: a wall that does not stand alone, a deck that
// nobody can get off. They refuse nothing. An assembly whose recipe has none gets none.
func Warnings(r *domain.Register, a domain.Assembly, made domain.Records) []domain.Advice {
	for _, known := range recipes() {
		if known.name == a.Recipe && known.warn != nil {
			return known.warn(r, a, made)
		}
	}
	return nil
}

// Params gives a zero value of each recipe's parameters by the recipe's name, for schemas.
func Params() map[string]any {
	out := map[string]any{}
	for _, known := range recipes() {
		out[known.name] = known.params()
	}
	return out
}

func names() string {
	text := ""
	for i, known := range recipes() {
		if i > 0 {
			text += ", "
		}
		text += known.name
	}
	return text
}

// newRecipe ties a recipe's name to its parameters and to the function that builds from them.
func newRecipe[P any](name string, build func(b *builder, p P) error) recipe {
	return recipe{
		name:   name,
		params: func() any { return *new(P) },
		expand: func(r *domain.Register, a domain.Assembly) (domain.Records, error) {
			p, err := decode[P](a.Params)
			if err != nil {
				return domain.Records{}, err
			}
			b := newBuilder(r, a)
			if err := build(b, p); err != nil {
				return domain.Records{}, err
			}
			if err := b.faults.OrNil(); err != nil {
				return domain.Records{}, err
			}
			return b.made, nil
		},
	}
}

// warning adds to a recipe what it has to say about what it made; it is only asked about parameters that decode.
func warning[P any](of recipe, warn func(p P, a domain.Assembly, made domain.Records) []domain.Advice) recipe {
	of.warn = func(_ *domain.Register, a domain.Assembly, made domain.Records) []domain.Advice {
		p, err := decode[P](a.Params)
		if err != nil {
			return nil
		}
		return warn(p, a, made)
	}
	return of
}

// decode reads parameters strictly: see checkParams.
func decode[P any](params json.RawMessage) (P, error) {
	var p P
	if len(params) == 0 {
		params = json.RawMessage("{}")
	}
	if err := checkParams(params, p); err != nil {
		return p, err
	}
	if err := json.Unmarshal(params, &p); err != nil {
		return p, domain.FieldErrorf(domain.Invalid, "/params", "the parameters cannot be read: %v", err)
	}
	return p, nil
}
