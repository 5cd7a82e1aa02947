package pages

import (
	"fmt"
	"strings"

	"github.com/labstack/echo/v4"

	"unpick/domain"
	"unpick/domain/detachability"
	"unpick/domain/salvage"
)

// Salvage shows what comes out, piece by piece as expected and as found, the fixings that come back, what is saved and
// what leaves as waste.
func (p *Pages) Salvage(c echo.Context) error {
	return p.planned(c, "salvage", "Salvage", "salvage", func(page *planPage) {
		inventory := page.Plan.Salvage
		page.Files = []string{"salvage.xlsx", "waste-note.pdf", "waste-note.xlsx"}
		page.Tables = []table{pieces(c, page.FitOut, inventory, page.Plan.ComesApart), saves(c, page.FitOut, inventory.Savings), wasteLines(c, inventory.Waste),
			fixingsBack(c, page.FitOut, inventory), apartBy(c, page.Plan.ComesApart)}
	})
}

func pieces(c echo.Context, f domain.FitOut, inventory salvage.Inventory, apart *detachability.Report) table {
	rows, score := make([][]cell, len(inventory.Pieces)), scores(apart)
	for i := range inventory.Pieces {
		s := &inventory.Pieces[i]
		found, because, code := "", strings.Join(s.Because, "; "), s.WasteCode
		switch {
		case s.Found != nil:
			found, because = string(s.Found.Condition), foundWords(s)
		case s.State != "":
			found = "not looked at"
		}
		if s.ConditionalWaste {
			code = "ask first"
		}
		rows[i] = []cell{{Text: s.Code, Link: at(f.Code, "pieces", s.Code)}, plain(kindWords(string(s.Kind))), plain(s.MaterialName), plain(fmt.Sprintf("%d × %d × %d", s.LengthMm, s.WidthMm, s.ThicknessMm)),
			count(s.UsableMm), plain(string(s.Expected)), {Text: found, Flag: found != "" && s.Found == nil}, score(s.Code), plain(because), plain(string(s.Goes)), {Text: code, Flag: s.ConditionalWaste},
			measured(s.MassKg, 1), priced(s.NewMinor, s.NewKnown, f.Currency), priced(s.ValueMinor, s.ValueKnown, f.Currency)}
	}
	return newTable(c, "pieces", "Pieces that come out", []column{
		{Key: "code", Title: "Code"}, {Key: "kind", Title: "Kind", Rest: true}, {Key: "material", Title: "Material", Rest: true}, {Key: "size", Title: "Size mm"},
		{Key: "usable", Title: "Usable mm", Figure: true}, {Key: "expected", Title: "Expected"}, {Key: "found", Title: "Found"}, {Key: "apart", Title: "Comes apart", Figure: true, Rest: true}, {Key: "because", Title: "Because", Rest: true}, {Key: "goes", Title: "Goes to"},
		{Key: "waste", Title: "Waste code", Rest: true}, {Key: "kg", Title: "kg", Figure: true, Rest: true, Sum: sumKg},
		{Key: "new", Title: "The same new", Figure: true, Rest: true, Sum: sumMoney(f.Currency)},
		{Key: "worth", Title: "Worth", Figure: true, Rest: true, Sum: sumMoney(f.Currency)},
	}, rows)
}

func fixingsBack(c echo.Context, f domain.FitOut, inventory salvage.Inventory) table {
	rows := make([][]cell, len(inventory.Fixings))
	for i, b := range inventory.Fixings {
		rows[i] = []cell{plain(b.Name), count(b.Count), count(b.Joined), count(b.Fit), measured(b.Share*100, 0), price(b.NewMinor, b.NewKnown, f.Currency), plain(b.Caution), plain(b.Source + "; " + b.Confirmed)}
	}
	return newTable(c, "fixings", "Fixings that come back", []column{
		{Key: "name", Title: "Fixing"}, {Key: "count", Title: "Come out loose", Figure: true, Sum: sumCount}, {Key: "joined", Title: "Stay in frames and sets", Figure: true, Rest: true, Sum: sumCount}, {Key: "fit", Title: "Fit to use again", Figure: true, Sum: sumCount},
		{Key: "share", Title: "Share %", Figure: true, Rest: true}, {Key: "new", Title: "Those new", Figure: true, Rest: true}, {Key: "care", Title: "Take care", Rest: true}, {Key: "source", Title: "Source", Rest: true},
	}, rows)
}

// price writes an amount, or that there is no price.
func price(minor int64, known bool, currency string) cell {
	if !known {
		return plain("no price")
	}
	return priced(minor, true, currency)
}

// saves is what the kept pieces save, by material, each with the source of its factors.
func saves(c echo.Context, f domain.FitOut, all []salvage.Saving) table {
	rows := make([][]cell, len(all))
	for i, s := range all {
		made := plain("no factor")
		if s.EmbodiedKnown {
			made = measured(s.EmbodiedKg, 1)
		}
		rows[i] = []cell{plain(s.Name), count(s.Pieces), measured(s.KeptKg, 1), measured(s.StackedM3, 2), price(s.NewMinor, s.WithoutPrice == 0, f.Currency), made, measured(s.StoredKg, 1),
			plain(fmt.Sprintf("%g kg CO2e/kg made (A1-A3), %g kg CO2/kg stored (EN 16449), stack %g times its contents", s.GwpPerKg, s.StoredPerKg, s.Stacking)), plain(s.Source + "; " + s.Confirmed)}
	}
	return newTable(c, "saves", "What it saves, by material", []column{
		{Key: "material", Title: "Material"}, {Key: "pieces", Title: "Pieces", Figure: true, Rest: true, Sum: sumCount}, {Key: "kg", Title: "Good kg", Figure: true, Rest: true, Sum: sumKg},
		{Key: "room", Title: "Room m³", Figure: true, Sum: sumM3}, {Key: "new", Title: "The same new", Figure: true}, {Key: "made", Title: "Made kg CO2e", Figure: true, Sum: sumKg},
		{Key: "stored", Title: "Stores kg CO2", Figure: true, Rest: true, Sum: sumKg}, {Key: "factors", Title: "Factors", Rest: true}, {Key: "source", Title: "Source", Rest: true},
	}, rows)
}

func sumM3(v float64) string { return fmt.Sprintf("%.2f", v) }

// wasteLines is what leaves, by entry of the List of Waste.
func wasteLines(c echo.Context, all []salvage.WasteLine) table {
	rows := make([][]cell, len(all))
	for i, l := range all {
		rows[i] = []cell{{Text: l.Words(), Flag: l.Code == "" || l.Hazardous}, plain(l.Description), count(len(l.Pieces)), measured(l.MassKg, 1), measured(l.OutKg, 1), plain(l.Route), plain(strings.Join(l.Cautions, "; "))}
	}
	return newTable(c, "waste", "What leaves as material or waste", []column{
		{Key: "code", Title: "List of Waste code"}, {Key: "what", Title: "Description", Rest: true}, {Key: "pieces", Title: "Pieces", Figure: true, Sum: sumCount}, {Key: "kg", Title: "kg", Figure: true, Sum: sumKg},
		{Key: "out", Title: "Of which out", Figure: true, Rest: true, Sum: sumKg}, {Key: "route", Title: "Usual route", Rest: true}, {Key: "care", Title: "Take care"},
	}, rows)
}
