package paper

import (
	_ "embed"
	"fmt"
	"io"
	"strings"
	"time"

	"codeberg.org/go-pdf/fpdf"
)

// DejaVu Sans holds nearly every letter of Europe, with the signs of its currencies. What a file does not use of it is
// left out of the file. Its licence lies beside it.
var (
	//go:embed fonts/DejaVuSans.ttf
	upright []byte
	//go:embed fonts/DejaVuSans-Bold.ttf
	bold []byte
)

// Size is a size of paper as it lies.
type Size struct{ WideMm, HighMm float64 }

// The papers of ISO 216, upright; Turned lays them on their side.
var (
	A4 = Size{210, 297}
	A3 = Size{297, 420}
	A2 = Size{420, 594}
	A1 = Size{594, 841}
)

// Turned is the same paper on its side.
func (s Size) Turned() Size { return Size{s.HighMm, s.WideMm} }

// About says what a file is and where it comes from.
type About struct {
	Title, Author string
	Made          time.Time
	Foot          string // at the foot of every page, left of the page's number; "" for no foot
}

// Document is a file being written. The first fault is kept, and the rest of the writing does nothing.
type Document struct {
	pdf   *fpdf.Fpdf
	about About
	size  Size
}

const (
	font     = "DejaVu"
	MarginMm = 10 // kept free on every side of a page with a foot
	footMm   = 8  // of the margin at the foot, for the foot
	pointMm  = 25.4 / 72
)

// New begins a file without pages.
func New(about About) *Document {
	pdf := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: A4.WideMm, Ht: A4.HighMm}})
	pdf.SetCatalogSort(true) // else the order of the fonts is chance
	pdf.SetCreationDate(about.Made.UTC())
	pdf.SetModificationDate(about.Made.UTC())
	pdf.SetTitle(about.Title, true)
	pdf.SetAuthor(about.Author, true)
	pdf.SetProducer("unpick", true)
	pdf.SetMargins(0, 0, 0)
	pdf.SetCellMargin(0)
	pdf.SetAutoPageBreak(false, 0)
	pdf.AddUTF8FontFromBytes(font, "", upright)
	pdf.AddUTF8FontFromBytes(font, "B", bold)
	pdf.AliasNbPages("{pages}")
	return &Document{pdf: pdf, about: about}
}

// Page begins a page.
func (d *Document) Page(size Size) {
	d.size = size
	d.pdf.AddPageFormat("P", fpdf.SizeType{Wd: size.WideMm, Ht: size.HighMm})
	if d.about.Foot == "" {
		return
	}
	y := size.HighMm - footMm
	d.rule(MarginMm, y-3.5, size.WideMm-MarginMm, .2)
	number := fmt.Sprintf("Page %d of {pages}", d.pdf.PageNo())
	const foot = 2.5
	wide := d.wide(fmt.Sprintf("Page %d of %d", d.pdf.PageNo(), max(d.pdf.PageNo(), 10)), foot, false) // how many there are is known at the end
	d.words(MarginMm, y, d.shorten(d.about.Foot, size.WideMm-2*MarginMm-wide-5, foot), foot, false)
	d.words(size.WideMm-MarginMm-wide, y, number, foot, false)
}

// Write finishes the file.
func (d *Document) Write(w io.Writer) error {
	if err := d.pdf.Output(w); err != nil {
		return fmt.Errorf("writing %s: %w", d.about.Title, err)
	}
	return nil
}

// Words writes words with their foot at a point, letters so many millimetres high.
func (d *Document) Words(x, y float64, words string, sizeMm float64, strong bool) {
	d.words(x, y, plain(words), sizeMm, strong)
}

// Paragraph writes words from a point downwards, no wider than wideMm, and answers where they end.
func (d *Document) Paragraph(x, y, wideMm float64, words string, sizeMm float64, strong bool) float64 {
	for _, line := range d.wrap(words, wideMm, sizeMm, strong) {
		y += sizeMm * lineShare
		d.words(x, y-sizeMm*.35, line, sizeMm, strong)
	}
	return y
}

// Break answers where so many millimetres may be written: from y down, or at the top of a new page of the same size where
// the foot is too near.
func (d *Document) Break(y, highMm float64) float64 {
	if y <= MarginMm || y+highMm <= d.foot() {
		return y
	}
	d.Page(d.size)
	return MarginMm
}

// foot is how far down a page is written.
func (d *Document) foot() float64 { return d.size.HighMm - footMm - 5 }

// Flow is Paragraph that goes on on the next page where the foot is reached.
func (d *Document) Flow(x, y, wideMm float64, words string, sizeMm float64, strong bool) float64 {
	for _, line := range d.wrap(words, wideMm, sizeMm, strong) {
		y = d.Break(y, sizeMm*lineShare) + sizeMm*lineShare
		d.words(x, y-sizeMm*.35, line, sizeMm, strong)
	}
	return y
}

// Height is how high a paragraph of that width would be.
func (d *Document) Height(words string, wideMm, sizeMm float64, strong bool) float64 {
	return float64(len(d.wrap(words, wideMm, sizeMm, strong))) * sizeMm * lineShare
}

// Heading writes a line over a table from a point downwards, on a new page of the same size where the foot is near, and
// answers where it ends.
func (d *Document) Heading(y float64, words string, sizeMm float64) float64 {
	const roomForTable = 35
	if y+roomForTable > d.size.HighMm-footMm {
		d.Page(d.size)
		y = MarginMm
	}
	return d.Paragraph(MarginMm, y, d.size.WideMm-2*MarginMm, words, sizeMm, true) + 1
}

// Fits is the words as far as they fit into a width, cut with an ellipsis where they do not.
func (d *Document) Fits(words string, wideMm, sizeMm float64, strong bool) string {
	d.letters(sizeMm, strong)
	return d.shorten(plain(words), wideMm, sizeMm)
}

// Shrunk is how high letters are so that words fit into a width: at most and at least so many millimetres.
func (d *Document) Shrunk(words string, wideMm, mostMm, leastMm float64) float64 {
	if wide := d.wide(plain(words), mostMm, false); wide > wideMm {
		return max(leastMm, mostMm*wideMm/wide*.99)
	}
	return mostMm
}

// Lines are words broken into at most so many lines of a width; what is left over ends in an ellipsis.
func (d *Document) Lines(words string, wideMm, sizeMm float64, most int) []string {
	lines := d.wrap(words, wideMm, sizeMm, false)
	if len(lines) <= most {
		return lines
	}
	lines[most-1] = d.shorten(lines[most-1]+" "+lines[most], wideMm, sizeMm)
	return lines[:most]
}

// Box draws a thin outline.
func (d *Document) Box(x, y, wideMm, highMm float64) {
	d.pdf.SetDrawColor(0x7F, 0x7F, 0x7F)
	d.pdf.SetLineWidth(.1)
	d.pdf.Rect(x, y, wideMm, highMm, "D")
	d.pdf.SetDrawColor(0, 0, 0)
}

// lineShare is how far one line stands below the other, in heights of a letter.
const lineShare = 1.3

func (d *Document) words(x, y float64, words string, sizeMm float64, strong bool) {
	d.letters(sizeMm, strong)
	d.pdf.Text(x, y, words)
}

func (d *Document) letters(sizeMm float64, strong bool) {
	style := ""
	if strong {
		style = "B"
	}
	d.pdf.SetFont(font, style, sizeMm/pointMm)
}

func (d *Document) wide(words string, sizeMm float64, strong bool) float64 {
	d.letters(sizeMm, strong)
	return d.pdf.GetStringWidth(words)
}

// wrap breaks words into lines; a word too long for a line is broken where the line ends.
func (d *Document) wrap(words string, wideMm, sizeMm float64, strong bool) []string {
	d.letters(sizeMm, strong)
	var out []string
	for part := range strings.SplitSeq(words, "\n") {
		line := ""
		for word := range strings.FieldsSeq(plain(part)) {
			for {
				longer := strings.TrimPrefix(line+" "+word, " ")
				if d.pdf.GetStringWidth(longer) <= wideMm {
					line = longer
					break
				}
				if line != "" {
					out, line = append(out, line), ""
					continue
				}
				head, tail := d.broken(word, wideMm)
				out, word = append(out, head), tail
			}
		}
		out = append(out, line)
	}
	return out
}

// broken is a word in two: as many letters as fit, at least one, and the rest.
func (d *Document) broken(word string, wideMm float64) (head, tail string) {
	letters := []rune(word)
	n := 1
	for n < len(letters) && d.pdf.GetStringWidth(string(letters[:n+1])) <= wideMm {
		n++
	}
	return string(letters[:n]), string(letters[n:])
}

func (d *Document) shorten(words string, wideMm, sizeMm float64) string {
	if d.pdf.GetStringWidth(words) <= wideMm {
		return words
	}
	letters := []rune(words)
	for len(letters) > 0 && d.pdf.GetStringWidth(string(letters)+"…") > wideMm {
		letters = letters[:len(letters)-1]
	}
	return string(letters) + "…"
}

func (d *Document) rule(x0, y, x1, thickMm float64) {
	d.pdf.SetDrawColor(0x40, 0x40, 0x40)
	d.pdf.SetLineWidth(thickMm)
	d.pdf.Line(x0, y, x1, y)
	d.pdf.SetDrawColor(0, 0, 0)
}

// plain keeps out of a page what is no letter, and what the font's table does not reach.
func plain(words string) string {
	return strings.Map(func(c rune) rune {
		switch {
		case c < ' ' || c == 0x7F:
			return ' '
		case c > 0xFFFF:
			return '\uFFFD'
		}
		return c
	}, strings.ToValidUTF8(words, "\uFFFD"))
}
