package service

import (
	"bytes"
	"context"
	"slices"

	"unpick/domain"
	"unpick/domain/plan"
	"unpick/domain/replay"
	"unpick/domain/strip"
	"unpick/reports/drawing"
)

// Look is how somebody looks at a fit-out: which view, after how many steps of the strip-out, with what standing out.
type Look struct {
	Kind     string // plan, isometric, elevation, setting-out
	Assembly string
	Step     int    // 0 is before the first
	Pick     string // a piece or fixing that was pointed at; "" for none
	Falls    bool   // show what would lose its hold if the picked piece were taken
	WidthPx  int
	Link     func(kind, code string) string
}

// Sight is what somebody sees: the drawing as a part of an HTML page, the views that there are, and the step it shows.
type Sight struct {
	Drawing []byte
	Views   []drawing.View
	View    drawing.View
	Steps   int
	Next    *strip.Step     // what the next step takes; nil at the end, or where there is no plan
	Empty   bool            // nothing was ever built: no strip-out to show
	NoPlan  string          // why no strip-out can be shown
	Falls   []string        // what would lose its hold
	Topples []string        // what would fall over
	Tips    []string        // what would hang on one end
	Element *domain.Element // the picked piece, or
	Fixing  *domain.Fixing  // the picked fixing; nil where there is none of that code
}

// See draws a stored fit-out as somebody looks at it. Where there is no plan only what stands is drawn.
func (s *Service) See(ctx context.Context, fitOut string, look Look) (Sight, error) {
	r, err := s.Register(ctx, fitOut)
	if err != nil {
		return Sight{}, err
	}
	sight := Sight{Views: drawing.Views(r), Empty: !slices.ContainsFunc(r.Elements, func(e domain.Element) bool { return e.State != domain.Struck })}
	at := slices.IndexFunc(sight.Views, func(v drawing.View) bool { return string(v.Kind) == look.Kind && v.Assembly == look.Assembly })
	if at < 0 {
		return sight, domain.Errorf(domain.NotFound, "there is no such drawing of %s", fitOut)
	}
	sight.View = sight.Views[at]
	options := drawing.Options{Inline: true, Bare: true, WidthPx: look.WidthPx, Link: look.Link}
	p, _, err := s.Plan(ctx, fitOut)
	switch {
	case domain.Unplannable(err):
		sight.NoPlan = err.Error()
	case err != nil:
		return sight, err
	default:
		sight.moment(p, look.Step, &options)
	}
	sight.point(r, look, &options)
	var out bytes.Buffer
	err = drawing.Draw(&out, r, sight.View, options)
	sight.Drawing = out.Bytes()
	return sight, err
}

// moment turns the drawing to a step of the strip-out.
func (s *Sight) moment(p *plan.Plan, step int, o *drawing.Options) {
	s.Steps = len(p.Sequence.Steps)
	step = min(max(step, 0), s.Steps)
	if step > 0 {
		o.State = drawing.After(p.Sequence.Steps, step)
	}
	if step < s.Steps {
		s.Next = &p.Sequence.Steps[step]
	}
}

// point lets a picked piece stand out, with what would fall if it were taken.
func (s *Sight) point(r *domain.Register, look Look, o *drawing.Options) {
	if look.Pick == "" {
		return
	}
	for i := range r.Elements {
		if r.Elements[i].Code == look.Pick {
			s.Element = &r.Elements[i]
		}
	}
	for i := range r.Fixings {
		if r.Fixings[i].Code == look.Pick {
			s.Fixing = &r.Fixings[i]
		}
	}
	o.State.Highlight = map[string]drawing.Emphasis{}
	if look.Falls {
		s.Falls = replay.Falls(r, []string{look.Pick})
		s.Tips = replay.Tips(r, []string{look.Pick})
		s.Topples = replay.Topples(r, []string{look.Pick})
		for _, code := range slices.Concat(s.Falls, s.Tips, s.Topples) {
			o.State.Highlight[code] = drawing.Falls
		}
	}
	o.State.Highlight[look.Pick] = drawing.Chosen
	o.State.Dim = true
}
