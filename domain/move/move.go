package move

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"

	"unpick/domain"
	"unpick/domain/cutting"
	"unpick/domain/relocation"
	"unpick/domain/salvage"
	"unpick/domain/strip"
)

// Plan is a move: what becomes what, what to buy, what is left, how it travels and what it costs.
type Plan struct {
	From       string          `json:"from,omitempty" jsonschema_description:"fit-out that comes out; empty for a first order"`
	To         string          `json:"to" jsonschema_description:"fit-out that goes up"`
	ToName     string          `json:"to_name"`
	Currency   string          `json:"currency"`
	Terms      Terms           `json:"terms"`
	Wholes     []Whole         `json:"goes_up_whole"`
	Lengths    []LengthCut     `json:"lengths"`
	Sheets     []SheetCut      `json:"sheets"`
	Units      []Unit          `json:"units" jsonschema_description:"whole pieces that are used as they are, or bought by the piece"`
	Metres     []Metre         `json:"by_the_metre" jsonschema_description:"cable, sealant and the like: always new"`
	Cannot     []Cannot        `json:"cannot_be_made"`
	Buying     []Buy           `json:"buying"`
	Allowed    []Allowance     `json:"allowances" jsonschema_description:"what is bought over the cutting, by class of material"`
	Fixings    []Fixing        `json:"fixings"`
	Left       []Left          `json:"left_over"`
	Loads      []Load          `json:"loads"`
	TooBig     []string        `json:"too_big_for_the_vehicle,omitempty" jsonschema_description:"salvaged pieces that need another vehicle"`
	TooHeavy   []string        `json:"too_heavy_for_the_vehicle,omitempty" jsonschema_description:"salvaged pieces that weigh more than may be loaded: they need another vehicle"`
	CutFirst   []string        `json:"cut_before_loading,omitempty" jsonschema_description:"salvaged pieces that are longer than the bed, and fit once they are cut to what they become"`
	Access     []Hire          `json:"access_for_putting_up,omitempty" jsonschema_description:"equipment that putting up needs: what its pieces will be reached from when they come out again"`
	Build      []Build         `json:"putting_up" jsonschema_description:"assemblies in the order in which they go up, with the load by which all their salvaged pieces are there"`
	Misfits    []domain.Advice `json:"layout_does_not_fit,omitempty" jsonschema_description:"pieces in one place, in the landlord's fabric or out of the unit: no way has a total until they are mended"`
	Lifts      []Lift          `json:"lifts" jsonschema_description:"what one person does not lift alone, at both ends"`
	Total      Total           `json:"total"`
	Ways       []Way           `json:"ways" jsonschema_description:"this move beside other ways"`
	Cautions   []string        `json:"cautions"`
	Unpriced   []string        `json:"unpriced,omitempty" jsonschema_description:"materials and fixings to buy that the firm has no price for"`
	NoTotal    []string        `json:"no_total_because,omitempty" jsonschema_description:"what keeps the money from being all of it"`
	Proven     bool            `json:"proven" jsonschema_description:"no cutting of these lengths and sheets costs less"`
	Sizes      *Sizes          `json:"other_sizes,omitempty" jsonschema_description:"sizes near those of the layout that buy less; where they were asked for"`
	register   *domain.Register
	unsure     []string // cautions about what could not be worked out
	inventory  salvage.Inventory
	saw        *saw
	from       map[string]strip.Access // what each piece of the next premises is put up from; none where that could not be planned
	towers     int                     // person-minutes of building, moving and striking a tower there
	towerWords string
	here       map[string]*domain.Element // of the fit-out that comes out, by code
	ratesHere  *domain.Catalogue          // its work rates

	Programme *relocation.Programme `json:"programme,omitempty" jsonschema_description:"strip-out, loads and putting up on one calendar with one crew; a first order has none"`
}

// Become is one piece of stock and what it becomes.
type Become struct {
	Stock     string   `json:"stock" jsonschema_description:"code of the salvaged piece, or the size that is bought"`
	Salvaged  bool     `json:"salvaged,omitempty"`
	LengthMm  int      `json:"length_mm" jsonschema_description:"of the part that is used: of stock that is not square see shape"`
	WidthMm   int      `json:"width_mm,omitempty"`
	Makes     []string `json:"makes" jsonschema_description:"codes of pieces of the next premises, in the order of cutting"`
	PiecesMm  []int    `json:"pieces_mm,omitempty" jsonschema_description:"how long each is cut, as they are named: a length to its long point, a panel along the sheet"`
	WidthsMm  []int    `json:"widths_mm,omitempty" jsonschema_description:"of panels: how wide each is cut, across the sheet"`
	OffcutMm  int      `json:"offcut_mm,omitempty"`
	Cuts      int      `json:"cuts,omitempty" jsonschema_description:"saw cuts, ends made square and outlines included"`
	RipFromMm int      `json:"rip_from_mm,omitempty" jsonschema_description:"the width as it is bought, where it is first ripped to the section"`
	Shape     *Shape   `json:"shape,omitempty" jsonschema_description:"of salvaged stock that is no plain rectangle"`
	Forms     []Form   `json:"forms,omitempty" jsonschema_description:"of the pieces that are not cut square"`
}

// IsCut reports whether the piece of stock is cut at all: else it is used as it is.
func (b Become) IsCut() bool { return b.Cuts > 0 }

// SizeWords is how large a piece of stock is, and what of it is used where that is not all.
func (b Become) SizeWords() string {
	size := func(long, wide int) string {
		if wide == 0 {
			return fmt.Sprint(long)
		}
		return fmt.Sprintf("%d x %d", long, wide)
	}
	words := size(b.LengthMm, b.WidthMm) + " mm"
	if b.Shape != nil && (b.Shape.LengthMm != b.LengthMm || b.Shape.WidthMm != b.WidthMm) {
		words += " out of " + size(b.Shape.LengthMm, b.Shape.WidthMm)
	}
	return words
}

// MakesWords is what it becomes, in the order of cutting: each piece with its size, and how it is cut where not square.
func (b Become) MakesWords() []string {
	out := make([]string, len(b.Makes))
	for i, code := range b.Makes {
		out[i] = code
		if i < len(b.PiecesMm) {
			out[i] += fmt.Sprintf(" %d", b.PiecesMm[i])
		}
		if i < len(b.WidthsMm) {
			out[i] += fmt.Sprintf(" x %d", b.WidthsMm[i])
		}
		for _, f := range b.Forms {
			if f.Element == code {
				out[i] += " (" + f.Words + ")"
			}
		}
	}
	return out
}

// HowWords says how a salvaged piece is used: as it is, by its own cut end, or cut.
func (b Become) HowWords() string {
	switch {
	case !b.IsCut():
		return "as it is"
	case len(b.Forms) > 0 && b.Forms[0].UsesEnd:
		return "cut, its own cut end kept: " + b.SizeWords()
	case b.Shape != nil:
		return "made square and cut: " + b.SizeWords()
	}
	return "cut"
}

// OverWords is what is left of a sheet, the largest first.
func (l SheetLayout) OverWords() string {
	all := slices.Clone(l.Offcuts)
	slices.SortFunc(all, func(a, b cutting.Rect) int { return cmp.Compare(areaOf(b), areaOf(a)) })
	words := make([]string, len(all))
	for i, r := range all {
		words[i] = fmt.Sprintf("%d x %d", r.LengthMm, r.WidthMm)
	}
	return strings.Join(words, ", ")
}

// Total is what the move buys and saves.
type Total struct {
	NewMinor      int64    `json:"new_stock_minor" jsonschema_description:"priced lines only; see known"`
	BoundMinor    int64    `json:"bound_minor" jsonschema_description:"no cutting buys lengths and sheets for less"`
	FixingsMinor  int64    `json:"fixings_minor"`
	Known         bool     `json:"known" jsonschema_description:"false while something to buy has no price, or a piece cannot be made: see no_total_because"`
	Pieces        int      `json:"pieces" jsonschema_description:"of the next premises"`
	FromSalvage   int      `json:"from_salvage"`
	Cuts          int      `json:"cuts"`
	SalvagedUsed  int      `json:"salvaged_used"`
	SalvagedLeft  int      `json:"salvaged_left"`
	NewKg         float64  `json:"new_kg"`
	NewCarbonKg   float64  `json:"new_embodied_kg_co2e" jsonschema_description:"of what is bought, modules A1-A3; of what has a factor: see without_carbon_factor"`
	NoCarbon      []string `json:"without_carbon_factor,omitempty" jsonschema_description:"what is bought and has no factor or no mass: not known, and not in the figure"`
	BuildMinutes  int      `json:"putting_up_person_minutes"`
	MovedKg       float64  `json:"moved_kg"`
	StripMinutes  int      `json:"strip_out_person_minutes,omitempty"`
	WasteNewMinor int64    `json:"allowance_minor" jsonschema_description:"of new_stock_minor: bought over the cutting, against bad lengths"`
}

// Source is where the salvage comes from. The zero value is a first order: nothing comes out of anywhere.
type Source struct {
	Register    *domain.Register
	Inventory   salvage.Inventory
	Owed        Owed                    // what giving the place back takes
	OwedStaying *Owed                   // the same where everything stays by agreement; nil where that cannot be
	NotStaying  string                  // why it cannot
	Steps       []strip.Step            // of the strip-out that are left, for what they are reached from
	Prices      map[string]domain.Price // of the firm; those of the next premises' own list come before them
	Stop        func() bool             // asked now and then: true is that nobody waits any more, and what is there then is answered; nil is never
}

// hours are the crew's: those of the place that it comes from, where it comes from one.
func (from Source) hours(to *domain.Register) domain.Calendar {
	if from.Register != nil {
		return from.Register.FitOut.Calendar
	}
	return to.FitOut.Calendar
}

// stopped reports whether nobody waits any more.
func (from Source) stopped() bool { return from.Stop != nil && from.Stop() }

// Make plans the next premises out of what is saved. Errors: what Terms.Check refuses; Invalid where the two have not one
// currency, or the next premises have no piece.
func Make(from Source, to *domain.Register, terms Terms) (*Plan, error) {
	if err := terms.Check(); err != nil {
		return nil, err
	}
	if from.Register != nil && from.Register.FitOut.Currency != to.FitOut.Currency {
		return nil, domain.Errorf(domain.Invalid, "%s is priced in %s and %s in %s: figures in two currencies cannot be added, price the next premises in the same", from.Register.FitOut.Code, from.Register.FitOut.Currency, to.FitOut.Code, to.FitOut.Currency)
	}
	p, err := assign(from, to, terms, newSaw(terms.Seed, terms.Rounds, from.Stop))
	if err != nil {
		return nil, err
	}
	if p.Total.Pieces == 0 {
		return nil, domain.Errorf(domain.Invalid, "%s has no piece yet: log its walls and floors first, with the recipes that they will be built by", to.FitOut.Code)
	}
	p.load(from)
	p.build(to)
	p.hands(to, from.hours(to))
	p.Misfits = misfits(to)
	if p.Ways, err = ways(p, from, to, terms); err != nil {
		return nil, err
	}
	p.cautions()
	if terms.Nearby != nil {
		p.Sizes, err = WhatIf(from, to, p, *terms.Nearby)
	}
	return p, err
}

// assign is the part of Make that says what becomes what and what is bought.
func assign(from Source, to *domain.Register, terms Terms, with *saw) (*Plan, error) {
	p := &Plan{saw: with, To: to.FitOut.Code, ToName: to.FitOut.Name, Currency: to.FitOut.Currency, Terms: terms, Proven: true, register: to, inventory: from.Inventory,
		Wholes: []Whole{}, Lengths: []LengthCut{}, Sheets: []SheetCut{}, Units: []Unit{}, Metres: []Metre{}, Cannot: []Cannot{}, Buying: []Buy{}, Allowed: []Allowance{}, Fixings: []Fixing{}, Left: []Left{}, Loads: []Load{}, Build: []Build{}}
	p.Total.Known = true
	p.here = from.elements()
	taken, found := map[string]bool{}, map[string]bool{}
	if from.Register != nil {
		p.From, p.ratesHere = from.Register.FitOut.Code, from.Register.Catalogue
		p.Wholes = append(p.Wholes, p.wholes(from.Register, from.Inventory, to)...)
		for _, w := range p.Wholes {
			for _, b := range w.Becomes {
				taken[b.Stock], found[b.Makes[0]] = true, true
			}
		}
	}
	want := wantedIn(to, found)
	stock := savedIn(to, from.Inventory, p.here, taken)
	prices := from.pricesFor(to)
	for i := range to.Elements {
		if to.Elements[i].ComesOut() {
			p.Total.Pieces++
		}
	}
	for _, s := range want.sectionsOf(byLength) {
		if err := p.lengths(want, stock, prices, s); err != nil {
			return nil, err
		}
	}
	for _, s := range want.sectionsOf(bySheet) {
		if err := p.sheets(want, stock, prices, s); err != nil {
			return nil, err
		}
	}
	p.units(want, stock, prices)
	p.metres(want, prices)
	p.buying(prices)
	p.fixings(from, to, prices)
	p.left()
	p.sum()
	p.whole()
	return p, nil
}

// elements are the pieces that come out, by code.
func (from Source) elements() map[string]*domain.Element {
	out := map[string]*domain.Element{}
	if from.Register != nil {
		for i := range from.Register.Elements {
			out[from.Register.Elements[i].Code] = &from.Register.Elements[i]
		}
	}
	return out
}

// pricesFor are the firm's prices: those of the next premises, and where it has none those of here.
func (from Source) pricesFor(to *domain.Register) map[string]domain.Price {
	out := map[string]domain.Price{}
	maps.Copy(out, from.Prices)
	if from.Register != nil {
		maps.Copy(out, from.Register.PriceList())
	}
	maps.Copy(out, to.PriceList())
	return out
}

func nameOf(r *domain.Register, e *domain.Element) string {
	return fmt.Sprintf("%s, %s, %d x %d x %d", e.Kind, r.Catalogue.Materials[e.Material].Name, e.LengthMm, e.WidthMm, e.ThicknessMm)
}

// widthOf is the width of a piece that is cut from a sheet, 0 for a length.
func widthOf(r *domain.Register, e *domain.Element) int {
	if formOf(r.Catalogue.Materials[e.Material], e.Kind) == bySheet {
		return e.WidthMm
	}
	return 0
}

func sizeCode(material string, lengthMm, widthMm int) string {
	if widthMm == 0 {
		return fmt.Sprintf("%s/%d", material, lengthMm)
	}
	return fmt.Sprintf("%s/%dx%d", material, lengthMm, widthMm)
}
