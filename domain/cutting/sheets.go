package cutting

import (
	"fmt"
	"slices"

	"unpick/domain"
)

// Sheets is one board material to be cut in two dimensions by straight-through cuts: every cut runs from edge to edge of
// the part it divides. The grain runs along the length.
type Sheets struct {
	KerfMm int     `json:"kerf_mm" jsonschema_description:"width of one saw cut; 0 where it is scored and snapped"`
	Stock  []Sheet `json:"stock"`
	Demand []Panel `json:"demand"`
}

// Sheet is stock of one size.
type Sheet struct {
	Code       string   `json:"code"`
	LengthMm   int      `json:"length_mm" jsonschema_description:"usable length, along the grain"`
	WidthMm    int      `json:"width_mm"`
	Count      int      `json:"count" jsonschema_description:"how many there are; -1: any number can be bought"`
	PriceMinor int64    `json:"price_minor,omitempty" jsonschema_description:"each, in minor units of the currency"`
	NoPrice    bool     `json:"no_price,omitempty" jsonschema_description:"to be bought, but nobody has given a price"`
	Serves     []string `json:"serves,omitempty" jsonschema_description:"the only kinds of panel that may be cut from it; none named: all"`
}

// Panel is a demand for panels of one size.
type Panel struct {
	Code     string `json:"code"`
	Kind     string `json:"kind,omitempty" jsonschema_description:"what it is for: matched with what stock may serve"`
	LengthMm int    `json:"length_mm" jsonschema_description:"along the grain"`
	WidthMm  int    `json:"width_mm"`
	Count    int    `json:"count"`
	Turn     bool   `json:"turn,omitempty" jsonschema_description:"may be cut with its length across the grain"`
}

// The largest problem of sheets that is taken: a sheet is laid out by trying.
const (
	maxPanelRows = 20_000
	maxPanels    = 200_000
)

// Check names every value that breaks a rule, as domain.Errors with JSON pointers.
func (p *Sheets) Check() error {
	var es domain.Errors
	checkKerf(&es, p.KerfMm)
	if len(p.Stock) > maxPanelRows || len(p.Demand) > maxPanelRows {
		return domain.Errorf(domain.TooLarge, "%d rows of sheets and %d of panels: at most %d each; add like panels together", len(p.Stock), len(p.Demand), maxPanelRows)
	}
	stock, demand := 0, 0
	for i, b := range p.Stock {
		at := fmt.Sprintf("/stock/%d", i)
		checkLength(&es, at+"/length_mm", b.LengthMm)
		checkLength(&es, at+"/width_mm", b.WidthMm)
		checkCount(&es, at+"/count", b.Count, Unlimited)
		checkPrice(&es, at+"/price_minor", b.PriceMinor, b.NoPrice)
		stock += max(b.Count, 0)
	}
	for i, d := range p.Demand {
		at := fmt.Sprintf("/demand/%d", i)
		checkLength(&es, at+"/length_mm", d.LengthMm)
		checkLength(&es, at+"/width_mm", d.WidthMm)
		checkCount(&es, at+"/count", d.Count, 0)
		demand += max(d.Count, 0)
	}
	if len(es) == 0 && (stock > maxPanels || demand > maxPanels) {
		return domain.Errorf(domain.TooLarge, "%d sheets and %d panels: at most %d each", stock, demand, maxPanels)
	}
	return es.OrNil()
}

// mayServe says whether a panel may be cut from a sheet: by kind, and by size one way round or the other.
func (s *Sheet) mayServe(d *Panel) bool {
	if len(s.Serves) > 0 && !slices.Contains(s.Serves, d.Kind) {
		return false
	}
	return d.LengthMm <= s.LengthMm && d.WidthMm <= s.WidthMm || d.Turn && d.WidthMm <= s.LengthMm && d.LengthMm <= s.WidthMm
}
