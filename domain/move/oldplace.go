package move

import (
	"fmt"
	"strings"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/makinggood"
	"unpick/domain/salvage"
	"unpick/domain/schedule"
)

// Owed is what giving one place back takes, as its schedule of reinstatement has it: the same items and the same amounts
// as on its page, so that no figure of a move is another figure than the schedule's.
type Owed struct {
	Schedule schedule.Schedule
	Repairs  makinggood.Days // for the hours of making good, which the rates of its items pay for
}

// OwedBy is what a plan of the place says: its schedule, and how long its making good takes.
func OwedBy(s schedule.Schedule, mg makinggood.List) Owed { return Owed{s, mg.Days} }

// takingOutMinutes is the crew's own work in the schedule's items that are counted by the hour.
func (o Owed) takingOutMinutes() int { return takingOut(o.Schedule.Items) }

func takingOut(items []schedule.Item) int {
	hours := 0.0
	for _, i := range items {
		if isTakingOut(i) {
			hours += i.Quantity
		}
	}
	return int(hours*60 + 0.5)
}

func isTakingOut(i schedule.Item) bool { return strings.HasPrefix(i.Key, "out:") && !i.Free }

// parts are what the schedule owes, a part for each of its groups; numbered says whether its items have the numbers of the
// Schedule page. The hours of repairs are all in making good, those that the licence does not cover too.
func (o Owed) parts(currency string, numbered bool) []Part {
	var out []Part
	for _, group := range schedule.Groups() {
		var items []schedule.Item
		for _, i := range o.Schedule.Items {
			if i.Group == group && !i.Free {
				items = append(items, i)
			}
		}
		minutes := takingOut(items)
		switch group {
		case schedule.MakingGood:
			minutes += o.Repairs.FillMinutes
		case schedule.Redecoration:
			minutes += o.Repairs.PaintMinutes
		}
		if len(items) == 0 && minutes == 0 {
			continue
		}
		p := Part{Key: group, Name: "Here: " + group, Known: true, Minutes: minutes, Made: madeOf(items, currency, numbered)}
		for _, i := range items {
			p.Money += i.AmountMinor
			p.Known = p.Known && i.RateKnown
		}
		if group == schedule.MakingGood || group == schedule.Redecoration {
			p.Made = joined(p.Made, "its hours are in the rates of its items")
		}
		out = append(out, p)
	}
	return out
}

// madeOf names the items behind a part, and the hours of taking out at their rate.
func madeOf(items []schedule.Item, currency string, numbered bool) string {
	if len(items) == 0 {
		return "no item of its own"
	}
	var numbers []int
	hours, rate := 0.0, int64(0)
	for _, i := range items {
		numbers = append(numbers, i.Number)
		if isTakingOut(i) {
			hours, rate = hours+i.Quantity, i.RateMinor
		}
	}
	words := fmt.Sprintf("%s of the schedule of reinstatement", counted(len(items), "item", "items"))
	if numbered {
		words = "schedule of reinstatement, " + plural(len(items), "item ", "items ") + schedule.Runs(numbers)
	}
	if hours > 0 {
		words = joined(words, fmt.Sprintf("%.3f h of taking out at %s, each item rounded", hours, domain.FormatMoney(rate, currency)))
	}
	return words
}

// leftOut words what the schedule names and has no price for: on its page it is not in the total either.
func (o Owed) leftOut() []string {
	var out []string
	for _, x := range o.Schedule.NotInTotal {
		out = append(out, fmt.Sprintf("%s, %g %s: no price for %s", x.What, x.Quantity, unitWord(x.Unit, x.Quantity), x.Key))
	}
	return out
}

// unitWord is a unit as it is said behind a quantity: "1 day", "4 days", "4 kg".
func unitWord(unit string, n float64) string {
	switch {
	case n == 1, unit == "kg", unit == "h", unit == "m", unit == "m2":
		return unit
	}
	return unit + "s"
}

// carriedOut is the way of everything that comes out, from the stack into a vehicle: the move's, the buyer's or the waste
// carrier's. The strip-out ends at the stack.
func carriedOut(c *domain.Catalogue, inv salvage.Inventory) (minutes int, made string) {
	kg, unweighed := 0.0, 0
	for i := range inv.Pieces {
		kg += inv.Pieces[i].MassKg
		if !inv.Pieces[i].MassKnown {
			unweighed++
		}
	}
	minutes, made = byWeight(c, kg, loadingRates)
	if unweighed > 0 {
		made = joined(made, fmt.Sprintf("%s of unknown mass not counted", counted(unweighed, "piece", "pieces")))
	}
	return minutes, "everything that comes out, from the stack into a vehicle: " + made
}

// The work rates of carrying by weight: from the stack into a vehicle, and out of it to where it goes up. The ways and the
// programme of both ends read them here.
var (
	loadingRates   = [2]string{"carry-out", "load-vehicle"}
	unloadingRates = [2]string{"unload-vehicle", "carry-in"}
)

// byWeight is the person-minutes of carrying so many kilograms by two work rates of the catalogue.
func byWeight(c *domain.Catalogue, kg float64, rates [2]string) (minutes int, made string) {
	a, b := c.WorkRates[rates[0]], c.WorkRates[rates[1]]
	minutes = int(kg*(a.Minutes+b.Minutes) + 0.5)
	return minutes, fmt.Sprintf("%.0f kg at %g + %g min a kg (%s, %s: %s)", kg, a.Minutes, b.Minutes, rates[0], rates[1], a.Source)
}

// disposed is what is fit for use and goes as waste all the same, by List of Waste entry and the firm's prices a kilogram.
// What has no price is
// named and counts as nothing; made of nothing is no part.
func disposed(c *domain.Catalogue, pieces []*salvage.Piece, prices map[string]domain.Price, currency string) (part Part, leftOut []string) {
	part = Part{Key: "thrown-away", Name: "Here: what is fit for use, as waste", Known: true}
	kg, keys := map[string]float64{}, []string{}
	for _, q := range pieces {
		key := "waste:" + c.WasteCodes[c.Materials[q.Material].WasteCode].Code
		switch {
		case key == "waste:":
			key = "waste:unknown"
		case q.Treated:
			key += "-assess"
		}
		if _, there := kg[key]; !there {
			keys = append(keys, key)
		}
		kg[key] += q.MassKg
	}
	var made []string
	for _, key := range sorted(keys) {
		weight := tenth(kg[key])
		price, ok := prices[key]
		if !ok || price.Unit != "kg" {
			leftOut = append(leftOut, fmt.Sprintf("disposal of %.1f kg that is fit for use: no price a kg for %s", weight, key))
			continue
		}
		part.Money += schedule.Amount(weight, price.Amount)
		made = append(made, fmt.Sprintf("%.1f kg of %s at %s", weight, key, domain.FormatMoney(price.Amount, currency)))
	}
	part.Made = strings.Join(made, ", ")
	return part, leftOut
}

// roomOf is the mass and the stacked room of pieces.
func roomOf(pieces []*salvage.Piece) (kg, m3 float64) {
	for _, q := range pieces {
		kg += q.MassKg
		m3 += max(q.StackedM3, q.VolumeM3)
	}
	return kg, m3
}

// stackedM3 is the room that so much of a material takes in a stack.
func stackedM3(m domain.Material, m3 float64) float64 {
	s, ok := catalogue.StackingOf(m)
	if !ok {
		return m3
	}
	return m3 * s.Factor
}
