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

// moveDemo is the workshop's move, and what the next premises would take if all of it were bought, as documents.
func moveDemo(ctx context.Context, jobs *service.Service, from, to string) ([]service.Document, error) {
	// A lorry, its price and its way are invented: one that is long enough for the beams, so that the ways can be added up; so
	// is what a buyer pays.
	terms := move.Usual()
	terms.Vehicle.Name, terms.Vehicle.BedLengthMm, terms.Vehicle.PricePerTrip = "dropside lorry", 5200, 9500
	terms.Nearby = &move.Nearby{}
	terms.Vehicle.TripMinutes, terms.SalePercent = 60, 20
	docs, err := jobs.MoveDocuments(ctx, domain.Actor{Name: "unpick demo"}, from, to, terms)
	if err != nil {
		return nil, fmt.Errorf("planning the demo's move: %w", err)
	}
	order, err := jobs.OrderDocument(ctx, domain.Actor{Name: "unpick demo"}, to, from, "first-order.xlsx", move.Usual())
	if err != nil {
		return nil, fmt.Errorf("working out the demo's first order: %w", err)
	}
	return append(docs, order), nil
}
