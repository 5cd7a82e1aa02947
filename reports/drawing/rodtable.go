package drawing

import (
	"fmt"
	"slices"

	"unpick/domain/settingout"
)

// figures is a small table of figures on a drawing; rows hold one word a column.
type figures struct {
	heading string
	columns []string
	rows    [][]string
}

// rodTables are the figures of a setting-out sheet.
func rodTables(out *settingout.Sheet) []figures {
	studs := figures{heading: "Studs", columns: []string{"code", "near edge", "centre", "far edge", "length"}}
	if out.RakeDeg != 0 {
		studs.columns = append(studs.columns, "along head")
	}
	for _, u := range out.Uprights {
		row := []string{u.Code, fmt.Sprint(u.NearMm), fmt.Sprint(u.CentreMm), fmt.Sprint(u.FarMm), fmt.Sprint(u.LengthMm)}
		if out.RakeDeg != 0 {
			row = append(row, fmt.Sprint(u.AlongHeadMm))
		}
		studs.rows = append(studs.rows, row)
	}
	plates := figures{heading: "Plates", columns: []string{"code", "from", "to", "cut to"}}
	for _, p := range out.Plates {
		plates.rows = append(plates.rows, []string{p.Code, fmt.Sprint(p.NearMm), fmt.Sprint(p.FarMm), fmt.Sprint(p.LengthMm)})
	}
	doors := figures{heading: "Doorways, clear", columns: []string{"head", "from", "to", "wide", "high"}}
	for _, d := range out.Doorways {
		doors.rows = append(doors.rows, []string{d.Head, fmt.Sprint(d.NearMm), fmt.Sprint(d.FarMm), fmt.Sprint(d.FarMm - d.NearMm), fmt.Sprint(d.HeadMm)})
	}
	joints := figures{heading: "Board joints", columns: []string{"face", "middle", "board ends", "next begins"}}
	for _, j := range out.Joints {
		row := []string{j.Face, fmt.Sprint(j.AtMm), fmt.Sprint(j.NearMm), fmt.Sprint(j.FarMm)}
		if j.Edge {
			row[2], row[3] = "edge", ""
		}
		joints.rows = append(joints.rows, row)
	}
	levels := figures{heading: "Heights from the floor at the set-out end", columns: []string{"what", "face", "height", "how many"}}
	for _, l := range out.Levels {
		what := l.What
		if l.What == "nogging" {
			what = "nogging, underside"
		}
		if l.Sloping {
			what += ", low end"
		}
		levels.rows = append(levels.rows, []string{what, l.Face, fmt.Sprint(l.AtMm), fmt.Sprint(l.Count)})
	}
	return slices.DeleteFunc([]figures{studs, plates, doors, joints, levels}, func(f figures) bool { return len(f.rows) == 0 })
}

// tableRows is how many rows of a table stand below each other before it goes on beside.
const tableRows = 24

// tables draws tables in columns from y down: a short one under the one before it where that keeps the column no
// higher than a full table, else beside it, and in another band of columns where the width is full.
func (s *sheet) tables(all []figures, wide, y float64) {
	t := s.textMm
	most := (tableRows + 3) * rowHeight * t
	column := area{0, y, 0, y} // x0 to x1 taken so far, y1 the foot of its last table
	deepest := y
	for _, f := range all {
		for part := range slices.Chunk(f.rows, tableRows) {
			widths := columnWidths(f, t)
			total := textWidth(f.heading, t)
			if w := sum(widths); w > total {
				total = w
			}
			high := float64(len(part)+3) * rowHeight * t
			fresh := column.y1 == y
			if !fresh && column.y1+high-y > most {
				column, fresh = area{column.x1 + 3*t, y, column.x1 + 3*t, y}, true
			}
			if fresh && column.x0 > 0 && column.x0+total > wide {
				y = deepest + rowHeight*t
				column = area{0, y, 0, y}
			}
			column.y1 = s.tableAt(f, part, widths, paper{column.x0, column.y1}) + rowHeight*t
			column.x1 = max(column.x1, column.x0+total)
			deepest = max(deepest, column.y1)
		}
	}
}

// rowHeight is the height of a row of a table in code heights.
const rowHeight = 1.45

func sum(all []float64) float64 {
	total := 0.0
	for _, v := range all {
		total += v
	}
	return total
}

func columnWidths(f figures, t float64) []float64 {
	widths := make([]float64, len(f.columns))
	for i, c := range f.columns {
		widths[i] = textWidth(c, .9*t) + 1.2*t
		for _, row := range f.rows {
			widths[i] = max(widths[i], textWidth(row[i], .9*t)+1.2*t)
		}
	}
	return widths
}

// tableAt draws one table, its first column from the left and figures from the right, and answers where it ends.
func (s *sheet) tableAt(f figures, rows [][]string, widths []float64, at paper) float64 {
	t := s.textMm
	s.heading(at, f.heading)
	y := at.Y + 1.6*t
	total := sum(widths)
	cells := func(words []string) {
		x := at.X
		for i, word := range words {
			class, place := "figure", x+widths[i]-.4*t
			if i == 0 {
				class, place = "word", x
			}
			if word != "" {
				s.text(class, paper{place, y}, 0, word)
			}
			x += widths[i]
		}
		y += rowHeight * t
	}
	cells(f.columns)
	s.line("measure", paper{at.X, y - 1.1*t}, paper{at.X + total, y - 1.1*t})
	for _, row := range rows {
		cells(row)
	}
	s.reach(paper{at.X + total, y})
	return y
}
