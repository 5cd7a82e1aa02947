package makinggood

import (
	"cmp"
	"math"
	"slices"

	"unpick/domain"
	"unpick/domain/catalogue"
)

// Buy is one material to buy for what is still owed: its millilitres over every row, and the whole packs they take. The
// rates of the repairs include it: it is a list for the merchant, not another cost.
type Buy struct {
	Material string  `json:"material"`
	Ml       float64 `json:"ml" jsonschema_description:"to buy, waste in it"`
	PackMl   int     `json:"pack_ml" jsonschema_description:"a common pack; common practice, no source"`
	Packs    int     `json:"packs"`
	Rows     []int   `json:"rows,omitempty" jsonschema_description:"making-good rows that take it"`
	Planes   int     `json:"planes,omitempty" jsonschema_description:"surfaces to redecorate that take it"`
}

// buying lists what the rows and planes that are owed take, in order of material and pack.
func buying(cat *domain.Catalogue, rows []Row, planes []Plane) []Buy {
	type pack struct {
		material string
		ml       int
	}
	at := map[pack]int{}
	out := []Buy{}
	line := func(repair string) *Buy {
		r := cat.Repairs[repair]
		if r.PackMl == 0 {
			return nil
		}
		k := pack{r.Buys, r.PackMl}
		i, ok := at[k]
		if !ok {
			i = len(out)
			at[k] = i
			out = append(out, Buy{Material: r.Buys, PackMl: r.PackMl})
		}
		return &out[i]
	}
	for _, row := range rows {
		if row.MaterialMl == 0 || !row.Charged {
			continue
		}
		if b := line(row.Repair); b != nil {
			b.Ml += row.MaterialMl
			b.Rows = append(b.Rows, row.Number)
		}
	}
	for _, p := range planes {
		if p.Done != "" {
			continue
		}
		if b := line(p.Repair); b != nil {
			b.Ml += p.PaintMl
			b.Planes++
		}
	}
	for i := range out {
		out[i].Ml = math.Round(out[i].Ml*10) / 10
		out[i].Packs = int(math.Ceil(out[i].Ml/float64(out[i].PackMl) - 1e-9))
	}
	slices.SortFunc(out, func(a, b Buy) int {
		return cmp.Or(cmp.Compare(a.Material, b.Material), cmp.Compare(a.PackMl, b.PackMl))
	})
	return out
}

// paintMl is the paint for so many square metres of a repair that is counted by them.
func paintMl(r domain.Repair, areaM2 float64) float64 {
	return catalogue.RepairVolumeMl(r, 0, 0) * areaM2
}
