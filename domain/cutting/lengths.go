package cutting

import (
	"fmt"

	"unpick/domain"
)

// Unlimited is the Count of stock that can be bought as often as needed.
const Unlimited = -1

// The largest problem that is taken.
const (
	maxRows   = 2_000_000   // rows of stock or demand
	maxPieces = 20_000_000  // pieces of demand, and of limited stock
	maxLength = 100_000_000 // 100 km of bar: beyond it a length is a typing error
	maxPrice  = 1_000_000_000_000
)

// Lengths is one section of one material to be cut in one dimension. Pieces fit on a bar of length L when
// sum(length + kerf) <= L + kerf: the last piece may end where the bar ends.
type Lengths struct {
	KerfMm int     `json:"kerf_mm" jsonschema_description:"width of one saw cut; 0 where it is sheared"`
	Stock  []Bar   `json:"stock"`
	Demand []Piece `json:"demand"`
}

// Bar is stock of one length: salvaged pieces (Count 1, no price as a rule) or a merchant's length.
type Bar struct {
	Code       string   `json:"code"`
	LengthMm   int      `json:"length_mm" jsonschema_description:"usable length, spoilt ends already off"`
	Count      int      `json:"count" jsonschema_description:"how many there are; -1: any number can be bought"`
	PriceMinor int64    `json:"price_minor,omitempty" jsonschema_description:"each, in minor units of the currency"`
	NoPrice    bool     `json:"no_price,omitempty" jsonschema_description:"to be bought, but nobody has given a price"`
	Serves     []string `json:"serves,omitempty" jsonschema_description:"the only kinds of piece that may be cut from it; none named: all"`
}

// Piece is a demand for pieces of one length.
type Piece struct {
	Code     string `json:"code"`
	Kind     string `json:"kind,omitempty" jsonschema_description:"what it is for: matched with what stock may serve"`
	LengthMm int    `json:"length_mm"`
	Count    int    `json:"count"`
}

// Check names every value that breaks a rule, as domain.Errors with JSON pointers.
func (p *Lengths) Check() error {
	var es domain.Errors
	checkKerf(&es, p.KerfMm)
	if len(p.Stock) > maxRows || len(p.Demand) > maxRows {
		return domain.Errorf(domain.TooLarge, "%d rows of stock and %d of demand: at most %d each; add like pieces together", len(p.Stock), len(p.Demand), maxRows)
	}
	stock, demand := 0, 0
	for i, b := range p.Stock {
		at := fmt.Sprintf("/stock/%d", i)
		checkLength(&es, at+"/length_mm", b.LengthMm)
		checkCount(&es, at+"/count", b.Count, Unlimited)
		checkPrice(&es, at+"/price_minor", b.PriceMinor, b.NoPrice)
		stock += max(b.Count, 0)
	}
	for i, d := range p.Demand {
		at := fmt.Sprintf("/demand/%d", i)
		checkLength(&es, at+"/length_mm", d.LengthMm)
		checkCount(&es, at+"/count", d.Count, 0)
		demand += max(d.Count, 0)
	}
	if len(es) == 0 && (stock > maxPieces || demand > maxPieces) {
		return domain.Errorf(domain.TooLarge, "%d pieces of stock and %d of demand: at most %d each", stock, demand, maxPieces)
	}
	return es.OrNil()
}

func checkKerf(es *domain.Errors, mm int) {
	if mm < 0 || mm > maxLength {
		es.Addf(domain.Invalid, "/kerf_mm", "a kerf of %d mm: give the width of one saw cut, 0 or more", mm)
	}
}

func checkLength(es *domain.Errors, at string, mm int) {
	if mm <= 0 || mm > maxLength {
		es.Addf(domain.Invalid, at, "%d mm: give a length of 1 to %d mm", mm, maxLength)
	}
}

func checkCount(es *domain.Errors, at string, count, least int) {
	if count < least || count > maxPieces {
		es.Addf(domain.Invalid, at, "a count of %d: give 0 to %d", count, maxPieces)
	}
}

func checkPrice(es *domain.Errors, at string, minor int64, none bool) {
	switch {
	case minor < 0 || minor > maxPrice:
		es.Addf(domain.Invalid, at, "a price of %d: give 0 to %d minor units", minor, int64(maxPrice))
	case none && minor != 0:
		es.Addf(domain.Invalid, at, "a price of %d, and no price at once: give the one or the other", minor)
	}
}
