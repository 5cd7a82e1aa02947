package move

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"regexp"
	"slices"
	"strconv"

	"unpick/domain"
	"unpick/domain/salvage"
)

// Fixing is one type of fixing and length that the next premises need. A type has one diameter, so type and length are
// the whole size: a shorter screw is not used for a longer one.
type Fixing struct {
	Type        string  `json:"type"`
	Name        string  `json:"name"`
	LengthMm    int     `json:"length_mm,omitempty" jsonschema_description:"of one; 0 is not logged, and then only those of no length logged are used again"`
	DiameterMm  float64 `json:"diameter_mm,omitempty" jsonschema_description:"that the type is named by"`
	Need        int     `json:"need"`
	Metres      float64 `json:"metres,omitempty" jsonschema_description:"for beads: always new"`
	Reused      int     `json:"used_again" jsonschema_description:"fit ones of the same type and length that come out"`
	Margin      int     `json:"margin"`
	Buy         int     `json:"buy" jsonschema_description:"pieces that are needed new, margin in them"`
	PackOf      int     `json:"pack_of,omitempty" jsonschema_description:"pieces that one price is for, as its unit says; 0 is no price, 1 is by the piece"`
	Packs       int     `json:"packs,omitempty" jsonschema_description:"whole packs that buy takes; pieces where pack_of is 1"`
	PriceMinor  int64   `json:"price_minor" jsonschema_description:"of a pack, or of a metre"`
	Known       bool    `json:"price_known"`
	AmountMinor int64   `json:"amount_minor" jsonschema_description:"of whole packs"`
	Caution     string  `json:"caution,omitempty"`
}

// BuyWords says what to buy: "9 pieces", "4 packs of 200 for 651 pieces", "12.5 m", "" for nothing.
func (x Fixing) BuyWords() string {
	switch {
	case x.Metres > 0:
		return fmt.Sprintf("%.1f m", x.Metres)
	case x.Buy == 0:
		return ""
	case x.PackOf > 1:
		return fmt.Sprintf("%s of %d for %s", counted(x.Packs, "pack", "packs"), x.PackOf, counted(x.Buy, "piece", "pieces"))
	}
	return counted(x.Buy, "piece", "pieces")
}

// fits hold without any object of their own: weight, friction, a tongue in its groove. Nothing is bought for one.
var fits = []string{"friction-fit", "bearing", "slide-deflection", "tongue-groove-dry"}

// fixingSize is what two fixings must share to stand in for each other.
type fixingSize struct {
	kind     string
	lengthMm int
}

var sizedType = regexp.MustCompile(`x([0-9]+)$`)

// sizeOf is the size of a fixing: its own length, else the length that its type is named by.
func sizeOf(f *domain.Fixing) fixingSize {
	s := fixingSize{f.Type, f.LengthMm}
	if m := sizedType.FindStringSubmatch(f.Type); s.lengthMm == 0 && m != nil {
		s.lengthMm, _ = strconv.Atoi(m[1]) // the pattern lets digits through only
	}
	return s
}

func (s fixingSize) compare(o fixingSize) int {
	return cmp.Or(cmp.Compare(s.kind, o.kind), cmp.Compare(s.lengthMm, o.lengthMm))
}

// fixings counts what is needed by type and length, takes what comes out fit, and buys the rest with the margin, in whole
// packs where the price is for a pack.
func (p *Plan) fixings(from Source, to *domain.Register, prices map[string]domain.Price) {
	at := map[fixingSize]*Fixing{}
	here, there := p.asOneHolds()
	for i := range to.Fixings {
		f := &to.Fixings[i]
		if !f.InPlace() || slices.Contains(fits, f.Type) || staysIn(f, there) {
			continue
		}
		t, size := to.Catalogue.FixingTypes[f.Type], sizeOf(f)
		x := at[size]
		if x == nil {
			x = &Fixing{Type: f.Type, Name: t.Name, LengthMm: size.lengthMm, DiameterMm: t.NominalMm}
			at[size] = x
		}
		if t.UndoUnit == "m" {
			x.Metres += float64(f.BeadMm) / 1000
		} else {
			x.Need += f.Count
		}
	}
	fit := fitOf(from, here)
	for _, b := range from.Inventory.Fixings {
		for size, x := range at {
			if size.kind == b.Type {
				x.Caution = b.Caution
			}
		}
	}
	for size, x := range at {
		x.Reused = min(fit[size], x.Need)
		if short := x.Need - x.Reused; short > 0 {
			x.Margin = int(math.Ceil(float64(short)*float64(p.Terms.FixingPercent)/100 - 1e-9))
			x.Buy = short + x.Margin
		}
	}
	for _, size := range slices.SortedFunc(maps.Keys(at), fixingSize.compare) {
		p.price(at[size], prices)
		p.Fixings = append(p.Fixings, *at[size])
	}
	slices.Sort(p.Unpriced)
	p.Unpriced = slices.Compact(p.Unpriced)
}

// price sets what a size costs, and names it where it has no price that can be read.
func (p *Plan) price(x *Fixing, prices map[string]domain.Price) {
	if x.Buy == 0 && x.Metres == 0 {
		_, _, x.Known, _ = fixingPrice(prices, x.Type, x.LengthMm, x.Metres > 0)
		return
	}
	why := ""
	if x.PriceMinor, x.PackOf, x.Known, why = fixingPrice(prices, x.Type, x.LengthMm, x.Metres > 0); !x.Known {
		p.Total.Known = false
		key := "fixing:" + x.Type
		if x.LengthMm > 0 && x.Metres == 0 {
			key = domain.OfSize(key, fmt.Sprint(x.LengthMm))
		}
		p.Unpriced = append(p.Unpriced, noPriceFor(key, why))
		return
	}
	if x.Metres > 0 {
		x.PackOf = 0
		x.AmountMinor = int64(math.Round(float64(x.PriceMinor) * x.Metres))
	} else {
		x.Packs = (x.Buy + x.PackOf - 1) / x.PackOf
		x.AmountMinor = x.PriceMinor * int64(x.Packs)
	}
	p.Total.FixingsMinor += x.AmountMinor
}

// asOneHolds says of every piece of here, and of every piece of there, in which subassembly it rides that is carried as one.
func (p *Plan) asOneHolds() (here, there map[string]string) {
	here, there = map[string]string{}, map[string]string{}
	for _, w := range p.Wholes {
		for _, c := range w.Carried {
			if c.AsOne() {
				for _, code := range c.Pieces {
					here[code] = c.Code
				}
			}
		}
		for _, b := range w.Becomes {
			if in, ok := here[b.Stock]; ok {
				there[b.Makes[0]] = in
			}
		}
	}
	return here, there
}

// staysIn reports whether a fixing holds two pieces together that ride in one: it is neither undone nor bought.
func staysIn(f *domain.Fixing, rides map[string]string) bool {
	in := rides[f.Holds]
	return in != "" && f.InPlace() && rides[f.IntoElement] == in
}

// fitOf counts the fixings that come out fit for use again, by size: of what comes out, each size's share of its type. Those of
// a frame that is taken to pieces here come out too, after it is down; those of one that rides as one stay in it.
func fitOf(from Source, rides map[string]string) map[fixingSize]int {
	if from.Register == nil {
		return nil
	}
	r := from.Register.Leaving()
	index := r.Index()
	back := map[fixingSize]int{}
	for i := range r.Fixings {
		f := &r.Fixings[i]
		if f.State == domain.FixingStruck || staysIn(f, rides) || r.Catalogue.FixingTypes[f.Type].UndoUnit != "each" {
			continue
		}
		if e, ok := index.Elements[f.Holds]; ok && (r.Elements[e].ComesOut() || salvage.IsOut(&r.Elements[e])) {
			back[sizeOf(f)] += f.Count
		}
	}
	for size, n := range back {
		back[size] = int(math.Floor(float64(n)*r.Catalogue.FixingTypes[size.kind].ReuseFraction + 1e-9))
	}
	return back
}
