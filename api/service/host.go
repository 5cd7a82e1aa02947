package service

import (
	"bytes"
	"context"
	"fmt"
	"slices"
	"strings"

	"unpick/domain"
	"unpick/domain/advice"
	"unpick/reports/drawing"
)

// AmendHost merges a patch into a host surface read at version was. As in every amendment a field that the patch
// leaves out stays, and places in errors are pointers into the record. Holes that a new place would leave beside the
// surface refuse it; what else the change means is advice, and of severity stop it wants consent.
func (s *Service) AmendHost(ctx context.Context, who domain.Actor, fitOut, code string, was int, patch []byte, consent Consent) (domain.HostSurface, error) {
	at := 0
	done, _, err := s.change(ctx, fitOut, who, func(r *domain.Register) (domain.Change, error) {
		var h domain.HostSurface
		var err error
		if at, h, err = amendedHost(r, code, patch); err != nil {
			return domain.Change{}, err
		}
		h.Version = was
		said := advice.ForHost(r, h)
		reason, err := consent.to(said)
		if err != nil {
			return domain.Change{}, err
		}
		return domain.Change{Kind: domain.Amend, What: "host surface " + code + " amended" + reason, Put: domain.Records{Hosts: []domain.HostSurface{h}}, Advice: said}, nil
	})
	if err != nil {
		return domain.HostSurface{}, inRecord(err, "host_surfaces", at)
	}
	return done.Put.Hosts[0], nil
}

// amendedHost is a host surface in force with a patch laid over it, and its place in the register.
func amendedHost(r *domain.Register, code string, patch []byte) (int, domain.HostSurface, error) {
	codeOf := func(h domain.HostSurface) string { return h.Code }
	if slices.ContainsFunc(r.StruckHosts, func(h domain.HostSurface) bool { return h.Code == code }) {
		return 0, domain.HostSurface{}, notStruck("host surface", code, true, false)
	}
	at, err := find(r.Hosts, "host surface", code, codeOf)
	if err != nil {
		return 0, domain.HostSurface{}, err
	}
	h, err := merged(r.Hosts[at], patch)
	if err != nil {
		return 0, domain.HostSurface{}, err
	}
	return at, h, notStruck("host surface", code, false, h.Struck)
}

// StrikeHost strikes a host surface out: it is not there, or was logged by mistake. It is refused while anything is on it
// that is not struck out itself.
func (s *Service) StrikeHost(ctx context.Context, who domain.Actor, fitOut, code string, was int, reason string) (domain.HostSurface, error) {
	done, _, err := s.change(ctx, fitOut, who, func(r *domain.Register) (domain.Change, error) {
		if slices.ContainsFunc(r.StruckHosts, func(h domain.HostSurface) bool { return h.Code == code }) {
			return domain.Change{}, alreadyStruck("host surface", code)
		}
		at, err := find(r.Hosts, "host surface", code, func(h domain.HostSurface) string { return h.Code })
		if err != nil {
			return domain.Change{}, err
		}
		if on := r.OnHost(code); len(on) > 0 {
			return domain.Change{}, domain.Errorf(domain.Refused, "host surface %s still has %s: strike those out first, or amend the surface where it is only said wrongly", code, shortList(on))
		}
		h := r.Hosts[at]
		h.Struck, h.Reason, h.Version = true, reason, was
		return domain.Change{Kind: domain.Strike, What: "host surface " + code + " struck: " + reason, Put: domain.Records{Hosts: []domain.HostSurface{h}}}, nil
	})
	if err != nil {
		return domain.HostSurface{}, err
	}
	return done.Put.Hosts[0], nil
}

// mostNamed is how many codes one sentence names.
const mostNamed = 12

func shortList(codes []string) string {
	if more := len(codes) - mostNamed; more > 0 {
		return strings.Join(codes[:mostNamed], ", ") + fmt.Sprintf(" and %d more", more)
	}
	return strings.Join(codes, ", ")
}

// HostPreview is what a host surface would be, before anything is stored: what there is to say about it, and how it would
// look among what is there, on plan and from a corner. Drawings are parts of an HTML page.
type HostPreview struct {
	Host            domain.HostSurface
	Advice          []domain.Advice
	Plan, Isometric []byte
}

// PreviewHost tries a new host surface out. Places in errors are as those of LogRecords.
func (s *Service) PreviewHost(ctx context.Context, fitOut string, h domain.HostSurface) (HostPreview, error) {
	r, err := s.Register(ctx, fitOut)
	if err != nil {
		return HostPreview{}, err
	}
	add := domain.Records{Hosts: []domain.HostSurface{h}}
	if faults := newFaults(r, add); len(faults) > 0 {
		return HostPreview{}, faults
	}
	return drawnHost(r.With(add), h, advice.For(r, add))
}

// PreviewAmendedHost tries a patch of a host surface out. Places in errors are pointers into the record.
func (s *Service) PreviewAmendedHost(ctx context.Context, fitOut, code string, patch []byte) (HostPreview, error) {
	r, err := s.Register(ctx, fitOut)
	if err != nil {
		return HostPreview{}, err
	}
	at, h, err := amendedHost(r, code, patch)
	if err != nil {
		return HostPreview{}, err
	}
	now := *r
	now.Hosts = slices.Clone(r.Hosts)
	now.Hosts[at] = h
	if faults := domain.Check(&now).Beyond(domain.Check(r)); len(faults) > 0 {
		return HostPreview{}, inRecord(faults, "host_surfaces", at)
	}
	return drawnHost(&now, h, advice.ForHost(r, h))
}

func drawnHost(r *domain.Register, h domain.HostSurface, said []domain.Advice) (HostPreview, error) {
	p := HostPreview{Host: h, Advice: said}
	state := drawing.State{Highlight: map[string]drawing.Emphasis{h.Code: drawing.Added}}
	var plan, corner bytes.Buffer
	if err := drawing.Plan(&plan, r, drawing.Options{Inline: true, Bare: true, ID: "top", WidthPx: phonePx, State: state}); err != nil {
		return p, err
	}
	if err := drawing.Isometric(&corner, r, drawing.Options{Inline: true, Bare: true, ID: "corner", WidthPx: phonePx, State: state}); err != nil {
		return p, err
	}
	p.Plan, p.Isometric = plan.Bytes(), corner.Bytes()
	return p, nil
}
