package service

import (
	"bytes"
	"context"
	"slices"
	"sync"

	"unpick/domain"
	"unpick/domain/freeing"
	"unpick/reports/drawing"
)

// ground is a register made ready for freeing one thing, one question at a time, with the last answers. The zero value
// works.
type ground struct {
	mu      sync.Mutex
	ground  *freeing.Ground
	answers []answered // the newest last
}

type answered struct {
	target freeing.Target
	answer freeing.Answer
}

// mostAnswers is how many answers are kept: a page and its drawing ask for the same one again and again.
const mostAnswers = 8

// Free says the least that must come out to free one thing of a stored fit-out, and what is put back after. It is what
// the log said when the answer's head was its newest entry.
func (s *Service) Free(ctx context.Context, fitOut string, target freeing.Target) (answer freeing.Answer, head string, err error) {
	p, err := s.plan(ctx, fitOut)
	if err != nil {
		return freeing.Answer{}, "", err
	}
	answer, err = p.ground.free(p.register, target)
	return answer, p.head, err
}

func (g *ground) free(r *domain.Register, target freeing.Target) (freeing.Answer, error) {
	g.mu.Lock()
	defer g.mu.Unlock()
	if i := slices.IndexFunc(g.answers, func(a answered) bool { return a.target.Same(target) }); i >= 0 {
		return g.answers[i].answer, nil
	}
	if g.ground == nil {
		made, err := freeing.New(r)
		if err != nil {
			return freeing.Answer{}, err
		}
		g.ground = made
	}
	answer, err := g.ground.Free(target, freeing.UsualWork)
	if err != nil {
		return freeing.Answer{}, err
	}
	if len(g.answers) == mostAnswers {
		g.answers = slices.Delete(g.answers, 0, 1)
	}
	g.answers = append(g.answers, answered{target, answer})
	return answer, nil
}

// FreeNamed is Free for whatever has a code: a piece, a fixing, an assembly or a host surface.
func (s *Service) FreeNamed(ctx context.Context, fitOut, code string) (freeing.Answer, freeing.Target, error) {
	p, err := s.plan(ctx, fitOut)
	if err != nil {
		return freeing.Answer{}, freeing.Target{}, err
	}
	target, err := freeing.Named(p.register, code)
	if err != nil {
		return freeing.Answer{}, target, err
	}
	answer, err := p.ground.free(p.register, target)
	return answer, target, err
}

// Freeable is what can be freed by choosing from a list: pieces that come out, assemblies with one in place, and host
// surfaces.
type Freeable struct {
	Pieces     []string
	Assemblies []domain.Assembly
	Hosts      []domain.HostSurface
}

// Freeable lists what can be chosen, in the order of the register.
func (s *Service) Freeable(ctx context.Context, fitOut string) (Freeable, error) {
	p, err := s.plan(ctx, fitOut)
	if err != nil {
		return Freeable{}, err
	}
	out := Freeable{Hosts: p.register.Hosts}
	there := map[string]bool{}
	for i := range p.register.Elements {
		if e := &p.register.Elements[i]; e.ComesOut() {
			there[e.Assembly] = true
			out.Pieces = append(out.Pieces, e.Code)
		}
	}
	for _, a := range p.register.Assemblies {
		if there[a.Code] {
			out.Assemblies = append(out.Assemblies, a)
		}
	}
	return out, nil
}

// SeeFreed draws a fit-out with what is freed, what comes out for it, and what goes back standing out. Where the look
// names no view it is the elevation of the assembly that most of it is of, else the isometric one.
func (s *Service) SeeFreed(ctx context.Context, fitOut string, a freeing.Answer, look Look) (Sight, error) {
	p, err := s.plan(ctx, fitOut)
	if err != nil {
		return Sight{}, err
	}
	sight := Sight{Views: drawing.Views(p.register)}
	sight.View, err = sight.view(p.register, a, look)
	if err != nil {
		return sight, err
	}
	state := drawing.State{Highlight: map[string]drawing.Emphasis{}, Held: map[string]bool{}, Dim: true}
	for _, code := range a.Out {
		state.Highlight[code] = drawing.PutBack
	}
	for _, code := range a.StaysOut {
		state.Highlight[code] = drawing.Out
	}
	if look.Falls {
		for _, code := range slices.Concat(a.Falls, a.OnOneEnd, a.Topples) {
			state.Highlight[code] = drawing.Falls
		}
	}
	for _, code := range append(slices.Clone(a.Wanted), look.Pick) {
		state.Highlight[code] = drawing.Chosen
	}
	for _, code := range a.Propped {
		state.Held[code] = true
	}
	delete(state.Highlight, "")
	var out bytes.Buffer
	err = drawing.Draw(&out, p.register, sight.View, drawing.Options{State: state, Inline: true, Bare: true, WidthPx: look.WidthPx, Link: look.Link})
	sight.Drawing = out.Bytes()
	return sight, err
}

// view is the view that a look names, or the one that shows most of what comes out.
func (s *Sight) view(r *domain.Register, a freeing.Answer, look Look) (drawing.View, error) {
	kind, assembly := look.Kind, look.Assembly
	if kind == "" {
		kind, assembly = "isometric", ""
		if of := mostOf(r, a); slices.ContainsFunc(s.Views, func(v drawing.View) bool { return v.Kind == "elevation" && v.Assembly == of }) {
			kind, assembly = "elevation", of
		}
	}
	at := slices.IndexFunc(s.Views, func(v drawing.View) bool { return string(v.Kind) == kind && v.Assembly == assembly })
	if at < 0 {
		return drawing.View{}, domain.Errorf(domain.NotFound, "there is no such drawing: choose one of the list")
	}
	return s.Views[at], nil
}

// mostOf is the assembly that most of what comes out is of, the first in the order of coming out among equals.
func mostOf(r *domain.Register, a freeing.Answer) string {
	assemblyOf := make(map[string]string, len(r.Elements))
	for i := range r.Elements {
		assemblyOf[r.Elements[i].Code] = r.Elements[i].Assembly
	}
	counts, best := map[string]int{}, ""
	for _, code := range a.Out {
		of := assemblyOf[code]
		if counts[of]++; counts[of] > counts[best] || best == "" {
			best = of
		}
	}
	return best
}
