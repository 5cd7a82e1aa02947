package cutting

// SheetPlan is a cutting of sheets that can be carried out, and how near it is to the best there can be. Its fields are
// those of Plan, with areas for lengths.
type SheetPlan struct {
	Sheets     []SheetLayout `json:"sheets" jsonschema_description:"what is cut from which sheet, in the order of the stock"`
	Unmade     []Unmade      `json:"unmade,omitempty" jsonschema_description:"what cannot be made, and why"`
	Buy        []Buy         `json:"buy,omitempty" jsonschema_description:"how many of each priced or unlimited sheet"`
	Unpriced   []string      `json:"unpriced,omitempty" jsonschema_description:"new sheets without a price: then the least area bought is sought, Objective and Bound are mm2, no total is given"`
	CostMinor  int64         `json:"cost_minor"`
	Objective  int64         `json:"objective"`
	Bound      int64         `json:"bound"`
	GapPercent float64       `json:"gap_percent"`
	Proven     bool          `json:"proven" jsonschema_description:"no cutting costs less"`
	UsedMm2    int64         `json:"used_mm2"`
	MadeMm2    int64         `json:"made_mm2"`
	WasteMm2   int64         `json:"waste_mm2" jsonschema_description:"used less made: offcuts and saw dust"`
	Cuts       int           `json:"cuts"`
	Rounds     int           `json:"rounds"`
}

// SheetLayout is what is cut from one sheet, or from each of Times like sheets.
type SheetLayout struct {
	Stock   int      `json:"stock" jsonschema_description:"row of the stock"`
	Times   int      `json:"times"`
	Panels  []Placed `json:"panels"`
	Saw     []SawCut `json:"saw" jsonschema_description:"in the order of sawing"`
	Offcuts []Rect   `json:"offcuts,omitempty"`
}

// Rect is a part of a sheet: X along its length, Y along its width, from one corner, in mm.
type Rect struct {
	XMm      int `json:"x_mm"`
	YMm      int `json:"y_mm"`
	LengthMm int `json:"length_mm"`
	WidthMm  int `json:"width_mm"`
}

// Placed is one panel on a sheet.
type Placed struct {
	Demand int  `json:"demand" jsonschema_description:"row of the demand"`
	Turned bool `json:"turned,omitempty" jsonschema_description:"its length lies along the width of the sheet"`
	Rect
}

// SawCut divides a part of a sheet from edge to edge. The saw takes the kerf beyond AtMm.
type SawCut struct {
	Part Rect `json:"part" jsonschema_description:"the part that is cut in two"`
	Rip  bool `json:"rip" jsonschema_description:"along the length, AtMm being a Y; else across, AtMm being an X"`
	AtMm int  `json:"at_mm"`
}

func (r Rect) area() int64 { return int64(r.LengthMm) * int64(r.WidthMm) }
