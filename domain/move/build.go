package move

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"unpick/domain"
	"unpick/domain/choice"
)

// Build is one assembly of the next premises going up.
type Build struct {
	Order    int      `json:"order"`
	Assembly string   `json:"assembly"`
	Name     string   `json:"name"`
	Pieces   int      `json:"pieces"`
	Minutes  int      `json:"person_minutes"`
	Load     int      `json:"after_load,omitempty" jsonschema_description:"all its salvaged pieces have come by this trip; 0 needs none"`
	People   int      `json:"people,omitempty" jsonschema_description:"the most that a lift in it asks for; 0 is not known"`
	Access   []string `json:"access,omitempty" jsonschema_description:"beside the floor: steps, tower"`
	Other    bool     `json:"needs_another_vehicle,omitempty" jsonschema_description:"salvaged pieces of it are on no load"`
	Bought   bool     `json:"needs_bought_stock,omitempty"`
}

// turns are the places of the pieces of the next premises in the order of putting up: build order, then code.
func (p *Plan) turns() map[string]int {
	r := p.register
	order := make([]int, len(r.Elements))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(r.Elements[a].BuiltOrder, r.Elements[b].BuiltOrder), cmp.Compare(r.Elements[a].Code, r.Elements[b].Code))
	})
	out := map[string]int{}
	for turn, i := range order {
		out[r.Elements[i].Code] = turn
	}
	return out
}

// build lists the assemblies in the order in which their first pieces go up, with the work of putting them up: the
// handling rates of taking down, which are taken to be those of putting up too (common practice, no source), and the
// rates of putting fixings in.
func (p *Plan) build(to *domain.Register) {
	turns := p.turns()
	at := map[string]int{}
	first := map[string]int{}
	minutes := map[string]float64{}
	for i := range to.Elements {
		e := &to.Elements[i]
		if !e.ComesOut() {
			continue
		}
		k, ok := at[e.Assembly]
		if !ok {
			k = len(p.Build)
			at[e.Assembly], first[e.Assembly] = k, turns[e.Code]
			p.Build = append(p.Build, Build{Assembly: e.Assembly, Name: "loose pieces"})
		}
		p.Build[k].Pieces++
		first[e.Assembly] = min(first[e.Assembly], turns[e.Code])
		minutes[e.Assembly] += handling(to.Catalogue, e)
	}
	for i := range to.Fixings {
		if f := &to.Fixings[i]; f.InPlace() {
			minutes[f.Assembly] += choice.PutIn(to.Catalogue, *f)
		}
	}
	for _, a := range to.Assemblies {
		if k, ok := at[a.Code]; ok {
			p.Build[k].Name = a.Name
		}
	}
	p.arrivals(to, at)
	for k := range p.Build {
		p.Build[k].Minutes = int(math.Ceil(minutes[p.Build[k].Assembly]))
		p.Total.BuildMinutes += p.Build[k].Minutes
	}
	slices.SortFunc(p.Build, func(a, b Build) int {
		return cmp.Or(cmp.Compare(first[a.Assembly], first[b.Assembly]), cmp.Compare(a.Assembly, b.Assembly))
	})
	for k := range p.Build {
		p.Build[k].Order = k + 1
	}
}

// arrivals says by which trip the salvaged pieces of each assembly are there, and which need bought stock.
func (p *Plan) arrivals(to *domain.Register, at map[string]int) {
	load := map[string]int{}
	for _, l := range p.Loads {
		for _, piece := range l.Pieces {
			load[piece] = l.Number
		}
	}
	assembly := map[string]string{}
	salvaged := map[string]bool{}
	for i := range to.Elements {
		assembly[to.Elements[i].Code] = to.Elements[i].Assembly
	}
	for _, b := range p.used() {
		for _, code := range b.Makes {
			salvaged[code] = true
			if k, ok := at[assembly[code]]; ok {
				p.Build[k].Load = max(p.Build[k].Load, load[b.Stock])
				p.Build[k].Other = p.Build[k].Other || load[b.Stock] == 0
			}
		}
	}
	for i := range to.Elements {
		if e := &to.Elements[i]; e.ComesOut() && !salvaged[e.Code] {
			p.Build[at[e.Assembly]].Bought = true
		}
	}
}

func handling(c *domain.Catalogue, e *domain.Element) float64 {
	w := c.WorkRates["take-down-"+string(e.Kind)]
	switch w.Unit {
	case "m":
		return w.Minutes * float64(e.LengthMm) / 1000
	case "m2":
		return w.Minutes * e.FaceAreaM2()
	}
	return w.Minutes
}

// sawing is the person-minutes of cutting lengths and sheets, by the catalogue's rates a cut.
func (p *Plan) sawing(c *domain.Catalogue) (minutes int, made string) {
	lengths, sheets := 0, 0
	for _, x := range p.Lengths {
		lengths += x.Cuts
	}
	for _, x := range p.Sheets {
		sheets += x.Cuts
	}
	length, sheet := c.WorkRates["cut-length"], c.WorkRates["cut-sheet"]
	minutes = int(math.Ceil(float64(lengths)*length.Minutes + float64(sheets)*sheet.Minutes))
	return minutes, fmt.Sprintf("%s of lengths at %g min and %d of sheets at %g min (cut-length, cut-sheet: %s)", counted(lengths, "cut", "cuts"), length.Minutes, sheets, sheet.Minutes, length.Source)
}
