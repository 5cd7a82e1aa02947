package pages

import (
	"fmt"
	"strings"

	"github.com/labstack/echo/v4"

	"unpick/domain"
	"unpick/domain/detachability"
	"unpick/domain/salvage"
)

// Salvage shows what comes out, piece by piece, and the fixings that come back.
func (p *Pages) Salvage(c echo.Context) error {
	return p.planned(c, "salvage", "Salvage", "salvage", func(page *planPage) {
		inventory := page.Plan.Salvage
		page.Files = []string{"salvage.xlsx"}
		page.Tables = []table{pieces(c, page.FitOut, inventory, page.Plan.ComesApart), apartBy(c, page.Plan.ComesApart), fixingsBack(c, inventory)}
	})
}

func pieces(c echo.Context, f domain.FitOut, inventory salvage.Inventory, apart *detachability.Report) table {
	rows, score := make([][]cell, len(inventory.Pieces)), scores(apart)
	for i, s := range inventory.Pieces {
		rows[i] = []cell{plain(s.Code), plain(string(s.Kind)), plain(s.MaterialName), plain(fmt.Sprintf("%d × %d × %d", s.LengthMm, s.WidthMm, s.ThicknessMm)),
			count(s.UsableMm), plain(string(s.Expected)), score(s.Code), plain(strings.Join(s.Because, "; ")), plain(string(s.Goes)), plain(s.WasteCode),
			measured(s.MassKg, 1), priced(s.NewMinor, s.NewKnown, f.Currency), priced(s.ValueMinor, s.ValueKnown, f.Currency)}
	}
	return newTable(c, "pieces", "Pieces that come out", []column{
		{Key: "code", Title: "Code"}, {Key: "kind", Title: "Kind", Rest: true}, {Key: "material", Title: "Material", Rest: true}, {Key: "size", Title: "Size mm"},
		{Key: "usable", Title: "Usable mm", Figure: true}, {Key: "expected", Title: "Expected"}, {Key: "apart", Title: "Comes apart", Figure: true, Rest: true}, {Key: "because", Title: "Because", Rest: true}, {Key: "goes", Title: "Goes to"},
		{Key: "waste", Title: "Waste code", Rest: true}, {Key: "kg", Title: "kg", Figure: true, Rest: true, Sum: sumKg},
		{Key: "new", Title: "The same new", Figure: true, Rest: true, Sum: sumMoney(f.Currency)},
		{Key: "worth", Title: "Worth", Figure: true, Rest: true, Sum: sumMoney(f.Currency)},
	}, rows)
}

func fixingsBack(c echo.Context, inventory salvage.Inventory) table {
	rows := make([][]cell, len(inventory.Fixings))
	for i, b := range inventory.Fixings {
		rows[i] = []cell{plain(b.Name), count(b.Count), count(b.Fit), measured(b.Share*100, 0), plain(b.Caution)}
	}
	return newTable(c, "fixings", "Fixings that come back", []column{
		{Key: "name", Title: "Fixing"}, {Key: "count", Title: "Come out", Figure: true, Sum: sumCount}, {Key: "fit", Title: "Fit to use again", Figure: true, Sum: sumCount},
		{Key: "share", Title: "Share %", Figure: true, Rest: true}, {Key: "care", Title: "Take care", Rest: true},
	}, rows)
}
