package cutting

// Plan is a cutting that can be carried out, and how near it is to the best there can be.
type Plan struct {
	Bars   []Layout `json:"bars" jsonschema_description:"what is cut from which stock, in the order of the stock"`
	Unmade []Unmade `json:"unmade,omitempty" jsonschema_description:"what cannot be made, and why"`
	Buy    []Buy    `json:"buy,omitempty" jsonschema_description:"how many of each priced or unlimited stock"`

	// Unpriced are the codes of new stock without a price. Where there is one, no total is given: the least length bought
	// is sought instead of the least money, and Objective and Bound are millimetres.
	Unpriced  []string `json:"unpriced,omitempty"`
	CostMinor int64    `json:"cost_minor" jsonschema_description:"money on stock; 0 where a price is missing"`

	// Objective is CostMinor (or the length bought in mm) for what is made. Bound is what no cutting that makes as much can
	// go below; Proven says that the two meet.
	Objective  int64   `json:"objective"`
	Bound      int64   `json:"bound"`
	GapPercent float64 `json:"gap_percent" jsonschema_description:"objective above bound, in percent of the bound"`
	Proven     bool    `json:"proven" jsonschema_description:"no cutting costs less"`

	UsedMm  int64 `json:"used_mm" jsonschema_description:"length of all stock used"`
	MadeMm  int64 `json:"made_mm" jsonschema_description:"length of all pieces made"`
	WasteMm int64 `json:"waste_mm" jsonschema_description:"used less made: offcuts and saw dust"`
	Cuts    int   `json:"cuts"`
	Rounds  int   `json:"rounds"`
}

// Layout is what is cut from one bar, or from each of Times like bars. Cuts are in the order of sawing, from one end,
// longest first.
type Layout struct {
	Stock    int   `json:"stock" jsonschema_description:"row of the stock"`
	Times    int   `json:"times" jsonschema_description:"how many bars are cut so"`
	Cuts     []Cut `json:"cuts"`
	OffcutMm int   `json:"offcut_mm" jsonschema_description:"what is left after the last cut, saw dust off"`
}

// Cut is one piece on a bar, from one end of it in mm. The saw cut lies beyond ToMm.
type Cut struct {
	Demand int `json:"demand" jsonschema_description:"row of the demand"`
	FromMm int `json:"from_mm"`
	ToMm   int `json:"to_mm"`
}

// Unmade is demand that stays open.
type Unmade struct {
	Demand int    `json:"demand" jsonschema_description:"row of the demand"`
	Count  int    `json:"count"`
	Reason string `json:"reason"`
}

// Buy is one line of the buying list.
type Buy struct {
	Stock       int   `json:"stock" jsonschema_description:"row of the stock"`
	Count       int   `json:"count"`
	AmountMinor int64 `json:"amount_minor"`
}

// Sawn is how many saw cuts a layout takes: one after each piece, save the last that ends where the bar ends.
func (l *Layout) Sawn(lengthMm int) int {
	n := len(l.Cuts)
	if n > 0 && l.Cuts[n-1].ToMm == lengthMm {
		n--
	}
	return n
}
