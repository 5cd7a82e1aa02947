package schedule

import "slices"

// Other is something that giving the place back needs and the crew does not do itself: a licensed person's hour, hired
// access equipment, the disposal of one waste code. Key is where a firm's price list prices it.
type Other struct {
	Key      string  `json:"rate_key"`
	What     string  `json:"what"`
	Quantity float64 `json:"quantity" jsonschema_description:"to three decimals"`
	Unit     string  `json:"unit"`
	Evidence string  `json:"evidence"`
	For      []For   `json:"for,omitempty" jsonschema_description:"whose it is; together they come to the quantity"`
}

// For is how much of it is for one assembly ("" for none), or for several together that it cannot be split between.
type For struct {
	Assemblies []string `json:"assemblies"`
	Quantity   float64  `json:"quantity"`
}

// others writes an item for each that the firm has a price for, and answers the rest.
func (w *writer) others(all []Other) []Other {
	unpriced := []Other{}
	for _, o := range all {
		o.Quantity = thousandths(o.Quantity)
		o.For = w.normal(o.For)
		if _, ok := w.prices[o.Key]; !ok {
			unpriced = append(unpriced, o)
			continue
		}
		item := Item{Group: WorkOfOthers, Key: "other:" + o.Key, Clause: w.clause(""), Location: w.r.FitOut.Name, AsBuilt: "needed for the strip-out: " + o.What,
			Reinstatement: o.What, Evidence: o.Evidence, Quantity: o.Quantity, Unit: o.Unit}
		w.price(&item, o.Key)
		for _, f := range o.For {
			s := item.share(whoseOf(w.parts, f.Assemblies...))
			s.Quantity = thousandths(s.Quantity + f.Quantity)
		}
		if len(o.For) == 0 {
			item.all(Whose{None: true})
		}
		w.items = append(w.items, item)
	}
	return unpriced
}

// normal names everything that a part cannot be made of as none.
func (w *writer) normal(all []For) []For {
	if len(all) == 0 {
		return nil // whose it is is not known: it is common
	}
	out := make([]For, len(all))
	for i, f := range all {
		out[i].Quantity = f.Quantity
		for _, a := range f.Assemblies {
			if !w.parts[a] {
				a = ""
			}
			out[i].Assemblies = append(out[i].Assemblies, a)
		}
		slices.Sort(out[i].Assemblies)
		out[i].Assemblies = slices.Compact(out[i].Assemblies)
	}
	return out
}
