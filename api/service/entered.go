package service

import (
	"context"
	"fmt"
	"math"
	"slices"
	"time"

	"unpick/domain"
	"unpick/domain/issue"
)

// Recorded is the whole register of a stored fit-out with when each condition record was entered.
func (s *Service) Recorded(ctx context.Context, fitOut string) (*domain.Register, error) {
	f, err := s.FitOut(ctx, fitOut)
	if err != nil {
		return nil, err
	}
	r, err := s.db.Register(ctx, s.firm, f.ID)
	if err != nil {
		return nil, err
	}
	return s.withEntered(ctx, f.ID, r)
}

// withEntered is a register with when each condition record was entered, as its log has it.
func (s *Service) withEntered(ctx context.Context, id domain.FitOutID, r *domain.Register) (*domain.Register, error) {
	var hosts []string
	for i := range r.Hosts {
		if len(r.Hosts[i].Conditions) > 0 {
			hosts = append(hosts, r.Hosts[i].Code)
		}
	}
	if len(hosts) == 0 {
		return r, nil
	}
	first, err := s.db.Log(ctx, s.firm, id, 0, 1)
	if err != nil || len(first) == 0 {
		return r, err
	}
	logged, err := s.db.ConditionsLogged(ctx, s.firm, id, hosts)
	if err != nil {
		return nil, err
	}
	issues, err := s.db.Issues(ctx, s.firm, id)
	if err != nil {
		return nil, err
	}
	drilled, err := s.drilledIn(ctx, id, r, hosts)
	if err != nil {
		return nil, err
	}
	out := *r
	out.Entered = map[string][]domain.Entered{}
	file := domain.Entered{Entry: 1, On: first[0].ServerTime[:len(time.DateOnly)], WithFile: true}
	for _, l := range logged {
		hole, any := drilled[l.Host]
		e := domain.Entered{Entry: l.Entry, On: l.On.UTC().Format(time.DateOnly), AfterHoles: any && hole < l.Entry, AfterIssue: goneOut(issues, l.Entry)}
		if l.Before {
			e = file
		}
		for len(out.Entered[l.Host]) < l.Conditions {
			out.Entered[l.Host] = append(out.Entered[l.Host], e)
		}
	}
	for i := range r.Hosts { // what no entry names is as it came in
		for h := &r.Hosts[i]; len(out.Entered[h.Code]) < len(h.Conditions); {
			out.Entered[h.Code] = append(out.Entered[h.Code], file)
		}
	}
	return &out, nil
}

// ShownLate says what a record of the start of a surface would be marked with if it were entered now; "" for nothing. r is
// Recorded.
func (s *Service) ShownLate(ctx context.Context, r *domain.Register, host string) (string, error) {
	f, err := s.FitOut(ctx, r.FitOut.Code)
	if err != nil {
		return "", err
	}
	drilled, err := s.drilledIn(ctx, f.ID, r, []string{host})
	if err != nil {
		return "", err
	}
	issues, err := s.db.Issues(ctx, s.firm, f.ID)
	if err != nil {
		return "", err
	}
	_, any := drilled[host]
	today := s.now().UTC().Format(time.DateOnly)
	e := domain.Entered{On: today, AfterHoles: any, AfterIssue: goneOut(issues, math.MaxInt64)}
	if !e.Flagged() {
		return "", nil
	}
	return "A record of the start that is entered now is marked here and in the documents, whatever day it gives: " + e.Words(today, true) + ". It excuses holes all the same, so show what it rests on: an old photo, a report, who was there.", nil
}

// drilledIn is, by surface, the log entry that has the first hole of the tenant's in it: the first of all where it came in with
// the file that the log begins with.
func (s *Service) drilledIn(ctx context.Context, id domain.FitOutID, r *domain.Register, hosts []string) (map[string]int64, error) {
	var codes []string
	for i := range r.Holes {
		if h := &r.Holes[i]; h.Ours() && slices.Contains(hosts, h.Host) {
			codes = append(codes, h.Code)
		}
	}
	out := map[string]int64{}
	if len(codes) == 0 {
		return out, nil
	}
	added, err := s.db.HolesLogged(ctx, s.firm, id, codes)
	if err != nil {
		return nil, err
	}
	entry := map[string]int64{}
	for _, l := range slices.Backward(added) { // the first that has it
		entry[l.Code] = l.Entry
	}
	for i := range r.Holes {
		h := &r.Holes[i]
		if !h.Ours() || !slices.Contains(hosts, h.Host) {
			continue
		}
		at := max(entry[h.Code], 1)
		if had, ok := out[h.Host]; !ok || at < had {
			out[h.Host] = at
		}
	}
	return out, nil
}

// goneOut names the newest issue that had gone out before an entry of the log, of those that say what is made good: the
// schedule's, else the making-good list's. "" for none.
func goneOut(issues []issue.Issue, entry int64) string {
	newest := map[string]int{}
	for _, i := range issues {
		if i.Entry < entry {
			newest[i.Document] = max(newest[i.Document], i.Number)
		}
	}
	switch {
	case newest[issue.Reinstatement] > 0:
		return fmt.Sprintf("issue %d", newest[issue.Reinstatement])
	case newest[issue.MakingGood] > 0:
		return fmt.Sprintf("issue %d of the making-good list", newest[issue.MakingGood])
	}
	return ""
}
