package reports

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"image"
	"image/color"
	"io"
	"math"
	"strconv"
	"strings"
	"sync"

	"github.com/xuri/excelize/v2"

	"unpick/reports/drawing"
)

// Drawings go into the workbook as the SVG they are: sharp at any size and true to scale on paper. The workbook
// library asks the standard image package for a picture's size, which knows no SVG until it is told; that registry
// belongs to the whole program, hence once.
var knowSVG = sync.OnceFunc(func() {
	image.RegisterFormat("svg", "<svg", func(io.Reader) (image.Image, error) {
		return nil, errors.New("an SVG is drawn by whoever shows it")
	}, svgSize)
})

// svgSize reads a drawing's size, given in millimetres, as pixels of 96 to the inch.
func svgSize(r io.Reader) (image.Config, error) {
	var root struct {
		Width  string `xml:"width,attr"`
		Height string `xml:"height,attr"`
	}
	if err := xml.NewDecoder(r).Decode(&root); err != nil {
		return image.Config{}, fmt.Errorf("reading the size of a drawing: %w", err)
	}
	var pixels [2]int
	for i, words := range []string{root.Width, root.Height} {
		mm, err := strconv.ParseFloat(strings.TrimSuffix(words, "mm"), 64)
		if err != nil {
			return image.Config{}, fmt.Errorf("reading the size of a drawing: %w", err)
		}
		pixels[i] = int(math.Ceil(mm / 25.4 * 96))
	}
	return image.Config{ColorModel: color.RGBAModel, Width: pixels[0], Height: pixels[1]}, nil
}

// What fits on A3 landscape inside the margins, below a line of heading.
const pictureWideMm, pictureHighMm = 325, 240

// picture is one drawing to place, with the scale that it was drawn at.
type picture struct {
	name  string
	scale int
	draw  func(io.Writer) error
}

// planSheet places the plan and the isometric view on a sheet of their own.
func (b *book) planSheet() {
	b.pictures("Plan", []picture{
		{"Plan", 50, func(w io.Writer) error { return drawing.Plan(w, b.in.Register, drawing.Options{}) }},
		{"Isometric view", 50, func(w io.Writer) error { return drawing.Isometric(w, b.in.Register, drawing.Options{}) }},
	})
}

// elevations places one elevation for each assembly that has a frame; trims, seals and cables are seen in those.
func (b *book) elevations() {
	r := b.in.Register
	framed := map[string]bool{}
	for i := range r.Elements {
		if e := &r.Elements[i]; e.IsInPlace() && drawing.IsFrame(e) {
			framed[e.Assembly] = true
		}
	}
	var all []picture
	for _, a := range r.Assemblies {
		if framed[a.Code] {
			all = append(all, picture{strings.TrimSpace(a.Code + " " + a.Name), 25, func(w io.Writer) error { return drawing.Elevation(w, r, a.Code, drawing.Options{}) }})
		}
	}
	b.pictures("Elevations", all)
}

// pictures writes a sheet of drawings, one to a page, each at the largest usual scale that fits, printed at its true
// size: nothing is fitted to the page.
func (b *book) pictures(name string, all []picture) {
	knowSVG()
	s := b.sheet(name)
	b.page(s, a3, "")
	full, no := uint(100), false
	b.keep(b.file.SetSheetProps(s, &excelize.SheetPropsOptions{FitToPage: &no}))
	b.keep(b.file.SetPageLayout(s, &excelize.PageLayoutOptions{AdjustTo: &full}))
	b.keep(b.file.SetColWidth(s, "A", "A", 171)) // one column under a picture: between two a page might end
	b.keep(b.file.SetColWidth(s, "B", "B", 1))
	row := 1
	for i, p := range all {
		if i > 0 {
			b.keep(b.file.InsertPageBreak(s, fmt.Sprintf("A%d", row)))
		}
		row = b.place(s, row, p)
	}
	if len(all) == 0 {
		b.keep(b.file.SetCellStr(s, "A1", "nothing to list"))
		row = 2
	}
	b.printed(s, 0, fmt.Sprintf("$A$1:$B$%d", row-1))
}

// place writes a heading and a drawing below it, and answers the next free row.
func (b *book) place(s string, row int, p picture) int {
	var svg bytes.Buffer
	b.keep(p.draw(&svg))
	size, err := svgSize(bytes.NewReader(svg.Bytes()))
	b.keep(err)
	scale, fits := usualScale(p.scale, float64(size.Width)*25.4/96, float64(size.Height)*25.4/96)
	heading := fmt.Sprintf("%s, 1:%d when printed on A3 without fitting", p.name, scale)
	if !fits {
		heading = p.name + ", too large for a page at a usual scale: use the drawing's own file to measure"
	}
	cell := fmt.Sprintf("A%d", row)
	b.keep(b.file.SetCellStr(s, cell, safe(heading)))
	b.keep(b.file.SetCellStyle(s, cell, cell, b.styles[caption]))
	b.keep(b.file.SetRowHeight(s, row, 20))
	row++
	share := float64(p.scale) / float64(scale)
	b.keep(b.file.AddPictureFromBytes(s, fmt.Sprintf("A%d", row), &excelize.Picture{Extension: ".svg", File: svg.Bytes(),
		Format: &excelize.GraphicOptions{AltText: safe(heading), ScaleX: share, ScaleY: share, LockAspectRatio: true, Positioning: "oneCell"}}))
	// The rows under the picture are as high as it is; the format takes no row over 409 points.
	high := float64(size.Height)*share*72/96 + 6
	n := int(math.Ceil(high / 400))
	for range n {
		b.keep(b.file.SetRowHeight(s, row, high/float64(n)))
		row++
	}
	return row
}

// usualScale is the largest usual scale, from the drawn one on, at which a drawing fits a page.
func usualScale(drawn int, wideMm, highMm float64) (scale int, fits bool) {
	for _, scale = range []int{5, 10, 20, 25, 50, 100, 200, 500, 1000} {
		share := float64(drawn) / float64(scale)
		if scale >= drawn && wideMm*share <= pictureWideMm && highMm*share <= pictureHighMm {
			return scale, true
		}
	}
	return scale, false
}
