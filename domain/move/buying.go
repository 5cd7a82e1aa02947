package move

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"unpick/domain"
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
	Section     string  `json:"section,omitempty" jsonschema_description:"of a length as it is bought, before it is ripped: thickness x width; how thick a piece is where its material does not say"`
	Treated     bool    `json:"treated,omitempty"`
	Size        string  `json:"size" jsonschema_description:"as merchants sell it"`
	LengthMm    int     `json:"length_mm,omitempty"`
	WidthMm     int     `json:"width_mm,omitempty"`
	Count       float64 `json:"count" jsonschema_description:"pieces, or metres; for the cutting alone"`
	Class       string  `json:"allowance_class,omitempty" jsonschema_description:"row of allowances that it is counted in"`
	Allowance   float64 `json:"allowance" jsonschema_description:"more of the same, against bad lengths and damage: its share of its class's"`
	Percent     float64 `json:"allowance_percent" jsonschema_description:"of its class"`
	Unit        string  `json:"unit"`
	PriceMinor  int64   `json:"price_minor"`
	Known       bool    `json:"price_known"`
	AmountMinor int64   `json:"amount_minor"`
	MassKg      float64 `json:"mass_kg"`
	MassKnown   bool    `json:"mass_known"`
	StackedM3   float64 `json:"stacked_m3"`
	CarbonKg    float64 `json:"embodied_kg_co2e" jsonschema_description:"mass times factor; 0 with carbon_known false is not known"`
	CarbonKnown bool    `json:"carbon_known"`
	GwpPerKg    float64 `json:"gwp_kg_co2e_per_kg" jsonschema_description:"modules A1-A3; 0 is no factor"`
	Source      string  `json:"source" jsonschema_description:"of density and carbon factor"`
	Confirmed   string  `json:"confirmed" jsonschema_description:"how far the source was confirmed"`
	each        one
	why         string
}

// one is one of what is bought: its mass, and its room in a stack.
type one struct{ kg, m3 float64 }

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

// buying turns what was cut from new stock, and the rest, into lines of whole things that merchants sell, adds the
// allowance of each class, and then the money, mass and carbon of both.
func (p *Plan) buying(prices map[string]domain.Price) {
	cat := p.register.Catalogue
	for _, c := range p.Lengths {
		m := cat.Materials[c.Material]
		for _, x := range sortedSizes(c.bought) {
			wide := cmp.Or(c.RipFromMm, c.WidthMm)
			p.line(m, Buy{Section: sectionWords(c.DepthMm, wide), Treated: c.Treated, Size: x.code, LengthMm: x.lengthMm, Count: float64(c.bought[x]), Unit: "length", PriceMinor: x.price, Known: x.priced, why: x.why,
				each: one{lengthMass(m, x.lengthMm, wide, c.DepthMm), volume(x.lengthMm, wide, c.DepthMm)}})
		}
	}
	for _, c := range p.Sheets {
		m := cat.Materials[c.Material]
		for _, x := range sortedSizes(c.bought) {
			p.line(m, Buy{Size: x.code, LengthMm: x.lengthMm, WidthMm: x.widthMm, Count: float64(c.bought[x]), Unit: "sheet", PriceMinor: x.price, Known: x.priced, why: x.why,
				each: one{sheetMass(m, x.lengthMm, x.widthMm, c.ThickMm), volume(x.lengthMm, x.widthMm, c.ThickMm)}})
		}
	}
	for _, u := range p.Units {
		if len(u.New) == 0 {
			continue
		}
		m := cat.Materials[u.Material]
		mass, _ := domain.Element{LengthMm: u.LengthMm, WidthMm: u.WidthMm, ThicknessMm: u.ThickMm}.MassOf(m)
		b := Buy{Size: u.Material, LengthMm: u.LengthMm, WidthMm: u.WidthMm, Count: float64(len(u.New)), Unit: "piece", each: one{mass, volume(u.LengthMm, u.WidthMm, u.ThickMm)}}
		if m.ThicknessMm == 0 && u.ThickMm > 0 {
			b.Section = fmt.Sprintf("%d mm thick", u.ThickMm)
		}
		b.PriceMinor, b.Known, b.why = bought{key: "material:" + u.Material, size: fmt.Sprintf("%dx%d", u.LengthMm, u.WidthMm), metres: float64(u.LengthMm) / 1000, m2: float64(u.LengthMm) * float64(u.WidthMm) / 1e6, kg: mass}.priceOf(prices)
		p.line(m, b)
	}
	for _, x := range p.Metres {
		m := cat.Materials[x.Material]
		b := Buy{Size: x.Material, Count: math.Ceil(x.Metres - 1e-9), Unit: "m", each: one{kg: m.MassKgM}}
		b.PriceMinor, b.Known, b.why = bought{key: "material:" + x.Material, metres: 1, severalSizes: true}.priceOf(prices)
		p.line(m, b)
	}
	p.allow()
	for i := range p.Buying {
		p.reckon(cat.Materials[p.Buying[i].Material], &p.Buying[i])
	}
}

// line adds to what is bought: the same section at the same length is one line, whatever is cut or ripped from it.
func (p *Plan) line(m domain.Material, b Buy) {
	b.Material, b.Name = m.Code, m.Name
	if at := slices.IndexFunc(p.Buying, func(o Buy) bool {
		return o.Material == b.Material && o.Section == b.Section && o.Treated == b.Treated && o.Size == b.Size && o.Unit == b.Unit && o.WidthMm == b.WidthMm && o.LengthMm == b.LengthMm
	}); at >= 0 {
		p.Buying[at].Count += b.Count
		return
	}
	p.Buying = append(p.Buying, b)
}

// Title is what is bought, with its section where the name does not say it.
func (b Buy) Title() string { return titled(b.Name, b.Section, b.Treated) }

func titled(name, section string, treated bool) string {
	if section != "" && !strings.Contains(name, section) {
		name += ", " + section
	}
	if treated {
		name += ", treated"
	}
	return name
}

func sectionWords(depthMm, widthMm int) string { return fmt.Sprintf("%d x %d", depthMm, widthMm) }

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

// reckon sets the money, mass and carbon of a line, its allowance in them. What has no price, mass or factor says so.
func (p *Plan) reckon(m domain.Material, b *Buy) {
	all := b.Count + b.Allowance
	if b.Known {
		b.AmountMinor = int64(math.Round(all * float64(b.PriceMinor)))
		p.Total.NewMinor += b.AmountMinor
		p.Total.WasteNewMinor += int64(math.Round(b.Allowance * float64(b.PriceMinor)))
	} else {
		p.Total.Known = false
		p.Unpriced = append(p.Unpriced, noPriceFor("material:"+b.Material, b.why))
	}
	b.MassKg, b.MassKnown = tenth(all*b.each.kg), b.each.kg > 0
	b.StackedM3 = math.Round(stackedM3(m, all*b.each.m3)*1000) / 1000
	b.GwpPerKg, b.Source, b.Confirmed = m.GwpPerKg, m.Source, m.Confirmed
	if b.CarbonKnown = b.MassKnown && m.GwpPerKg > 0; b.CarbonKnown {
		b.CarbonKg = tenth(all * b.each.kg * m.GwpPerKg)
	} else if !slices.Contains(p.Total.NoCarbon, b.Name) {
		p.Total.NoCarbon = append(p.Total.NoCarbon, b.Name)
	}
	p.Total.NewKg, p.Total.NewCarbonKg = tenth(p.Total.NewKg+b.MassKg), tenth(p.Total.NewCarbonKg+b.CarbonKg)
}

// newM3 is the room that all that is bought takes in a stack.
func (p *Plan) newM3() float64 {
	sum := 0.0
	for i := range p.Buying {
		sum += p.Buying[i].StackedM3
	}
	return sum
}

func volume(a, b, c int) float64 { return float64(a) * float64(b) * float64(c) / 1e9 }

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
