package main

import (
	"bytes"
	"context"
	"fmt"

	"unpick/api/service"
	"unpick/domain"
	"unpick/domain/move"
	"unpick/testdata"
)

// loadNext stores the layout of the bigger premises once, and answers its code. One that is there already is left as it is.
func loadNext(ctx context.Context, jobs *service.Service) (string, error) {
	next, err := service.ReadFile(bytes.NewReader(testdata.Next))
	if err != nil {
		return "", fmt.Errorf("reading the demo's next premises: %w", err)
	}
	_, err = jobs.FitOut(ctx, next.FitOut.Code)
	if domain.CodeOf(err) == domain.NotFound {
		_, err = jobs.Import(ctx, domain.Actor{Name: "unpick demo"}, next)
	}
	return next.FitOut.Code, err
}

// movedOn are the terms of the workshop's move. A lorry, its price and its way are invented: one that is long enough for the
// beams, so that the ways can be added up; so are what a buyer pays and both rents.
const movedOn = `{"vehicle": {"name": "dropside lorry", "bed_length_mm": 5200, "price_per_trip_minor": 9500}, "sale_percent_of_new": 20,
	"programme": {"rent_here_minor_a_month": 145000, "rent_there_minor_a_month": 210000}}`

// moveDemo is the workshop's move, and what the next premises would take if all of it were bought, as documents.
func moveDemo(ctx context.Context, jobs *service.Service, from, to string) ([]service.Document, error) {
	kept, err := jobs.MoveTerms(ctx, from)
	if err == nil && kept.Typed == nil {
		kept, err = jobs.KeepMoveTerms(ctx, domain.Actor{Name: "unpick demo"}, from, []byte(movedOn))
	}
	if err != nil {
		return nil, fmt.Errorf("keeping the terms of the demo's move: %w", err)
	}
	terms := kept.Terms
	terms.Nearby = &move.Nearby{}
	docs, err := jobs.MoveDocuments(ctx, domain.Actor{Name: "unpick demo"}, from, to, terms)
	if err != nil {
		return nil, fmt.Errorf("planning the demo's move: %w", err)
	}
	order, err := jobs.OrderDocuments(ctx, domain.Actor{Name: "unpick demo"}, to, from, move.Usual())
	if err != nil {
		return nil, fmt.Errorf("working out the demo's first order: %w", err)
	}
	return append(docs, order...), nil
}
