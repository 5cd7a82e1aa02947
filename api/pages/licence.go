package pages

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"

	"unpick/domain"
	"unpick/domain/licence"
	"unpick/domain/survey"
)

// licencePage is the licence against the register.
type licencePage struct {
	FitOut  domain.FitOut
	Compare licence.Comparison
	Beyond  []beyondShown
	Tables  []table
	Basis   survey.Basis
}

// beyondShown is one thing beyond the licence with where it is shown.
type beyondShown struct {
	licence.Beyond
	Link string
}

// Licence shows what is not licensed first, then surface by surface and item by item. It needs no plan.
func (p *Pages) Licence(c echo.Context) error {
	ctx := c.Request().Context()
	f, err := p.fitOut(c)
	if err != nil {
		return err
	}
	r, err := p.jobs.Register(ctx, f.Code)
	if err != nil {
		return err
	}
	l := look{r: r, index: r.Index(), fitOut: f}
	page := licencePage{FitOut: f, Compare: licence.Compare(r), Basis: survey.Of(r)}
	for _, b := range page.Compare.Beyond {
		shown := beyondShown{Beyond: b}
		if len(b.Codes) > 0 {
			shown.Link = l.address(b.Codes[0])
		}
		page.Beyond = append(page.Beyond, shown)
	}
	page.Tables = []table{licencedSurfaces(c, f, page.Compare.Surfaces), licencedItems(c, page.Compare.Items)}
	return p.show(c, screen{Name: "licence", Title: "Licence against as built, " + f.Name, FitOut: &f, Here: "licence", Data: page})
}

func licencedSurfaces(c echo.Context, f domain.FitOut, surfaces []licence.LicensedSurface) table {
	rows := make([][]cell, len(surfaces))
	for i, s := range surfaces {
		not := count(s.Unlicensed)
		not.Flag = s.Unlicensed > 0
		rows[i] = []cell{linked(s.HostName, at(f.Code, "hosts", s.Host)), plain(ruleWords(s.Rule)), count(s.Agreed), count(s.Built), not,
			plain(limitWords(s.LimitMm, s.LimitDeepMm, s.AllowedKinds)), plain(limitWords(s.LargestMm, s.DeepestMm, s.UsedKinds)), count(s.Inherited), count(s.AtDefects), count(s.Provisional), plain(s.Says)}
	}
	return newTable(c, "surfaces", "Surface by surface", []column{
		{Key: "surface", Title: "Surface"}, {Key: "rule", Title: "May be fixed to", Rest: true}, {Key: "agreed", Title: "Agreed", Figure: true, Sum: sumCount}, {Key: "built", Title: "Built", Figure: true, Sum: sumCount},
		{Key: "not", Title: "Not covered", Figure: true, Sum: sumCount}, {Key: "limit", Title: "Allowed at most", Rest: true}, {Key: "largest", Title: "As built", Rest: true},
		{Key: "before", Title: "There before", Figure: true, Rest: true, Sum: sumCount}, {Key: "defects", Title: "In defects of the start", Figure: true, Rest: true, Sum: sumCount}, {Key: "assumed", Title: "Of the built, assumed", Figure: true, Rest: true, Sum: sumCount}, {Key: "says", Title: "In words"},
	}, rows)
}

func licencedItems(c echo.Context, items []licence.LicensedItem) table {
	rows := make([][]cell, len(items))
	for i, item := range items {
		says := plain("within what it allows")
		if len(item.Reasons) > 0 {
			says = cell{Text: strings.Join(item.Reasons, "; "), Flag: true}
		}
		rows[i] = []cell{plain(item.Item), plain(item.What), plain(ofLimit(item.Works, item.Count)), plain(ofLimit(item.BuiltHoles, item.Holes)),
			plain(limitWords(item.MaxDiameterMm, item.MaxDepthMm, item.Fixings)), plain(limitWords(item.LargestMm, item.DeepestMm, item.UsedKinds)), plain(strings.Join(item.Assemblies, ", ")), says, plain(item.Conditions)}
	}
	return newTable(c, "items", "Item by item", []column{
		{Key: "item", Title: "Item"}, {Key: "what", Title: "Allows"}, {Key: "works", Title: "Works"}, {Key: "holes", Title: "Holes"}, {Key: "limit", Title: "Allowed at most", Rest: true}, {Key: "built", Title: "As built", Rest: true},
		{Key: "assemblies", Title: "Built under it", Rest: true}, {Key: "says", Title: "In words"}, {Key: "conditions", Title: "Conditions", Rest: true},
	}, rows)
}

// ofLimit is "2 of 1"; "2" where no limit is stated.
func ofLimit(n, limit int) string {
	if limit == 0 {
		return thousands(n)
	}
	return thousands(n) + " of " + thousands(limit)
}

// limitWords is "Ø 10 mm, 60 deep, masonry"; what is not stated is left out.
func limitWords(diameterMm float64, depthMm int, kinds []string) string {
	var parts []string
	if diameterMm > 0 {
		parts = append(parts, fmt.Sprintf("Ø %g mm", diameterMm))
	}
	if depthMm > 0 {
		parts = append(parts, strconv.Itoa(depthMm)+" deep")
	}
	return strings.Join(append(parts, kinds...), ", ")
}

const fixingKindsHelp = "masonry, steel, timber, adhesive, seal, or types of the catalogue, with commas between. Left empty: nothing was said"

// licenceForm is the licence's items, row by row, and its conditions.
func licenceForm(f domain.FitOut) form {
	t := f.Tenancy
	out := form{Groups: []group{{Legend: "Conditions of the licence", Fields: []field{
		{Name: "/tenancy/licence_conditions", Label: "One on each line", Kind: eachLine, Value: strings.Join(t.Conditions, "\n")}}}}}
	recipes := []option{{"", "Everything that names the item"}}
	for _, e := range entries() {
		if e.Recipe {
			recipes = append(recipes, option{e.Name, e.Title})
		}
	}
	for i := range len(t.Items) + 2 {
		var x domain.LicenceItem
		g := group{Legend: "Another item", Folded: true}
		if i < len(t.Items) {
			x = t.Items[i]
			g.Legend, g.Folded = x.Item+": "+x.What, false
		}
		row := fmt.Sprintf("/tenancy/licence_items/%d/", i)
		g.Fields = []field{
			said(row+"item", "Item", "As each assembly names it: licence, item 6. Empty all the fields of one to take it away").as(x.Item),
			said(row+"what", "What it allows", "One partition on line B").as(x.What),
			{Name: row + "count", Label: "How many", Kind: number, Value: orEmpty(x.Count), Help: "Left empty: no number was stated"},
			pick(row+"recipe", "Of what", recipes, "What the number counts").as(x.Recipe),
			{Name: row + "hosts", Label: "Surfaces that it may be fixed to", Kind: many, Codes: true, Value: strings.Join(x.Hosts, ", "), Help: "Their codes, with commas between. Left empty: any"},
			{Name: row + "holes", Label: "Holes at most", Kind: number, Value: orEmpty(x.Holes)},
			{Name: row + "max_diameter_mm", Label: "Largest hole", Unit: "mm", Kind: number, Decimals: domain.AnyDecimals, Most: 1000, Value: figureOrEmpty(x.MaxDiameterMm)},
			{Name: row + "max_depth_mm", Label: "Deepest hole", Unit: "mm", Kind: number, Value: orEmpty(x.MaxDepthMm)},
			{Name: row + "fixings_allowed", Label: "Kinds of fixing", Kind: many, Value: strings.Join(x.Fixings, ", "), Help: fixingKindsHelp},
			said(row+"conditions", "Conditions", "").as(x.Conditions),
		}
		out.Groups = append(out.Groups, g)
	}
	return out
}

func figureOrEmpty(v float64) string {
	if v == 0 {
		return ""
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

// licenceOptions are the licence's items to choose from.
func licenceOptions(r *domain.Register) []option {
	var out []option
	for _, item := range r.FitOut.Tenancy.Items {
		out = append(out, option{item.Item, item.What})
	}
	return slices.Clip(out)
}
