package paper

import (
	"fmt"
	"math"

	goqr "github.com/piglig/go-qr"
)

// quietModules is the white border that a reader needs round a code (ISO/IEC 18004).
const quietModules = 4

// QR draws a code in a square with its top left corner at a point, its white border within the square. A quarter of it
// may be soiled (error correction Q) where modules stay LeastModuleMm wide, else as much less as that takes. It answers
// how wide a module is, and draws nothing where even that would be too fine for an ordinary reader.
//
// Modules are whole dots of a printer of 200 to the inch: with parts of dots zbar missed up to half of the codes of a sheet.
func (d *Document) QR(x, y, sideMm float64, content string) (moduleMm float64) {
	for _, level := range []goqr.Ecc{goqr.Quartile, goqr.Medium, goqr.Low} {
		code, err := goqr.EncodeText(content, level)
		if err != nil {
			d.pdf.SetError(fmt.Errorf("QR code of %.60q: %w", content, err))
			return 0
		}
		moduleMm = math.Floor(sideMm/float64(code.Size()+2*quietModules)/dotMm+1e-9) * dotMm
		if moduleMm >= LeastModuleMm {
			border := (sideMm - moduleMm*float64(code.Size())) / 2
			d.modules(x+border, y+border, moduleMm, code)
			return moduleMm
		}
	}
	return moduleMm
}

// LeastModuleMm is the finest module drawn: three dots at 200 dots to the inch, so that a print at that and a plain
// reader will do. Common practice, no source.
const LeastModuleMm = 3 * dotMm

const dotMm = 25.4 / 200

// modules draws the dark modules, a run at a time: seams between single ones would show.
func (d *Document) modules(x, y, side float64, code *goqr.QrCode) {
	d.pdf.SetFillColor(0, 0, 0)
	n := code.Size()
	for row := range n {
		for from := 0; from < n; from++ {
			to := from
			for to < n && code.Module(to, row) {
				to++
			}
			if to > from {
				d.pdf.Rect(x+float64(from)*side, y+float64(row)*side, float64(to-from)*side, side, "F")
				from = to
			}
		}
	}
}
