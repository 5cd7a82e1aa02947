package service

import (
	"bytes"
	"context"
	"fmt"

	"unpick/domain"
	"unpick/domain/walkround"
	"unpick/reports/drawing"
)

// Walked is one surface on a walk-round: its holes as they stand between the parties, with maps as parts of an HTML page.
type Walked struct {
	Register *domain.Register
	Surface  walkround.Surface
	Map      []byte
}

// nearMm is how far around a hole its own map reaches to each side, and nearPx how wide a page shows it.
const nearMm, nearPx = 1000, 300

// WalkedSurface is one surface with its map, or NotFound where it has no holes. link says where a hole's number leads.
func (s *Service) WalkedSurface(ctx context.Context, fitOut, host string, widthPx int, link func(number string) string) (Walked, error) {
	r, err := s.Register(ctx, fitOut)
	if err != nil {
		return Walked{}, err
	}
	for _, surface := range walkround.Of(r) {
		if surface.Host != host {
			continue
		}
		w := Walked{Register: r, Surface: surface}
		var out bytes.Buffer
		err := drawing.HoleMap(&out, r, host, drawing.Around{}, drawing.Options{Inline: true, Bare: true, WidthPx: widthPx, Link: func(kind, code string) string {
			if kind != "number" {
				return ""
			}
			return link(code)
		}})
		w.Map = out.Bytes()
		return w, err
	}
	return Walked{}, domain.Errorf(domain.NotFound, "there is no surface %.60q with holes in it", host)
}

// Near is the map around one hole, small.
func (w Walked) Near(number int) ([]byte, error) {
	var out bytes.Buffer
	err := drawing.HoleMap(&out, w.Register, w.Surface.Host, drawing.Around{Number: number, Mm: nearMm}, drawing.Options{Inline: true, Bare: true, WidthPx: nearPx, ID: fmt.Sprintf("near%d", number)})
	return out.Bytes(), err
}
