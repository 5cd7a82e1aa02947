package move

import (
	"cmp"
	"fmt"
	"slices"

	"unpick/domain/cutting"
)

// LengthCut is the cutting of one section of one material.
type LengthCut struct {
	Material   string   `json:"material"`
	Name       string   `json:"name"`
	WidthMm    int      `json:"width_mm"`
	DepthMm    int      `json:"thickness_mm"`
	Treated    bool     `json:"treated,omitempty"`
	RipFromMm  int      `json:"rip_from_mm,omitempty" jsonschema_description:"the width that is sold, where what is bought is ripped to the section first"`
	Becomes    []Become `json:"cut_list" jsonschema_description:"salvaged pieces first"`
	Bound      int64    `json:"bound"`
	Objective  int64    `json:"objective" jsonschema_description:"money on new stock in minor units; millimetres bought where a price is missing"`
	GapPercent float64  `json:"gap_percent"`
	Proven     bool     `json:"proven"`
	WasteMm    int64    `json:"waste_mm"`
	Cuts       int      `json:"cuts"`
	bought     map[merchant]int
	solved     solved
}

// Title is what is cut, and to which section where the name does not say so.
func (c *LengthCut) Title() string {
	if c.RipFromMm > 0 {
		return titled(fmt.Sprintf("%s, ripped from %d to %d", c.Name, c.RipFromMm, c.WidthMm), "", c.Treated)
	}
	return titled(c.Name, sectionWords(c.DepthMm, c.WidthMm), c.Treated)
}

// SheetCut is the cutting of one sheet material of one thickness.
type SheetCut struct {
	Material   string        `json:"material"`
	Name       string        `json:"name"`
	ThickMm    int           `json:"thickness_mm"`
	KerfMm     int           `json:"kerf_mm" jsonschema_description:"0 where it is scored and snapped or cut with a knife"`
	Layouts    []SheetLayout `json:"cut_list" jsonschema_description:"salvaged sheets first"`
	Bound      int64         `json:"bound"`
	Objective  int64         `json:"objective"`
	GapPercent float64       `json:"gap_percent"`
	Proven     bool          `json:"proven"`
	WasteMm2   int64         `json:"waste_mm2"`
	Cuts       int           `json:"cuts"`
	bought     map[merchant]int
	solved     solved
}

// SheetLayout is one sheet and what is cut from it, where.
type SheetLayout struct {
	Become
	Panels  []Panel          `json:"panels" jsonschema_description:"places on the sheet, or on the part of it that is used: see shape"`
	Saw     []cutting.SawCut `json:"saw" jsonschema_description:"straight through that part, in this order; it is cut out first, and panels that are not square are cut to shape last"`
	Offcuts []cutting.Rect   `json:"offcuts,omitempty"`
}

// Panel is one piece on a sheet.
type Panel struct {
	Element string `json:"element"`
	Turned  bool   `json:"turned,omitempty"`
	cutting.Rect
}

func salvagedFirst(a, b Become) int {
	return cmp.Or(cmp.Compare(boolInt(!a.Salvaged), boolInt(!b.Salvaged)), cmp.Compare(a.Stock, b.Stock))
}

// unmade names the pieces that no stock could make: those of a row that are left without a place.
func (p *Plan) unmade(left [][]int, unmade []cutting.Unmade, source product) {
	for _, u := range unmade {
		for _, i := range left[u.Demand] {
			e := &p.register.Elements[i]
			why, mend := u.Reason, mendOf(e.Kind)
			switch {
			case source.why != "":
				why, mend = source.why, notSold
			case source.carriesNo != "" && !slices.Contains(source.serves, string(e.Kind)):
				why, mend = source.carriesNo, notSold
			}
			p.cannot(e, why, mend)
		}
	}
}
