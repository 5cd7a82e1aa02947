package resize

import (
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"

	"unpick/domain"
	"unpick/domain/recipe"
)

// At is the register with this size another. An error with a code says why a builder would not have it so: the recipe
// refuses it, it runs into something, or out of the building.
func (s *Size) At(mm int) (*domain.Register, error) {
	if mm <= 0 || s.MostMm > 0 && mm > s.MostMm {
		return nil, domain.Errorf(domain.Refused, "%d mm: only smaller sizes are tried", mm)
	}
	described, err := s.describe(mm)
	if err != nil {
		return nil, err
	}
	r, err := recipe.Redone(s.layout.Register, described)
	if err != nil {
		if domain.CodeOf(err) == "" {
			return nil, err
		}
		return nil, domain.Errorf(domain.Refused, "%s", words(err))
	}
	if faults := domain.Check(r); len(faults) > 0 {
		return nil, domain.Errorf(domain.Refused, "%s", faults[0].Text)
	}
	if why := s.layout.clash(r, s.redo); why != "" {
		return nil, domain.Errorf(domain.Refused, "%s", why)
	}
	return r, nil
}

// with adds an assembly described anew.
func (l *layout) with(to []domain.Assembly, code string, params any) ([]domain.Assembly, error) {
	a := l.Assemblies[l.index.Assemblies[code]]
	text, err := json.Marshal(params)
	if err != nil {
		return nil, fmt.Errorf("writing the description of %s: %w", code, err)
	}
	a.Params = text
	return append(to, a), nil
}

// rest adds those that are made anew as they were described.
func (l *layout) rest(to []domain.Assembly, redo []string) []domain.Assembly {
	for _, code := range redo {
		if !slices.ContainsFunc(to, func(a domain.Assembly) bool { return a.Code == code }) {
			to = append(to, l.Assemblies[l.index.Assemblies[code]])
		}
	}
	return to
}

// hasParam reports whether an assembly's description has any of these parameters.
func (l *layout) hasParam(code string, names ...string) bool {
	var params map[string]json.RawMessage
	if json.Unmarshal(l.Assemblies[l.index.Assemblies[code]].Params, &params) != nil {
		return true
	}
	return slices.ContainsFunc(names, func(name string) bool { _, ok := params[name]; return ok })
}

// words are those of the first fault.
func words(err error) string {
	if all, ok := errors.AsType[domain.Errors](err); ok && len(all) > 0 {
		return all[0].Text
	}
	if one, ok := errors.AsType[*domain.Error](err); ok {
		return one.Text
	}
	return strings.TrimSpace(err.Error())
}
