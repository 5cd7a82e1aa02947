package move

import (
	"cmp"
	"math"
	"slices"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/salvage"
)

// Unit is whole pieces of one kind and size.
type Unit struct {
	Material string   `json:"material"`
	Name     string   `json:"name"`
	LengthMm int      `json:"length_mm"`
	WidthMm  int      `json:"width_mm"`
	ThickMm  int      `json:"thickness_mm"`
	Becomes  []Become `json:"becomes" jsonschema_description:"salvaged pieces that are used as they are"`
	New      []string `json:"new" jsonschema_description:"codes of pieces that are bought"`
}

// Metre is a material that is bought by the metre.
type Metre struct {
	Material string  `json:"material"`
	Name     string  `json:"name"`
	Metres   float64 `json:"metres"`
}

// Buy is one line of the buying list.
type Buy struct {
	Material    string  `json:"material"`
	Name        string  `json:"name"`
	Size        string  `json:"size" jsonschema_description:"as merchants sell it"`
	LengthMm    int     `json:"length_mm,omitempty"`
	WidthMm     int     `json:"width_mm,omitempty"`
	Count       float64 `json:"count" jsonschema_description:"pieces, or metres; for the cutting alone"`
	Allowance   float64 `json:"allowance" jsonschema_description:"more of the same, against bad lengths and damage"`
	Percent     float64 `json:"allowance_percent"`
	Unit        string  `json:"unit"`
	PriceMinor  int64   `json:"price_minor"`
	Known       bool    `json:"price_known"`
	AmountMinor int64   `json:"amount_minor"`
	MassKg      float64 `json:"mass_kg"`
	CarbonKg    float64 `json:"embodied_kg_co2e"`
}

// units uses salvaged pieces as they are where material and size are the same, and buys the rest by the piece.
func (p *Plan) units(want wanted, stock saved, prices map[string]domain.Price) {
	r := p.register
	for _, s := range want.sectionsOf(byPiece) {
		u := Unit{Material: s.material, Name: r.Catalogue.Materials[s.material].Name, LengthMm: s.a, WidthMm: s.b, ThickMm: s.c, Becomes: []Become{}, New: []string{}}
		there := bestFirst(stock[byPiece][s])
		for _, i := range want.by[byPiece][s] {
			e := &r.Elements[i]
			at := slices.IndexFunc(there, func(q *salvage.Piece) bool {
				list := serves(q)
				return list == nil || slices.Contains(list, string(e.Kind))
			})
			if at < 0 {
				u.New = append(u.New, e.Code)
				continue
			}
			u.Becomes = append(u.Becomes, Become{Stock: there[at].Code, Salvaged: true, LengthMm: s.a, Makes: []string{e.Code}})
			there = slices.Delete(there, at, at+1)
		}
		p.Units = append(p.Units, u)
	}
}

func (p *Plan) metres(want wanted, prices map[string]domain.Price) {
	for _, s := range want.sectionsOf(byMetre) {
		m := Metre{Material: s.material, Name: p.register.Catalogue.Materials[s.material].Name}
		for _, i := range want.by[byMetre][s] {
			m.Metres += float64(p.register.Elements[i].LengthMm) / 1000
		}
		if at := slices.IndexFunc(p.Metres, func(x Metre) bool { return x.Material == m.Material }); at >= 0 {
			p.Metres[at].Metres += m.Metres
			continue
		}
		p.Metres = append(p.Metres, m)
	}
}

// buying turns what was cut from new stock, and the rest, into lines of whole things that merchants sell, each with its
// allowance.
func (p *Plan) buying(prices map[string]domain.Price) {
	cat := p.register.Catalogue
	for _, c := range p.Lengths {
		for _, m := range sortedSizes(c.bought) {
			p.buy(cat, c.Material, Buy{Size: m.code, LengthMm: m.lengthMm, Count: float64(c.bought[m]), Unit: "length", PriceMinor: m.price, Known: m.priced},
				lengthMass(cat.Materials[c.Material], m.lengthMm, c.WidthMm, c.DepthMm))
		}
	}
	for _, c := range p.Sheets {
		for _, m := range sortedSizes(c.bought) {
			p.buy(cat, c.Material, Buy{Size: m.code, LengthMm: m.lengthMm, WidthMm: m.widthMm, Count: float64(c.bought[m]), Unit: "sheet", PriceMinor: m.price, Known: m.priced},
				sheetMass(cat.Materials[c.Material], m.lengthMm, m.widthMm, c.ThickMm))
		}
	}
	for _, u := range p.Units {
		if len(u.New) > 0 {
			price, known := priceOf(prices["material:"+u.Material], prices["material:"+u.Material].Key != "", float64(u.LengthMm)/1000, float64(u.LengthMm)*float64(u.WidthMm)/1e6)
			p.buy(cat, u.Material, Buy{Size: u.Material, LengthMm: u.LengthMm, WidthMm: u.WidthMm, Count: float64(len(u.New)), Unit: "piece", PriceMinor: price, Known: known}, cat.Materials[u.Material].UnitMassKg)
		}
	}
	for _, m := range p.Metres {
		price, known := priceOf(prices["material:"+m.Material], prices["material:"+m.Material].Unit == "m", 1, 0)
		p.buy(cat, m.Material, Buy{Size: m.Material, Count: math.Ceil(m.Metres), Unit: "m", PriceMinor: price, Known: known}, cat.Materials[m.Material].MassKgM)
	}
}

func sortedSizes(bought map[merchant]int) []merchant {
	var out []merchant
	for m := range bought {
		out = append(out, m)
	}
	slices.SortFunc(out, func(a, b merchant) int {
		return cmp.Or(cmp.Compare(a.lengthMm, b.lengthMm), cmp.Compare(a.widthMm, b.widthMm))
	})
	return out
}

// buy adds the allowance of the material's class, in whole things, and the money, mass and carbon of both.
func (p *Plan) buy(cat *domain.Catalogue, material string, b Buy, massKg float64) {
	m := cat.Materials[material]
	b.Material, b.Name = material, m.Name
	if w, ok := catalogue.WastageFor(m); ok && b.Unit != "piece" {
		b.Percent = w.Percent
		b.Allowance = math.Ceil(b.Count*w.Percent/100 - 1e-9)
	}
	all := b.Count + b.Allowance
	if b.Known {
		b.AmountMinor = int64(math.Round(all * float64(b.PriceMinor)))
		p.Total.NewMinor += b.AmountMinor
		p.Total.WasteNewMinor += int64(math.Round(b.Allowance * float64(b.PriceMinor)))
	} else {
		p.Total.Known = false
		p.Unpriced = append(p.Unpriced, "material:"+material)
	}
	b.MassKg = tenth(all * massKg)
	b.CarbonKg = tenth(all * massKg * m.GwpPerKg)
	p.Total.NewKg, p.Total.NewCarbonKg = tenth(p.Total.NewKg+b.MassKg), tenth(p.Total.NewCarbonKg+b.CarbonKg)
	p.Buying = append(p.Buying, b)
}

func lengthMass(m domain.Material, lengthMm, a, b int) float64 {
	if m.MassKgM > 0 {
		return m.MassKgM * float64(lengthMm) / 1000
	}
	return m.DensityKgM3 * float64(lengthMm) * float64(a) * float64(b) / 1e9
}

func sheetMass(m domain.Material, lengthMm, widthMm, thickMm int) float64 {
	area := float64(lengthMm) * float64(widthMm) / 1e6
	if m.MassKgM2 > 0 {
		return m.MassKgM2 * area
	}
	return m.DensityKgM3 * area * float64(thickMm) / 1000
}

func tenth(x float64) float64 { return math.Round(x*10) / 10 }
