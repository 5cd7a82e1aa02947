package service

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"strconv"
	"time"

	"unpick/db"
	"unpick/domain"
	"unpick/domain/move"
	"unpick/domain/relocation"
)

// KeptTerms are the terms of a move that a fit-out begins with: the usual ones, but for what was last kept with it.
type KeptTerms struct {
	Terms move.Terms
	Typed map[string]any // what was kept, as JSON has it; nil where nothing was
	By    string
	At    time.Time
}

// MoveTerms are the terms that a move from a stored fit-out, or its first order, begins with.
func (s *Service) MoveTerms(ctx context.Context, fitOut string) (KeptTerms, error) {
	out := KeptTerms{Terms: move.Usual()}
	f, err := s.FitOut(ctx, fitOut)
	if err != nil {
		return out, err
	}
	kept, err := s.db.MoveTerms(ctx, s.firm, f.ID)
	if err != nil || kept.Terms == nil {
		return out, err
	}
	out.By, out.At = kept.By, kept.At
	if out.Typed, err = typedTerms(kept.Terms); err != nil {
		return out, fmt.Errorf("reading the kept terms of a move from %s: %w", fitOut, err)
	}
	if err := json.Unmarshal(kept.Terms, &out.Terms); err != nil {
		return out, fmt.Errorf("reading the kept terms of a move from %s: %w", fitOut, err)
	}
	return out, nil
}

// KeepMoveTerms keeps what was typed of the terms of a move, in JSON as move.Terms has it, for the next time. What is not
// typed stays the usual. Which sizes are tried belongs to one question, and is not kept. Invalid: what is no term, or absurd.
func (s *Service) KeepMoveTerms(ctx context.Context, who domain.Actor, fitOut string, text []byte) (KeptTerms, error) {
	f, err := s.FitOut(ctx, fitOut)
	if err != nil {
		return KeptTerms{}, err
	}
	if text, err = oneWay(text); err != nil {
		return KeptTerms{}, domain.Errorf(domain.Invalid, "these are no terms of a move: %v", err)
	}
	terms := move.Usual()
	decoder := json.NewDecoder(bytes.NewReader(text))
	decoder.DisallowUnknownFields()
	if err := decoder.Decode(&terms); err != nil {
		return KeptTerms{}, domain.Errorf(domain.Invalid, "these are no terms of a move: %v; `unpick schema move` describes them", err)
	}
	if err := terms.Check(); err != nil {
		return KeptTerms{}, err
	}
	typed, err := typedTerms(text)
	if err != nil {
		return KeptTerms{}, domain.Errorf(domain.Invalid, "these are no terms of a move: %v", err)
	}
	delete(typed, "nearby")
	kept, err := json.Marshal(typed)
	if err != nil {
		return KeptTerms{}, fmt.Errorf("writing the terms of a move: %w", err)
	}
	if err := s.db.KeepMoveTerms(ctx, s.firm, f.ID, db.MoveTerms{Terms: kept, By: who.Name, At: s.now()}); err != nil {
		return KeptTerms{}, err
	}
	return s.MoveTerms(ctx, fitOut)
}

// oneWay is terms as they are now of terms that may be earlier: the driving of a trip, there and back, is half of it as the
// way from one place to the other, where that is not typed too.
func oneWay(text []byte) ([]byte, error) {
	typed, err := typedTerms(text)
	if err != nil {
		return nil, err
	}
	vehicle, _ := typed["vehicle"].(map[string]any)
	trip, there := vehicle["minutes_per_trip"]
	if !there {
		return text, nil
	}
	minutes, err := strconv.Atoi(fmt.Sprint(trip))
	if err != nil || minutes < 0 {
		return nil, fmt.Errorf("minutes_per_trip is %v: say /programme/travel_minutes, the minutes from one place to the other", trip)
	}
	delete(vehicle, "minutes_per_trip")
	programme, _ := typed["programme"].(map[string]any)
	if programme == nil {
		programme = map[string]any{}
		typed["programme"] = programme
	}
	if _, said := programme["travel_minutes"]; !said && minutes > 0 {
		programme["travel_minutes"] = relocation.Halved(minutes)
	}
	return json.Marshal(typed)
}

// typedTerms are terms as JSON has them, figures as they were written.
func typedTerms(text []byte) (map[string]any, error) {
	var out map[string]any
	decoder := json.NewDecoder(bytes.NewReader(text))
	decoder.UseNumber()
	if err := decoder.Decode(&out); err != nil {
		return nil, err
	}
	if out == nil {
		out = map[string]any{}
	}
	return out, nil
}
