package service

import (
	"context"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"unpick/domain"
	"unpick/domain/advice"
)

const (
	mostEarlier  = 20  // pieces of advice for which the log is asked
	entriesAbout = 200 // of one record's entries, the first of which is the one that logged it
	unnamed      = "local"
)

// withEarlier says, in advice on what may have been logged twice, who logged the earlier one and when: sent twice by hand is
// the usual reason, and whoever sees their own name and a time of today knows it. r is the register before what is added.
func (s *Service) withEarlier(ctx context.Context, fitOut string, r *domain.Register, said []domain.Advice) ([]domain.Advice, error) {
	index := r.Index()
	out := make([]domain.Advice, len(said))
	asked := 0
	for i, a := range said {
		out[i] = a
		code := earlierIn(index, a)
		if code == "" || asked == mostEarlier {
			continue
		}
		asked++
		words, err := s.firstLogged(ctx, fitOut, code)
		if err != nil {
			return nil, err
		}
		switch {
		case words == "":
		case strings.HasSuffix(a.Text, "?"):
			out[i].Text += " " + words
		default:
			out[i].Text += ". " + words
		}
	}
	return out, nil
}

// firstLogged says who logged a record and when; "" where it was imported whole.
func (s *Service) firstLogged(ctx context.Context, fitOut, code string) (string, error) {
	entries, err := s.LoggedAbout(ctx, fitOut, code, entriesAbout)
	if err != nil {
		return "", err
	}
	for _, e := range slices.Backward(entries) {
		if e.Kind == domain.Append {
			return loggedWords(code, e), nil
		}
	}
	return "", nil
}

// holePlace is the place of a fault about where an added hole is.
var holePlace = regexp.MustCompile(`^/holes/(\d+)/run$`)

// faultsNamed says the same in faults on added holes that stand exactly where one is: the register counts a hole once, so they
// are refused before any advice is given.
func (s *Service) faultsNamed(ctx context.Context, fitOut string, r *domain.Register, add domain.Records, err error) error {
	faults, ok := errors.AsType[domain.Errors](err)
	if !ok || r == nil {
		return err
	}
	out := make(domain.Errors, len(faults))
	for i, f := range faults {
		named := *f
		out[i] = &named
		m := holePlace.FindStringSubmatch(f.Field)
		if m == nil || i >= mostEarlier {
			continue
		}
		at, _ := strconv.Atoi(m[1]) // digits
		if at >= len(add.Holes) {
			continue
		}
		for _, a := range advice.For(r, domain.Records{Holes: add.Holes[at : at+1]}) {
			code := earlierIn(r.Index(), a)
			if a.Kind != advice.NearHole || code == "" {
				continue
			}
			words, unread := s.firstLogged(ctx, fitOut, code)
			if unread != nil {
				return unread
			}
			if words != "" {
				named.Text += ". Was it logged twice? " + words
			}
			break
		}
	}
	return out
}

// earlierIn is the code, in advice on two things in one place, of the one that was there before; "" where both are new.
func earlierIn(index *domain.Index, a domain.Advice) string {
	if a.Kind != advice.NearHole && a.Kind != advice.Clash {
		return ""
	}
	for i := len(a.Codes) - 1; i >= 0; i-- {
		for _, of := range []map[string]int{index.Fixings, index.Elements, index.Holes, index.Assemblies} {
			if _, ok := of[a.Codes[i]]; ok {
				return a.Codes[i]
			}
		}
	}
	return ""
}

func loggedWords(code string, e domain.LogEntry) string {
	by := ""
	if e.Who != unnamed {
		by = " by " + e.Who
	}
	on := e.ServerTime
	if t, err := time.Parse(domain.LogTime, e.ServerTime); err == nil {
		on = t.Format("2 Jan 2006, 15:04") + " UTC"
	}
	return fmt.Sprintf("%s was logged%s on %s, entry %d of the log", code, by, on, e.Number)
}
