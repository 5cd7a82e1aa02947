package pages

import (
	"slices"
	"strings"

	"github.com/labstack/echo/v4"

	"unpick/domain/detachability"
)

// apartBy is how well each assembly comes apart, and the whole, with the piece that does worst and why.
func apartBy(c echo.Context, r *detachability.Report) table {
	why := map[string]string{}
	for _, p := range r.Pieces {
		why[p.Code] = strings.Join(p.Because, "; ")
	}
	groups := append(slices.Clone(r.Assemblies), r.Whole)
	rows := make([][]cell, len(groups))
	for i, g := range groups {
		name := g.Name
		if g.Provisional {
			name += " (something in it is assumed)"
		}
		rows[i] = []cell{plain(g.Code), plain(name), count(g.Pieces), count(g.NotScored), scored(g.ByMass, g.Scored), scored(g.Lowest, g.LowestCode != ""), plain(g.LowestCode), plain(why[g.LowestCode])}
	}
	return newTable(c, "apart", "How well it comes apart", []column{
		{Key: "code", Title: "Code", Rest: true}, {Key: "name", Title: "Name"}, {Key: "pieces", Title: "Pieces", Figure: true, Rest: true}, {Key: "unknown", Title: "Not scored", Figure: true, Rest: true},
		{Key: "mean", Title: "Comes apart, by mass", Figure: true}, {Key: "worst", Title: "Worst", Figure: true}, {Key: "piece", Title: "Worst piece"}, {Key: "why", Title: "What brings it down", Rest: true},
	}, rows)
}

// scores looks up how well a piece comes apart.
func scores(r *detachability.Report) func(code string) cell {
	of := make(map[string]cell, len(r.Pieces))
	for _, p := range r.Pieces {
		of[p.Code] = scored(0, false)
		if p.Scored {
			of[p.Code] = scored(p.Score.Product, true)
		}
	}
	return func(code string) cell { return of[code] }
}

// scored writes a score of the measurement, 0.1 to 1, or that there is none.
func scored(v float64, known bool) cell {
	if !known {
		return plain("not scored")
	}
	return measured(v, 2)
}
