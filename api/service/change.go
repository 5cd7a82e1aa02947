package service

import (
	"context"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"unpick/domain"
	"unpick/domain/advice"
)

// Consent is what a person says beforehand to the advice that logging may give. Advice of severity stop refuses the
// change unless Accept is set and Reason says why. DryRun stores nothing and refuses nothing: it asks for the advice.
type Consent struct {
	Accept bool
	Reason string
	DryRun bool
}

// Logged is what a change added, with the advice on it and the number of its entry in the log, 0 for a dry run.
type Logged struct {
	Records domain.Records
	Advice  []domain.Advice
	Entry   int64
}

// addition is what is to be logged, made from the register as it stands.
type addition struct {
	what   string // the log's sentence
	add    domain.Records
	advice []domain.Advice // more than advice.For says
}

// add logs new records: the door that every kind of logging goes through. Places in errors are pointers into the
// records: "/elements/0/material".
func (s *Service) add(ctx context.Context, fitOut string, who domain.Actor, consent Consent, from func(*domain.Register) (addition, error)) (Logged, error) {
	var joined *domain.Register
	var added domain.Records
	var said []domain.Advice
	change := func(r *domain.Register) (domain.Change, error) {
		a, err := from(r)
		if err != nil {
			return domain.Change{}, err
		}
		joined, added = r, a.add
		said = append(advice.For(r, a.add), a.advice...)
		said = append(said, roundAdvice(r, a.add)...)
		reason, err := consent.to(said)
		if err != nil {
			return domain.Change{}, err
		}
		return domain.Change{Kind: domain.Append, What: a.what + reason, Add: a.add, Advice: said}, nil
	}
	if consent.DryRun {
		return s.tried(ctx, fitOut, change)
	}
	done, entry, err := s.change(ctx, fitOut, who, change)
	if domain.CodeOf(err) == domain.Refused && len(said) > 0 {
		named, unread := s.withEarlier(ctx, fitOut, joined, said)
		if unread != nil {
			return Logged{}, unread
		}
		if _, stopped := consent.to(named); stopped != nil {
			err = stopped
		}
	}
	if err != nil {
		return Logged{}, s.faultsNamed(ctx, fitOut, joined, added, inRecords(err, joined, added))
	}
	if named, unread := s.withEarlier(ctx, fitOut, joined, done.Advice); unread == nil {
		done.Advice = named // it is logged by now: who logged the earlier one is not worth an error
	}
	return Logged{done.Add, done.Advice, entry.Number}, nil
}

// tried is what a change would add, held against every rule that needs no database, and against the dates of the lease.
func (s *Service) tried(ctx context.Context, fitOut string, change func(*domain.Register) (domain.Change, error)) (Logged, error) {
	r, err := s.Register(ctx, fitOut)
	if err != nil {
		return Logged{}, err
	}
	c, err := change(r)
	if err != nil {
		return Logged{}, err
	}
	if faults := newFaults(r, c.Add); len(faults) > 0 {
		return Logged{}, s.faultsNamed(ctx, fitOut, r, c.Add, faults)
	}
	late, err := s.late(ctx, fitOut, r.With(c.Add))
	if err != nil {
		return Logged{}, err
	}
	said, err := s.withEarlier(ctx, fitOut, r, append(c.Advice, late...))
	return Logged{Records: c.Add, Advice: said}, err
}

// change finds the fit-out and changes it through the one door.
func (s *Service) change(ctx context.Context, fitOut string, who domain.Actor, f func(*domain.Register) (domain.Change, error)) (domain.Change, domain.LogEntry, error) {
	found, err := s.FitOut(ctx, fitOut)
	if err != nil {
		return domain.Change{}, domain.LogEntry{}, err
	}
	return s.db.Change(ctx, s.firm, found.ID, who, f)
}

// Advised is the refusal of a change that is advised against: the same faults as any refusal, and the advice in full.
type Advised struct {
	Said   []domain.Advice
	Faults domain.Errors
}

func (a *Advised) Error() string { return a.Faults.Error() }

// Unwrap lets the faults be read as those of any refusal.
func (a *Advised) Unwrap() error { return a.Faults }

// to refuses advice of severity stop that nobody accepted, and words for the log why it was not followed.
func (c Consent) to(said []domain.Advice) (string, error) {
	var stops domain.Errors
	for _, a := range said {
		if a.Severity == domain.Stop {
			stops.Addf(domain.Refused, "", "%s: %s", a.Text, a.Mend)
		}
	}
	switch {
	case len(stops) == 0 || c.DryRun:
		return "", nil
	case !c.Accept:
		stops.Addf(domain.Refused, "/accept_advice", "do as advised, or say that it is so all the same, and why")
		return "", &Advised{said, stops}
	case strings.TrimSpace(c.Reason) == "":
		return "", domain.FieldErrorf(domain.Invalid, "/reason", "say why the advice is not followed: the log keeps it")
	}
	return "; advice not followed: " + c.Reason, nil
}

// inRecords moves the places of broken rules from the whole register into the records that were to be added.
func inRecords(err error, r *domain.Register, add domain.Records) error {
	told, ok := errors.AsType[domain.Errors](err)
	if !ok || r == nil {
		return err
	}
	if faults := newFaults(r, add); len(faults) > 0 {
		return faults
	}
	var out domain.Errors
	for _, f := range told { // what only the database knows
		if field := addedAt(r, f.Field); field != "" {
			out.Addf(f.Code, field, "%s", f.Text)
		}
	}
	if len(out) < len(told) {
		return err
	}
	return out
}

// addedAt moves a place in the whole register into the records that were to be added; "" where it is in none of them.
func addedAt(r *domain.Register, field string) string {
	old := map[string]int{"zones": len(r.Zones), "host_surfaces": len(r.Hosts), "assemblies": len(r.Assemblies), "elements": len(r.Elements),
		"fixings": len(r.Fixings), "holes": len(r.Holes), "relations": len(r.Relations), "prices": len(r.Prices), "sign_offs": len(r.SignOffs)}
	if section, at, rest, ok := place(field); ok && at >= old[section] {
		return fmt.Sprintf("/%s/%d%s", recordsName(section), at-old[section], rest)
	}
	return ""
}

// newFaults are the rules that r breaks once records are added and did not break before.
func newFaults(r *domain.Register, add domain.Records) domain.Errors {
	faults := domain.Check(r.With(add))
	if len(faults) == 0 {
		return nil
	}
	had := map[string]bool{}
	for _, f := range domain.Check(r) {
		had[f.Text] = true
	}
	var out domain.Errors
	for _, f := range faults {
		if had[f.Text] {
			continue
		}
		out.Addf(aboutBody(f.Code), addedAt(r, f.Field), "%s", f.Text)
	}
	return out
}

// recordsName is what domain.Records calls a section of the register.
func recordsName(section string) string {
	if section == "host_surfaces" {
		return "hosts"
	}
	return section
}

// aboutBody keeps a code that a record names and the fit-out lacks apart from a record that was asked for and is not
// there.
func aboutBody(code domain.Code) domain.Code {
	if code == domain.NotFound {
		return domain.Invalid
	}
	return code
}

// place takes a pointer into a register apart: "/elements/12/material" is elements, 12, "/material".
func place(pointer string) (section string, at int, rest string, ok bool) {
	parts := strings.SplitN(pointer, "/", 4)
	if len(parts) < 3 || parts[0] != "" {
		return "", 0, "", false
	}
	at, err := strconv.Atoi(parts[2])
	if len(parts) == 4 {
		rest = "/" + parts[3]
	}
	return parts[1], at, rest, err == nil
}
