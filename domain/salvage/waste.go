package salvage

import (
	"cmp"
	"slices"
	"strings"

	"unpick/domain"
	"unpick/domain/catalogue"
)

// WasteLine is what leaves under one entry of the List of Waste, or what has no entry yet.
type WasteLine struct {
	Code        string   `json:"code" jsonschema_description:"entry of the List of Waste; empty where it has to be settled first"`
	Choice      []string `json:"choice,omitempty" jsonschema_description:"the mirror entries between which somebody has to assess"`
	Description string   `json:"description"`
	Hazardous   bool     `json:"hazardous,omitempty"`
	Pieces      []string `json:"pieces" jsonschema_description:"codes, in order"`
	MassKg      float64  `json:"mass_kg" jsonschema_description:"from mean densities: weighed where money or the law hangs on it"`
	OutKg       float64  `json:"out_kg" jsonschema_description:"of which is out and waits to be carted"`
	Unweighed   int      `json:"pieces_without_mass,omitempty"`
	Cautions    []string `json:"cautions,omitempty"`
	Route       string   `json:"route,omitempty" jsonschema_description:"where such waste usually goes"`
	Source      string   `json:"source,omitempty"`
	Confirmed   string   `json:"confirmed,omitempty"`
}

// Words is the code as it is written down, or that somebody has to be asked.
func (w WasteLine) Words() string {
	switch {
	case w.Code != "":
		return w.Code
	case len(w.Choice) > 0:
		return "ask first: " + strings.Join(w.Choice, " or ")
	}
	return "ask the carrier"
}

// waste sums what is not kept by its entry: settled ones in order of code, then what has to be asked.
func waste(c *domain.Catalogue, pieces []Piece) []WasteLine {
	lines := map[string]*WasteLine{}
	for i := range pieces {
		p := &pieces[i]
		if !p.Discarded() {
			continue
		}
		l := WasteLine{Code: p.WasteCode}
		if p.ConditionalWaste {
			l = WasteLine{Choice: p.WasteChoice}
		}
		key := l.Words()
		if lines[key] == nil {
			w := c.WasteCodes[p.WasteCode]
			l.Description, l.Route, l.Source, l.Confirmed = w.Description, w.Route, w.Source, w.Confirmed
			l.Hazardous = w.IsHazardous() && l.Code != ""
			lines[key] = &l
		}
		lines[key].take(p, c.Materials[p.Material])
	}
	out := make([]WasteLine, 0, len(lines))
	for _, l := range lines {
		out = append(out, *l)
	}
	slices.SortFunc(out, func(a, b WasteLine) int {
		if (a.Code == "") != (b.Code == "") {
			return cmp.Compare(b.Code, a.Code)
		}
		return cmp.Compare(a.Words(), b.Words())
	})
	return out
}

// take adds a piece to its line.
func (l *WasteLine) take(p *Piece, m domain.Material) {
	l.Pieces = append(l.Pieces, p.Code)
	l.MassKg += p.MassKg
	if p.State != "" {
		l.OutKg += p.MassKg
	}
	if !p.MassKnown {
		l.Unweighed++
	}
	caution := func(words string) {
		if words != "" && !slices.Contains(l.Cautions, words) {
			l.Cautions = append(l.Cautions, words)
		}
	}
	caution(p.WasteCaution)
	if catalogue.IsGypsum(m) {
		caution("gypsum: keep it apart and dry, never in a mixed skip; with rotting waste it makes hydrogen sulphide, which kills")
	}
	if p.Treated {
		caution("treated or old timber: no burning, no chipping for bedding or mulch, kept apart from clean wood until it is assessed")
	}
	if l.Hazardous {
		caution("hazardous: a consignment note in place of this one, and a carrier and a site with a licence for it")
	}
}
