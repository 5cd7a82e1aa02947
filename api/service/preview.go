package service

import (
	"bytes"
	"context"
	"slices"

	"unpick/domain"
	"unpick/domain/advice"
	"unpick/domain/choice"
	"unpick/reports/drawing"
)

// Preview is what a change would make, before anything is stored: the records, what there is to say about them, what
// their fixings cost later, and how they would look. Drawings are parts of an HTML page, nil where there is nothing to draw.
type Preview struct {
	Logged
	Made      Made
	Choices   []choice.Choice
	Elevation []byte
	Plan      []byte
}

// PreviewAssembly tries a recipe out. Places in errors are as those of LogAssembly.
func (s *Service) PreviewAssembly(ctx context.Context, fitOut string, a domain.Assembly) (Preview, error) {
	return s.preview(ctx, fitOut, a.Code, expanded(a))
}

// PreviewRecords tries loose records out, drawn with the assembly that they belong to; "" draws the plan alone.
func (s *Service) PreviewRecords(ctx context.Context, fitOut string, add domain.Records, assembly string) (Preview, error) {
	return s.preview(ctx, fitOut, assembly, func(r *domain.Register) (addition, error) { return addition{add: withHoles(r, add)}, nil })
}

func (s *Service) preview(ctx context.Context, fitOut, assembly string, from func(*domain.Register) (addition, error)) (Preview, error) {
	r, err := s.Register(ctx, fitOut)
	if err != nil {
		return Preview{}, err
	}
	a, err := from(r)
	if err != nil {
		return Preview{}, err
	}
	if faults := newFaults(r, a.add); len(faults) > 0 {
		return Preview{}, s.faultsNamed(ctx, fitOut, r, a.add, faults)
	}
	joined := r.With(a.add)
	late, err := s.late(ctx, fitOut, joined)
	if err != nil {
		return Preview{}, err
	}
	said, err := s.withEarlier(ctx, fitOut, r, slices.Concat(advice.For(r, a.add), a.advice, late))
	if err != nil {
		return Preview{}, err
	}
	p := Preview{
		Logged:  Logged{Records: a.add, Advice: said},
		Made:    madeOf(joined, a.add),
		Choices: choice.For(r, a.add),
	}
	p.Elevation, p.Plan, err = drawn(joined, a.add, assembly)
	return p, err
}

// phonePx is how wide the screen is that a preview is drawn for.
const phonePx = 360

// drawn draws an assembly square on, and the plan of the whole, with what was added standing out.
func drawn(r *domain.Register, add domain.Records, assembly string) (elevation, plan []byte, err error) {
	added := map[string]drawing.Emphasis{}
	for i := range add.Elements {
		added[add.Elements[i].Code] = drawing.Added
	}
	for i := range add.Fixings {
		added[add.Fixings[i].Code] = drawing.Added
	}
	standing := slices.ContainsFunc(r.Elements, func(e domain.Element) bool { return e.Assembly == assembly && e.IsInPlace() })
	var out bytes.Buffer
	if assembly != "" && standing {
		o := drawing.Options{Inline: true, Bare: true, ID: "side", WidthPx: phonePx}
		if len(add.Elements) == 0 {
			o.State = drawing.State{Highlight: added}
		}
		if err := drawing.Elevation(&out, r, assembly, o); err != nil {
			return nil, nil, err
		}
		elevation = bytes.Clone(out.Bytes())
		out.Reset()
	}
	err = drawing.Plan(&out, r, drawing.Options{Inline: true, Bare: true, ID: "top", WidthPx: phonePx, State: drawing.State{Highlight: added}})
	return elevation, out.Bytes(), err
}

// DrawingStyle is the stylesheet of drawings that stand in a page.
func DrawingStyle() string { return drawing.Stylesheet() }
