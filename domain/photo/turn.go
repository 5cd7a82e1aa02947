package photo

import (
	"image"
	"image/color"

	"golang.org/x/image/draw"
)

// scaled is a picture whose longer side is at most so many dots, on white where it was see-through. Scaling comes before
// turning: the smaller picture turns faster.
func scaled(picture image.Image, most int) *image.RGBA {
	from := picture.Bounds()
	w, h := from.Dx(), from.Dy()
	if longer := max(w, h); longer > most {
		w, h = max(w*most/longer, 1), max(h*most/longer, 1)
	}
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	draw.Draw(out, out.Bounds(), image.NewUniform(color.White), image.Point{}, draw.Src)
	if w == from.Dx() && h == from.Dy() {
		draw.Draw(out, out.Bounds(), picture, from.Min, draw.Over)
		return out
	}
	draw.BiLinear.Scale(out, out.Bounds(), picture, from, draw.Over, nil)
	return out
}

// turned is a picture the right way up. The eight orientations are those of EXIF 2.3: which side of the picture the first
// row and the first column are (from memory).
func turned(p *image.RGBA, orientation int) *image.RGBA {
	if orientation <= 1 {
		return p
	}
	w, h := p.Bounds().Dx(), p.Bounds().Dy()
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	if orientation >= 5 {
		out = image.NewRGBA(image.Rect(0, 0, h, w))
	}
	for y := range h {
		for x := range w {
			tx, ty := place(orientation, x, y, w, h)
			from, to := p.PixOffset(x, y), out.PixOffset(tx, ty)
			copy(out.Pix[to:to+4], p.Pix[from:from+4])
		}
	}
	return out
}

// place is where a dot goes.
func place(orientation, x, y, w, h int) (int, int) {
	switch orientation {
	case 2: // mirrored left to right
		return w - 1 - x, y
	case 3: // upside down
		return w - 1 - x, h - 1 - y
	case 4: // mirrored top to bottom
		return x, h - 1 - y
	case 5: // mirrored over the diagonal
		return y, x
	case 6: // lies on its left side: a quarter turn to the right
		return h - 1 - y, x
	case 7: // mirrored over the other diagonal
		return h - 1 - y, w - 1 - x
	case 8: // lies on its right side: a quarter turn to the left
		return y, w - 1 - x
	}
	return x, y
}
