package schedule

import "unpick/domain"

// AsAgreed is what the schedule comes to as agreed so far: the figure that both parties stand at in place of the scheduled
// amount, wherever there is one; every other item as scheduled. Total and difference are before contingency and tax, which the
// figures have by the same rules as those of the schedule. Nobody is bound by more than the items in it.
type AsAgreed struct {
	Items           []AgreedItem `json:"items"`
	ScheduledMinor  int64        `json:"scheduled_minor" jsonschema_description:"the priced items as scheduled"`
	DifferenceMinor int64        `json:"difference_minor" jsonschema_description:"by how much the agreed items differ from that"`
	TotalMinor      int64        `json:"total_minor" jsonschema_description:"scheduled and difference together, before contingency and tax"`
	WithoutRate     int          `json:"items_without_rate" jsonschema_description:"items that have neither a rate nor an agreed figure"`
	Figures         Figures      `json:"figures"`
}

// AgreedItem is one item that both parties stand at one figure for.
type AgreedItem struct {
	Number          int    `json:"item"`
	Group           string `json:"group"`
	What            string `json:"what"`
	Rated           bool   `json:"rated" jsonschema_description:"false where the schedule has no rate for it: nothing was scheduled, and all that is agreed is difference"`
	ScheduledMinor  int64  `json:"scheduled_minor"`
	AgreedMinor     int64  `json:"agreed_minor"`
	DifferenceMinor int64  `json:"difference_minor"`
}

// Agree reckons items up with agreed figures, by item number, in place of the scheduled amounts; nil where none is agreed.
func Agree(items []Item, agreed map[int]int64, f domain.FitOut) *AsAgreed {
	out := AsAgreed{}
	instead := make([]Item, len(items))
	for n, i := range items {
		out.ScheduledMinor += i.AmountMinor
		if figure, ok := agreed[i.Number]; ok {
			out.Items = append(out.Items, AgreedItem{i.Number, i.Group, i.AsBuilt, i.RateKnown || i.Free, i.AmountMinor, figure, figure - i.AmountMinor})
			out.DifferenceMinor += figure - i.AmountMinor
			i.AmountMinor, i.RateKnown = figure, true
		}
		if !i.RateKnown && !i.Free {
			out.WithoutRate++
		}
		instead[n] = i
	}
	if len(out.Items) == 0 {
		return nil
	}
	out.TotalMinor = out.ScheduledMinor + out.DifferenceMinor
	out.Figures = FiguresOf(instead, f)
	return &out
}

// Scheduled is what the agreed items alone were scheduled at.
func (a *AsAgreed) Scheduled() int64 {
	sum := int64(0)
	for _, i := range a.Items {
		sum += i.ScheduledMinor
	}
	return sum
}

// Others is what all other items are scheduled at.
func (a *AsAgreed) Others() int64 { return a.ScheduledMinor - a.Scheduled() }

// under is what of it concerns these items.
func (a *AsAgreed) under(items []Item, f domain.FitOut) *AsAgreed {
	if a == nil {
		return nil
	}
	agreed := map[int]int64{}
	for _, i := range a.Items {
		agreed[i.Number] = i.AgreedMinor
	}
	return Agree(items, agreed, f)
}
