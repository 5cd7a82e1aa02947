package makinggood

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"unpick/domain"
)

// Plane is one host surface redecorated to its nearest natural break: one item for all its holes.
type Plane struct {
	Host        string   `json:"host"`
	HostName    string   `json:"host_name"`
	AreaM2      float64  `json:"area_m2"`
	Basis       string   `json:"area_basis" jsonschema_description:"where the area comes from"`
	Holes       int      `json:"holes" jsonschema_description:"repaired holes that it covers"`
	Places      int      `json:"places" jsonschema_description:"repaired in all: its holes, and every bead and mark that a fixing without a hole leaves"`
	Assemblies  []string `json:"assemblies,omitempty" jsonschema_description:"that it was repaired for, in order of code; empty text for what no assembly made"`
	Finish      string   `json:"finish"`
	Repair      string   `json:"repair"`
	Steps       string   `json:"steps"`
	Minutes     int      `json:"labour_minutes"`
	PaintMl     float64  `json:"paint_ml,omitempty"`
	RateMinor   int64    `json:"rate_minor"`
	RateKnown   bool     `json:"rate_known"`
	AmountMinor int64    `json:"amount_minor"`
	Done        string   `json:"done,omitempty" jsonschema_description:"who signed for it, and when: no longer owed"`
}

const redecorate = "redecorate-to-break"

// ours reports whether a repair is owed or was: only such a one has its surface redecorated. What is repaired as a favour,
// there before the tenant or in a defect of the start, asks for no paint from us, whoever signs for it.
func (row *Row) ours() bool { return row.Charged || row.NotOwed == MadeGood }

// planes lists the decorated surfaces that have a row which is or was owed, each once. One stays owed until somebody
// signs for it, after the last repair under it.
func planes(r *domain.Register, rows []Row, prices map[string]domain.Price) []Plane {
	holes, places, open, whose := map[string]int{}, map[string]int{}, map[string]bool{}, map[string][]string{}
	for _, row := range rows {
		if row.ours() {
			places[row.Host] += row.Places // a bead is one place, however many metres it is
			if row.Hole != "" {
				holes[row.Host] += row.Places
			}
			open[row.Host] = open[row.Host] || row.Charged
			whose[row.Host] = append(whose[row.Host], row.Assembly)
		}
	}
	done := painted(r, rows)
	repair := r.Catalogue.Repairs[redecorate]
	out := []Plane{}
	for _, h := range r.Hosts {
		n, touched := places[h.Code]
		if !touched || !decorated(h.Finish) {
			continue
		}
		p := Plane{Host: h.Code, HostName: h.Name, Holes: holes[h.Code], Places: n, Finish: h.Finish,
			Repair: repair.Slug, Steps: repair.Steps}
		p.Assemblies = slices.Compact(slices.Sorted(slices.Values(whose[h.Code])))
		p.AreaM2, p.Basis = area(h)
		if !open[h.Code] && done[h.Code] != "" {
			p.Done = done[h.Code]
			out = append(out, p)
			continue
		}
		p.PaintMl = paintMl(repair, p.AreaM2)
		p.Minutes = int(float64(repair.LabourMinutes)*p.AreaM2 + 0.5)
		if price, ok := prices["repair:"+redecorate]; ok {
			p.RateMinor, p.RateKnown = price.Amount, true
			p.AmountMinor = int64(float64(price.Amount)*p.AreaM2 + 0.5)
		}
		out = append(out, p)
	}
	slices.SortFunc(out, func(a, b Plane) int { return cmp.Compare(a.Host, b.Host) })
	return out
}

// painted says who signed for the redecoration of each surface, where that was after the last repair of ours under it.
func painted(r *domain.Register, rows []Row) map[string]string {
	host, spoils := map[string]string{}, map[string]string{}
	for i := range rows {
		row := &rows[i]
		code := cmp.Or(row.Hole, row.Fixing)
		host[code] = row.Host
		if row.ours() {
			spoils[code] = row.Host
		}
	}
	out := map[string]string{}
	for _, s := range r.Signed(domain.MadeGood) {
		for _, code := range s.About {
			delete(out, spoils[code])
		}
		for _, code := range s.About {
			if host[code] == "" {
				out[code] = s.Evidenced()
			}
		}
	}
	return out
}

// area is what is painted, and what that rests on.
func area(h domain.HostSurface) (areaM2 float64, basis string) {
	areaM2, stated := h.DecoratedM2()
	if stated {
		return areaM2, "finish area as stated for the surface"
	}
	return areaM2, fmt.Sprintf("the whole rectangle, %d x %d mm, nothing taken off", h.UMm, h.VMm)
}

// decorated reports whether a finish is one that a repaired hole shows in.
func decorated(finish string) bool {
	f := strings.ToLower(finish)
	for _, word := range []string{"paint", "emulsion", "paper", "varnish", "stain"} {
		if strings.Contains(f, word) && !strings.Contains(f, "unpainted") {
			return true
		}
	}
	return false
}
