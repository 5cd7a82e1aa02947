package photo

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"strings"
	"testing"

	"unpick/domain"
	"unpick/domain/photo/phototest"
)

// TestUpright: every orientation that a camera writes is honoured. The corners are those of the table in EXIF 2.3, 4.6.4 A
// (from memory): where the first row and the first column of the file lie when the picture is looked at.
func TestUpright(t *testing.T) {
	t.Parallel()
	const tl, tr, bl, br = 0, 1, 2, 3
	for _, tt := range []struct{ orientation, red, blue int }{
		{1, tl, tr}, {2, tr, tl}, {3, br, bl}, {4, bl, br}, {5, tl, bl}, {6, tr, br}, {7, br, tr}, {8, bl, tl}, {0, tl, tr},
	} {
		kept, err := Read(Sent{Name: "IMG_1.jpg", MediaType: "image/jpeg", Content: phototest.JPEG(96, 64, phototest.Says{Orientation: tt.orientation})})
		if err != nil {
			t.Fatalf("orientation %d: %v", tt.orientation, err)
		}
		w, h := 96, 64
		if tt.orientation >= 5 {
			w, h = h, w
		}
		if kept.WidthPx != w || kept.HeightPx != h {
			t.Errorf("orientation %d: %d by %d, want %d by %d", tt.orientation, kept.WidthPx, kept.HeightPx, w, h)
		}
		p := decoded(t, kept.Content)
		corners := []image.Point{{4, 4}, {w - 5, 4}, {4, h - 5}, {w - 5, h - 5}}
		if c := corners[tt.red]; !near(p.At(c.X, c.Y), phototest.Red) {
			t.Errorf("orientation %d: no red at %v but %v", tt.orientation, c, p.At(c.X, c.Y))
		}
		if c := corners[tt.blue]; !near(p.At(c.X, c.Y), phototest.Blue) {
			t.Errorf("orientation %d: no blue at %v but %v", tt.orientation, c, p.At(c.X, c.Y))
		}
	}
}

func decoded(tb testing.TB, content []byte) image.Image {
	tb.Helper()
	p, err := jpeg.Decode(bytes.NewReader(content))
	if err != nil {
		tb.Fatal(err)
	}
	return p
}

func near(a, b color.Color) bool {
	r, g, bl, _ := a.RGBA()
	r2, g2, bl2, _ := b.RGBA()
	far := func(x, y uint32) bool { return math.Abs(float64(x)-float64(y)) > 0x2000 }
	return !far(r, r2) && !far(g, g2) && !far(bl, bl2)
}

// TestNothingLeft: nothing of what the camera wrote is in what is kept; where it was taken stands beside it only when it
// was asked for.
func TestNothingLeft(t *testing.T) {
	t.Parallel()
	sent := phototest.JPEG(96, 64, phototest.Says{Orientation: 6, Taken: "2026:03:14 09:26:53", Located: true, Maker: "MAKER-OF-PHONES"})
	for _, keep := range []bool{false, true} {
		kept, err := Read(Sent{Content: sent, KeepPlace: keep})
		if err != nil {
			t.Fatal(err)
		}
		for _, file := range [][]byte{kept.Content, kept.Small} {
			for _, left := range []string{"Exif", "MAKER", "2026:03:14", "II*", "\xff\xe1"} {
				if bytes.Contains(file, []byte(left)) {
					t.Errorf("keep place %v: %q is still in the file", keep, left)
				}
			}
		}
		if kept.Taken != "2026-03-14T09:26:53" {
			t.Errorf("taken = %q", kept.Taken)
		}
		if kept.Located != keep {
			t.Errorf("keep place %v: located = %v", keep, kept.Located)
		}
		if keep && (math.Abs(kept.Latitude-51.5) > 1e-6 || math.Abs(kept.Longitude+0.125) > 1e-6) {
			t.Errorf("taken at %v, %v, want 51.5, -0.125", kept.Latitude, kept.Longitude)
		}
		if !keep && (kept.Latitude != 0 || kept.Longitude != 0) {
			t.Errorf("the place is kept though nobody asked: %v, %v", kept.Latitude, kept.Longitude)
		}
	}
	if !bytes.Contains(sent, []byte("MAKER-OF-PHONES")) {
		t.Fatal("the photo that was sent says nothing, so the test shows nothing")
	}
}

func TestScaled(t *testing.T) {
	t.Parallel()
	kept, err := Read(Sent{Content: phototest.JPEG(3000, 1500, phototest.Says{Orientation: 8})})
	if err != nil {
		t.Fatal(err)
	}
	if kept.WidthPx != 1200 || kept.HeightPx != 2400 {
		t.Errorf("kept at %d by %d, want 1200 by 2400", kept.WidthPx, kept.HeightPx)
	}
	if b := decoded(t, kept.Small).Bounds(); b.Dx() != 160 || b.Dy() != 320 {
		t.Errorf("the small one is %v, want 160 by 320", b)
	}
	again, err := Read(Sent{Content: phototest.JPEG(3000, 1500, phototest.Says{Orientation: 8})})
	if err != nil || again.SHA256 != kept.SHA256 || !IsSum(kept.SHA256) {
		t.Errorf("the same photo twice has the names %q and %q (%v)", kept.SHA256, again.SHA256, err)
	}
}

// bomb is a PNG of a few bytes whose header promises more dots than are taken.
func bomb(width, height uint32) []byte {
	header := append([]byte("IHDR"), binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, width), height)...)
	header = append(header, 8, 2, 0, 0, 0)
	out := append([]byte("\x89PNG\r\n\x1a\n"), 0, 0, 0, 13)
	return binary.BigEndian.AppendUint32(append(out, header...), crc32.ChecksumIEEE(header))
}

func TestRefused(t *testing.T) {
	t.Parallel()
	jpg := phototest.JPEG(64, 64, phototest.Says{})
	for _, tt := range []struct {
		name string
		sent Sent
		code domain.Code
		says string
	}{
		{"nothing", Sent{}, domain.Invalid, "empty"},
		{"a page", Sent{Name: "a.jpg", MediaType: "image/jpeg", Content: []byte("<!doctype html><script>")}, domain.Invalid, "no photo"},
		{"a drawing with script", Sent{MediaType: "image/svg+xml", Content: []byte("<svg onload=x>")}, domain.Invalid, "no photo"},
		{"a PDF", Sent{Name: "photo.jpg", Content: []byte("%PDF-1.7")}, domain.Invalid, "PDF"},
		{"a HEIC", Sent{Name: "IMG.HEIC", Content: []byte("\x00\x00\x00\x18ftypheic\x00\x00")}, domain.Invalid, "HEIC"},
		{"a GIF", Sent{Content: []byte("GIF89a")}, domain.Invalid, "GIF"},
		{"lies by its name", Sent{Name: "a.png", Content: jpg}, domain.Invalid, "says that it is PNG and is JPEG"},
		{"lies by its type", Sent{Name: "a.jpg", MediaType: "image/webp", Content: jpg}, domain.Invalid, "says that it is WebP and is JPEG"},
		{"lies by quite another type", Sent{MediaType: "text/html; charset=utf-8", Content: jpg}, domain.Invalid, "says that it is text/html"},
		{"half of it", Sent{Content: jpg[:len(jpg)/2]}, domain.Invalid, "broken"},
		{"a header only", Sent{Content: []byte("\xff\xd8\xff\xe0")}, domain.Invalid, "broken"},
		{"wide and flat is within", Sent{Content: bomb(40_000_000, 1)}, domain.Invalid, "broken"},
		{"too many dots", Sent{Content: bomb(8000, 5001)}, domain.TooLarge, "8000 by 5001"},
		{"more dots than fit into a figure", Sent{Content: bomb(1<<20, 1<<20)}, domain.TooLarge, "dots"},
		{"too many bytes", Sent{Content: append(bytes.Clone(jpg), make([]byte, MostBytes)...)}, domain.TooLarge, "12"},
	} {
		_, err := Read(tt.sent)
		if domain.CodeOf(err) != tt.code || err == nil || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%s: Read = %v (%q), want %q with %q in it", tt.name, err, domain.CodeOf(err), tt.code, tt.says)
		}
	}
}

func TestTaken(t *testing.T) {
	t.Parallel()
	for name, sent := range map[string]Sent{
		"PNG":                    {Name: "a.PNG", MediaType: "image/png", Content: phototest.PNG(40, 30)},
		"a JPEG of no name":      {Content: phototest.JPEG(40, 30, phototest.Says{})},
		"a JPEG of a loose type": {Name: "image", MediaType: "application/octet-stream", Content: phototest.JPEG(40, 30, phototest.Says{})},
		// The smallest WebP without loss, 1 by 1, as browsers are asked with whether they know WebP (from memory).
		"WebP": {Name: "a.webp", MediaType: "image/webp", Content: []byte("RIFF\x1a\x00\x00\x00WEBPVP8L\x0d\x00\x00\x00\x2f\x00\x00\x00\x10\x07\x10\x11\x11\x88\x88\xfe\x07\x00")},
	} {
		kept, err := Read(sent)
		if err != nil || kept.MediaType != "image/jpeg" || kept.WidthPx == 0 {
			t.Errorf("%s: Read = %+v, %v", name, kept.Photo, err)
		}
	}
}

// FuzzRead: whatever arrives is kept or refused in words, and nothing else.
func FuzzRead(f *testing.F) {
	f.Add(phototest.JPEG(16, 8, phototest.Says{Orientation: 6, Located: true, Taken: "2026:03:14 09:26:53"}))
	f.Add(phototest.PNG(16, 8))
	f.Add(bomb(100, 100))
	f.Fuzz(func(t *testing.T, content []byte) {
		kept, err := Read(Sent{Content: content, KeepPlace: true})
		if err != nil && domain.CodeOf(err) == "" {
			t.Errorf("a fault without words: %v", err)
		}
		if err == nil && (len(kept.Content) == 0 || max(kept.WidthPx, kept.HeightPx) > LargestPx) {
			t.Errorf("kept %+v", kept.Photo)
		}
	})
}
