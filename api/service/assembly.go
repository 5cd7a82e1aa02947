package service

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"unpick/domain"
	"unpick/domain/advice"
	"unpick/domain/recipe"
)

// Again is what a person says beforehand to an assembly that is described again.
type Again struct {
	Consent
	Overwrite bool  // take back what was amended by hand since
	Drilled   *bool // were the holes drilled that the new description lacks; nil asks
}

// AmendedAssembly is what amending an assembly did to its records, or would do for a dry run: see Logged.
type AmendedAssembly struct {
	Assembly               domain.Assembly
	Added, Amended, Struck domain.Records
	Advice                 []domain.Advice
	Entry                  int64
}

// AmendAssembly merges a patch into an assembly read at version was. Where the recipe then makes other records, these
// follow in the same change: see recipe.Again. Places in errors are pointers into the assembly.
func (s *Service) AmendAssembly(ctx context.Context, who domain.Actor, fitOut, code string, was int, patch []byte, how Again) (AmendedAssembly, error) {
	at := 0
	var asked error // what the description itself was refused with: its places are right already
	change := func(r *domain.Register) (domain.Change, error) {
		var err error
		if at, err = find(r.Assemblies, "assembly", code, func(a domain.Assembly) string { return a.Code }); err != nil {
			return domain.Change{}, err
		}
		if r.Assemblies[at].Version != was {
			return domain.Change{}, domain.Errorf(domain.Stale, "assembly %s is at version %d, not %d: somebody changed it; read it again and repeat the change", code, r.Assemblies[at].Version, was)
		}
		a, err := merged(r.Assemblies[at], patch)
		if err != nil {
			return domain.Change{}, err
		}
		if err := notStruck("assembly", code, r.Assemblies[at].Struck, a.Struck); err != nil {
			return domain.Change{}, err
		}
		c, err := how.described(r, r.Assemblies[at], a)
		asked = err
		return c, err
	}
	var done domain.Change
	var entry domain.LogEntry
	var err error
	if how.DryRun {
		done, err = s.triedAmending(ctx, fitOut, change)
	} else {
		done, entry, err = s.change(ctx, fitOut, who, change)
	}
	switch {
	case asked != nil:
		return AmendedAssembly{}, asked
	case err != nil:
		return AmendedAssembly{}, inRecord(err, "assemblies", at)
	}
	out := AmendedAssembly{Assembly: done.Put.Assemblies[0], Added: done.Add, Advice: done.Advice, Entry: entry.Number}
	done.Put.Assemblies = nil
	out.Amended, out.Struck = parted(done.Put)
	return out, nil
}

// described is the change from one description of an assembly to another.
func (how Again) described(r *domain.Register, was, now domain.Assembly) (domain.Change, error) {
	c := domain.Change{Kind: domain.Amend, What: "assembly " + now.Code + " amended", Put: domain.Records{Assemblies: []domain.Assembly{now}}}
	if now.Recipe == "" || sameDescription(was, now) {
		return c, nil
	}
	follows, err := recipe.Again(r, recipe.Amendment{Now: now, Overwrite: how.Overwrite, Drilled: how.Drilled != nil && *how.Drilled})
	if err != nil {
		return domain.Change{}, err
	}
	if follows.Lost > 0 && how.Drilled == nil && !how.DryRun && !r.FitOut.NotBuilt { // nothing of a layout is drilled
		return domain.Change{}, domain.FieldErrorf(domain.Invalid, "query drilled", "is missing: %d holes are in the new description no more; say true where they were drilled and stay, false where they never were", follows.Lost)
	}
	c.Add, c.Put = follows.Add, follows.Put
	inForce, _ := parted(c.Put)
	inForce.Append(c.Add)
	inForce.Assemblies = []domain.Assembly{now}
	made := inForce
	rest, _ := r.Without(c.Put)
	c.Advice = append(advice.For(rest, inForce), recipe.Warnings(r, now, made)...)
	reason, err := how.to(c.Advice)
	if err != nil {
		return domain.Change{}, err
	}
	if reason == "" && strings.TrimSpace(how.Reason) != "" {
		reason = ": " + how.Reason
	}
	c.What = fmt.Sprintf("%s %s described again: %d records new, %d struck%s", now.Recipe, now.Code, recordsIn(c.Add), len(follows.Struck), reason)
	return c, nil
}

// sameDescription reports whether an assembly's recipe is bound to make what it made.
func sameDescription(a, b domain.Assembly) bool {
	return bytes.Equal(canonical(a.Params), canonical(b.Params)) && a.Zone == b.Zone && a.Builder == b.Builder && a.Owner == b.Owner && a.Known == b.Known
}

// canonical is JSON with its fields in order; what is no JSON stays as it is.
func canonical(text []byte) []byte {
	value, err := decoded(text)
	if err != nil {
		return text
	}
	out, err := json.Marshal(value)
	if err != nil {
		return text
	}
	return out
}

// triedAmending is change, held against every rule that needs no database.
func (s *Service) triedAmending(ctx context.Context, fitOut string, change func(*domain.Register) (domain.Change, error)) (domain.Change, error) {
	r, err := s.Register(ctx, fitOut)
	if err != nil {
		return domain.Change{}, err
	}
	c, err := change(r)
	if err != nil {
		return domain.Change{}, err
	}
	had := map[string]bool{}
	for _, f := range domain.Check(r) {
		had[f.Text] = true
	}
	rest, _ := r.Without(c.Put)
	after := rest.With(c.Put).With(c.Add)
	faults := append(slices.DeleteFunc(domain.Check(after), func(f *domain.Error) bool { return had[f.Text] }), domain.CheckConsents(r, after)...)
	for _, f := range faults {
		f.Field, f.Code = "", aboutBody(f.Code)
	}
	return c, faults.OrNil()
}

// StrikeAssembly strikes an assembly out with everything in it, in one change. Holes in use stay, abandoned, where they
// were drilled, and are struck with the rest where not; those that somebody saw empty stay as they are. It is refused
// while fixings or relations of others name its pieces.
func (s *Service) StrikeAssembly(ctx context.Context, who domain.Actor, fitOut, code string, was int, reason string, drilled bool) (domain.Assembly, error) {
	done, _, err := s.change(ctx, fitOut, who, func(r *domain.Register) (domain.Change, error) {
		at, err := find(r.Assemblies, "assembly", code, func(a domain.Assembly) string { return a.Code })
		if err != nil {
			return domain.Change{}, err
		}
		a := r.Assemblies[at]
		if a.Struck {
			return domain.Change{}, alreadyStruck("assembly", code)
		}
		if users := usersFromOutside(r, code); len(users) > 0 {
			return domain.Change{}, domain.Errorf(domain.Refused, "pieces of assembly %s are still named by %s: strike those out first", code, strings.Join(users, ", "))
		}
		a.Struck, a.Reason, a.Version = true, reason, was
		put := everythingStruck(r, code, reason, drilled)
		put.Assemblies = []domain.Assembly{a}
		return domain.Change{Kind: domain.Strike, What: "assembly " + code + " struck with everything in it: " + reason, Put: put}, nil
	})
	if err != nil {
		return domain.Assembly{}, inRecord(err, "", 0)
	}
	return done.Put.Assemblies[0], nil
}

// everythingStruck is what belongs to an assembly and is not struck yet, struck out.
func everythingStruck(r *domain.Register, assembly, reason string, drilled bool) domain.Records {
	var put domain.Records
	for _, e := range r.Elements {
		if e.Assembly == assembly && e.State != domain.Struck {
			e.State, e.Reason = domain.Struck, reason
			put.Elements = append(put.Elements, e)
		}
	}
	stays := map[string]bool{} // fixings that leave a hole in being
	for _, h := range r.Holes {
		if h.State == domain.HoleInUse && h.Assembly == assembly {
			h.State, h.Reason = domain.HoleStruck, reason
			if drilled {
				h.State = domain.HoleAbandoned
			}
			put.Holes = append(put.Holes, h)
		}
		stays[h.Fixing] = stays[h.Fixing] || h.State != domain.HoleStruck
	}
	for _, f := range r.Fixings {
		if f.Assembly == assembly && f.State != domain.FixingStruck {
			f.State, f.Reason, f.Drilled = domain.FixingStruck, reason, stays[f.Code]
			put.Fixings = append(put.Fixings, f)
		}
	}
	for _, rel := range r.Relations {
		if rel.Assembly == assembly && !rel.Struck {
			rel.Struck, rel.Reason = true, reason
			put.Relations = append(put.Relations, rel)
		}
	}
	return put
}

// usersFromOutside are the codes of fixings in place and relations in force that name a piece of an assembly, or one of
// its fixings, and belong to another or to none.
func usersFromOutside(r *domain.Register, assembly string) []string {
	in := map[string]bool{}
	for i := range r.Elements {
		in[r.Elements[i].Code] = r.Elements[i].Assembly == assembly && r.Elements[i].State != domain.Struck
	}
	for i := range r.Fixings {
		in[r.Fixings[i].Code] = r.Fixings[i].Assembly == assembly && r.Fixings[i].State != domain.FixingStruck
	}
	var out []string
	for _, f := range r.Fixings {
		through := slices.ContainsFunc(f.Through, func(code string) bool { return in[code] })
		if f.InPlace() && f.Assembly != assembly && (in[f.Holds] || in[f.IntoElement] || through) {
			out = append(out, f.Code)
		}
	}
	for _, rel := range r.Relations {
		if !rel.Struck && rel.Assembly != assembly && (in[rel.From] || in[rel.To]) {
			out = append(out, rel.Code)
		}
	}
	return out
}

// parted parts records that were put into those in force and those struck out.
func parted(put domain.Records) (inForce, struck domain.Records) {
	inForce.Elements, struck.Elements = partedBy(put.Elements, func(e domain.Element) bool { return e.State == domain.Struck })
	inForce.Fixings, struck.Fixings = partedBy(put.Fixings, func(f domain.Fixing) bool { return f.State == domain.FixingStruck })
	inForce.Holes, struck.Holes = partedBy(put.Holes, func(h domain.Hole) bool { return h.State == domain.HoleStruck })
	inForce.Relations, struck.Relations = partedBy(put.Relations, func(rel domain.Relation) bool { return rel.Struck })
	return inForce, struck
}

func partedBy[T any](records []T, isStruck func(T) bool) (inForce, struck []T) {
	for _, t := range records {
		if isStruck(t) {
			struck = append(struck, t)
		} else {
			inForce = append(inForce, t)
		}
	}
	return inForce, struck
}

func recordsIn(r domain.Records) int {
	return len(r.Elements) + len(r.Fixings) + len(r.Holes) + len(r.Relations)
}
