package service

import (
	"cmp"
	"context"
	"encoding/json"
	"io"
	"slices"

	"unpick/domain"
	"unpick/domain/calendar"
	"unpick/domain/move"
	"unpick/reports"
)

// Moves plans one or more layouts out of what comes out of a stored fit-out, one plan for each in the order asked. Refused
// where the fit-out is itself a layout: nothing comes out of it. Invalid where none is asked for, one twice, or this one.
func (s *Service) Moves(ctx context.Context, fitOut string, to []string, terms move.Terms) (move.Moves, error) {
	if err := s.options(ctx, fitOut, to); err != nil {
		return move.Moves{}, err
	}
	if err := terms.Check(); err != nil {
		return move.Moves{}, err
	}
	here, err := s.plan(ctx, fitOut)
	if err != nil {
		return move.Moves{}, err
	}
	from, err := movesFrom(here)
	if err != nil {
		return move.Moves{}, err
	}
	from.Stop = func() bool { return ctx.Err() != nil }
	ends := bothEnds(here)
	ends.Stop = from.Stop
	out := move.Moves{Items: []*move.Plan{}}
	for _, code := range to {
		next, err := s.Register(ctx, code)
		if err != nil {
			return move.Moves{}, err
		}
		p, err := move.Make(from, next, terms)
		if err := cmp.Or(err, ctx.Err()); err != nil {
			return move.Moves{}, err
		}
		if err := cmp.Or(p.Lay(ends, calendar.DayOf(s.now())), ctx.Err()); err != nil {
			return move.Moves{}, err
		}
		out.Items = append(out.Items, p)
	}
	return out, nil
}

// movesFrom is where a move comes from: what is saved, what giving the place back takes by its schedule, and what the
// schedule would still owe where everything stays by agreement.
func movesFrom(here planned) (move.Source, error) {
	from := move.Source{Register: here.register, Inventory: here.plan.Salvage, Owed: move.OwedBy(here.plan.Schedule, here.plan.MakingGood), Steps: leftToDo(here.register, here.plan)}
	var err error
	from.OwedStaying, from.NotStaying, err = here.staying.of(here.register)
	return from, err
}

// MoveDocuments are the workbook of one move, its JSON, drawings of its cuts, and labels that say what each piece becomes, of a stored fit-out to a layout.
func (s *Service) MoveDocuments(ctx context.Context, who domain.Actor, fitOut, to string, terms move.Terms) ([]Document, error) {
	moves, err := s.Moves(ctx, fitOut, []string{to}, terms)
	if err != nil {
		return nil, err
	}
	in, err := s.Planned(ctx, fitOut, who.Name, "draft")
	if err != nil {
		return nil, err
	}
	return []Document{
		{"move.xlsx", "The move, piece by piece", workbook, true, func(w io.Writer) error { return reports.Move(w, in, moves.Items[0]) }},
		{"move.json", "The move, as computed", "application/json", true, func(w io.Writer) error {
			encoder := json.NewEncoder(w)
			encoder.SetIndent("", "  ")
			return encoder.Encode(moves)
		}},
		{reports.MoveCuts, "Every cut, drawn to scale", portable, true, func(w io.Writer) error { return reports.CutsPDF(w, in, moves.Items[0]) }},
		{"move-labels.pdf", "Labels that say what each piece becomes", portable, true, func(w io.Writer) error { return reports.LabelsPDF(w, in, reports.LabelChoice{Move: moves.Items[0]}) }},
	}, nil
}

// MoveDocument is one document of a move by its name; NotFound where a move has none of that name.
func (s *Service) MoveDocument(ctx context.Context, who domain.Actor, fitOut, to, name string, terms move.Terms) (Document, error) {
	docs, err := s.MoveDocuments(ctx, who, fitOut, to, terms)
	if err != nil {
		return Document{}, err
	}
	at := slices.IndexFunc(docs, func(d Document) bool { return d.Name == name })
	if at < 0 {
		return Document{}, domain.Errorf(domain.NotFound, "there is no document %q of a move: it has move.xlsx, move.json, %s and move-labels.pdf", name, reports.MoveCuts)
	}
	return docs[at], nil
}

// options holds what is asked for to what can be planned, before anything is planned.
func (s *Service) options(ctx context.Context, fitOut string, to []string) error {
	f, err := s.FitOut(ctx, fitOut)
	switch {
	case err != nil:
		return err
	case f.NotBuilt:
		return domain.Errorf(domain.Refused, "nothing of %s is built yet, so nothing comes out of it: ask for its first order", fitOut)
	case len(to) == 0:
		return domain.FieldErrorf(domain.Invalid, "/to", "choose a layout of the next premises: another fit-out, described with the same recipes")
	}
	for i, code := range to {
		switch {
		case code == fitOut:
			return domain.FieldErrorf(domain.Invalid, "/to", "%s cannot move to itself: choose another fit-out", code)
		case slices.Contains(to[:i], code):
			return domain.FieldErrorf(domain.Invalid, "/to", "%s is asked for twice: once is enough", code)
		}
	}
	return nil
}

// FirstOrder is what a stored fit-out needs bought where nothing is salvaged: for a layout, the list to order. What its own
// list has no price for is priced by that of another fit-out, where one is named. Invalid where the two have not one currency.
func (s *Service) FirstOrder(ctx context.Context, fitOut, pricesOf string, terms move.Terms) (*move.Plan, error) {
	next, err := s.Register(ctx, fitOut)
	if err != nil {
		return nil, err
	}
	from := move.Source{Stop: func() bool { return ctx.Err() != nil }}
	if pricesOf != "" {
		other, err := s.Register(ctx, pricesOf)
		if err != nil {
			return nil, err
		}
		if other.FitOut.Currency != next.FitOut.Currency {
			return nil, domain.FieldErrorf(domain.Invalid, "/prices_of", "%s is priced in %s and this in %s: choose one in the same currency", pricesOf, other.FitOut.Currency, next.FitOut.Currency)
		}
		from.Prices = other.PriceList()
	}
	p, err := move.Make(from, next, terms)
	if err := cmp.Or(err, ctx.Err()); err != nil { // what was cut until then is no answer: nobody asked for it
		return nil, err
	}
	return p, nil
}

// OrderDocuments are the workbook of a first order, and drawings of its cuts.
func (s *Service) OrderDocuments(ctx context.Context, who domain.Actor, fitOut, pricesOf string, terms move.Terms) ([]Document, error) {
	order, err := s.FirstOrder(ctx, fitOut, pricesOf, terms)
	if err != nil {
		return nil, err
	}
	in, err := s.Planned(ctx, fitOut, who.Name, "draft")
	if err != nil {
		return nil, err
	}
	return []Document{
		{"first-order.xlsx", "What to order, and how it is cut", workbook, true, func(w io.Writer) error { return reports.FirstOrder(w, in, order) }},
		{reports.OrderCuts, "Every cut of it, drawn to scale", portable, true, func(w io.Writer) error { return reports.CutsPDF(w, in, order) }},
	}, nil
}

// OrderDocument is one document of a first order by its name; NotFound where it has none of that name.
func (s *Service) OrderDocument(ctx context.Context, who domain.Actor, fitOut, pricesOf, name string, terms move.Terms) (Document, error) {
	docs, err := s.OrderDocuments(ctx, who, fitOut, pricesOf, terms)
	if err != nil {
		return Document{}, err
	}
	at := slices.IndexFunc(docs, func(d Document) bool { return d.Name == name })
	if at < 0 {
		return Document{}, domain.Errorf(domain.NotFound, "there is no document %q of a first order: it has first-order.xlsx and %s", name, reports.OrderCuts)
	}
	return docs[at], nil
}

// Layouts are the other fit-outs of the firm that one may move to, layouts before what stands.
func (s *Service) Layouts(ctx context.Context, fitOut string) ([]domain.FitOut, error) {
	all, err := s.FitOuts(ctx, "", mostLayouts)
	if err != nil {
		return nil, err
	}
	all = slices.DeleteFunc(all, func(f domain.FitOut) bool { return f.Code == fitOut })
	slices.SortStableFunc(all, func(a, b domain.FitOut) int {
		switch {
		case a.NotBuilt == b.NotBuilt:
			return 0
		case a.NotBuilt:
			return -1
		}
		return 1
	})
	return all, nil
}

// mostLayouts is how many fit-outs a person is given to choose from.
const mostLayouts = 200
