package schedule

// Other is something that giving the place back needs and the crew does not do itself: a licensed person's hour, hired
// access equipment, the disposal of one waste code. Key is where a firm's price list prices it.
type Other struct {
	Key      string  `json:"rate_key"`
	What     string  `json:"what"`
	Quantity float64 `json:"quantity" jsonschema_description:"to three decimals"`
	Unit     string  `json:"unit"`
	Evidence string  `json:"evidence"`
}

// others writes an item for each that the firm has a price for, and answers the rest.
func (w *writer) others(all []Other) []Other {
	unpriced := []Other{}
	for _, o := range all {
		o.Quantity = thousandths(o.Quantity)
		if _, ok := w.prices[o.Key]; !ok {
			unpriced = append(unpriced, o)
			continue
		}
		item := Item{Group: WorkOfOthers, Key: "other:" + o.Key, Clause: w.clause(""), Location: w.r.FitOut.Name, AsBuilt: "needed for the strip-out",
			Reinstatement: o.What, Evidence: o.Evidence, Quantity: o.Quantity, Unit: o.Unit}
		w.price(&item, o.Key)
		w.items = append(w.items, item)
	}
	return unpriced
}
