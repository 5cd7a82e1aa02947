package pages

import (
	"strconv"

	"github.com/labstack/echo/v4"
)

// Schedule shows the reinstatement schedule, item by item.
func (p *Pages) Schedule(c echo.Context) error {
	return p.planned(c, "schedule", "Schedule", "schedule", func(page *planPage) {
		items := page.Plan.Schedule.Items
		rows := make([][]cell, len(items))
		for i, item := range items {
			state := plain(string(item.State))
			if item.Provisional {
				state.Text += ", provisional"
			}
			rows[i] = []cell{count(item.Number), plain(item.Group), plain(item.Clause), plain(item.Location), plain(item.AsBuilt), plain(item.Reinstatement),
				{Text: strconv.FormatFloat(item.Quantity, 'f', -1, 64), Value: item.Quantity}, plain(item.Unit),
				priced(item.RateMinor, item.RateKnown, page.FitOut.Currency), priced(item.AmountMinor, item.RateKnown, page.FitOut.Currency), state}
		}
		page.Files = []string{"reinstatement.xlsx"}
		page.Tables = []table{newTable(c, "items", "Schedule of reinstatement", []column{
			{Key: "item", Title: "Item", Figure: true}, {Key: "group", Title: "Group"}, {Key: "clause", Title: "Clause", Rest: true}, {Key: "where", Title: "Location", Rest: true},
			{Key: "built", Title: "Alteration as built"}, {Key: "put-back", Title: "Reinstatement", Rest: true}, {Key: "quantity", Title: "Quantity", Figure: true, Rest: true},
			{Key: "unit", Title: "Unit", Rest: true}, {Key: "rate", Title: "Rate", Figure: true, Rest: true},
			{Key: "amount", Title: "Amount", Figure: true, Sum: sumMoney(page.FitOut.Currency)}, {Key: "state", Title: "State", Rest: true},
		}, rows)}
	})
}
