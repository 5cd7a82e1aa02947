package fitoutfile

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"unpick/domain"
)

// Expander turns an assembly's recipe and parameters into records behind those of the register so far. Its
// faults point into the assembly: "/params/height_mm". Package recipe's Expand is one.
type Expander func(r *domain.Register, a domain.Assembly) (domain.Records, error)

// expandAll expands, in the order of the file, every assembly that has a recipe and that no record of the file
// names. One that records name was expanded when the file was written: expanding it again would build it twice.
// Faults of one assembly do not stop the next, so that a person sees all of them; but not
// what only follows from another's.
func expandAll(before *domain.Register, expand Expander) (*domain.Register, error) {
	named := namedAssemblies(before)
	failed := map[string]bool{}
	r := before
	var faults domain.Errors
	for i, a := range before.Assemblies {
		if a.Recipe == "" || named[a.Code] {
			continue
		}
		if expand == nil {
			faults.Addf(domain.Invalid, fmt.Sprintf("/assemblies/%d/recipe", i),
				"assembly %s is given as a recipe, and recipes are not expanded here: give its elements and fixings", a.Code)
			continue
		}
		made, err := expand(r, a)
		if err != nil {
			err, failed[a.Code] = withoutFollowers(err, failed), true
			if err := addUnder(&faults, fmt.Sprintf("/assemblies/%d", i), err); err != nil {
				return nil, fmt.Errorf("expanding assembly %s: %w", a.Code, err)
			}
			continue
		}
		r = behind(r, made)
	}
	return r, faults.OrNil()
}

// withoutFollowers drops the faults that name an assembly which could not be built: what they lack follows from that,
// and is told once it is mended, if it is still so. A follower with nothing else wrong gives no faults.
func withoutFollowers(err error, failed map[string]bool) error {
	all, ok := errors.AsType[domain.Errors](err)
	if one, single := errors.AsType[*domain.Error](err); !ok && single {
		all, ok = domain.Errors{one}, true
	}
	if !ok || len(failed) == 0 {
		return err
	}
	own := domain.Errors{}
	for _, e := range all {
		words := strings.FieldsFunc(e.Text, func(c rune) bool { return c == ' ' || c == ',' || c == ':' || c == ';' || c == '"' })
		if !slices.ContainsFunc(words, func(w string) bool { return ofFailed(strings.TrimSuffix(w, "."), failed) }) {
			own = append(own, e)
		}
	}
	return own
}

// ofFailed reports whether a code is that of an assembly that could not be built, or of a piece that it would have made: W3-B1a.
func ofFailed(code string, failed map[string]bool) bool {
	if failed[code] {
		return true
	}
	for i, c := range code {
		if c == '-' && failed[code[:i]] {
			return true
		}
	}
	return false
}

// behind is a register with more records behind its own. Unlike With it may share the older one's memory beyond
// its end, so that a file of a thousand recipes is not copied a thousand times; the older one stays as it is,
// and is not added to again.
func behind(r *domain.Register, made domain.Records) *domain.Register {
	out := *r
	out.Zones = append(out.Zones, made.Zones...)
	out.Hosts = append(out.Hosts, made.Hosts...)
	out.Assemblies = append(out.Assemblies, made.Assemblies...)
	out.Elements = append(out.Elements, made.Elements...)
	out.Fixings = append(out.Fixings, made.Fixings...)
	out.Holes = append(out.Holes, made.Holes...)
	out.Relations = append(out.Relations, made.Relations...)
	out.Prices = append(out.Prices, made.Prices...)
	return &out
}

// namedAssemblies are the codes of assemblies that an element, fixing, hole or relation of the file belongs to.
func namedAssemblies(r *domain.Register) map[string]bool {
	named := make(map[string]bool, len(r.Assemblies))
	for _, e := range r.Elements {
		named[e.Assembly] = true
	}
	for _, f := range r.Fixings {
		named[f.Assembly] = true
	}
	for _, h := range r.Holes {
		named[h.Assembly] = true
	}
	for _, rel := range r.Relations {
		named[rel.Assembly] = true
	}
	return named
}

// addUnder adds what a person may be told in err to faults, its places moved under a pointer. An error that is
// only for the log comes back as it is.
func addUnder(faults *domain.Errors, under string, err error) error {
	if all, ok := errors.AsType[domain.Errors](err); ok {
		for _, e := range all {
			*faults = append(*faults, &domain.Error{Code: e.Code, Field: under + e.Field, Text: e.Text})
		}
		return nil
	}
	if e, ok := errors.AsType[*domain.Error](err); ok {
		*faults = append(*faults, &domain.Error{Code: e.Code, Field: under + e.Field, Text: e.Text})
		return nil
	}
	return err
}
