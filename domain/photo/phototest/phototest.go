// Package phototest makes photos as a phone does, for tests: a picture with known corners, and what the camera writes
// into the file (EXIF 2.3, JEITA CP-3451B, tags and types from memory).
package phototest

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
)

// Says is what the camera writes. The zero value writes nothing.
type Says struct {
	Orientation int
	Taken       string // "2026:03:14 09:26:53"
	Located     bool   // at 51 degrees 30 minutes north, 0 degrees 7 minutes 30 seconds west
	Maker       string
}

// Red, Blue and Grey are the colours of the picture: red in its first quarter, blue beside it, grey below both.
var (
	Red  = color.RGBA{R: 220, A: 255}
	Blue = color.RGBA{B: 220, A: 255}
	Grey = color.RGBA{R: 128, G: 128, B: 128, A: 255}
)

// Picture is the picture as the camera's sensor lies.
func Picture(widthPx, heightPx int) image.Image {
	p := image.NewRGBA(image.Rect(0, 0, widthPx, heightPx))
	for y := range heightPx {
		for x := range widthPx {
			c := Grey
			if y < heightPx/2 {
				c = Blue
				if x < widthPx/2 {
					c = Red
				}
			}
			p.SetRGBA(x, y, c)
		}
	}
	return p
}

// JPEG is the picture as a file.
func JPEG(widthPx, heightPx int, s Says) []byte {
	var out bytes.Buffer
	if err := jpeg.Encode(&out, Picture(widthPx, heightPx), nil); err != nil {
		panic(err) // a buffer takes everything
	}
	file := out.Bytes()
	exif := append([]byte("Exif\x00\x00"), s.tiff()...)
	segment := binary.BigEndian.AppendUint16([]byte{0xff, 0xe1}, uint16(len(exif)+2))
	return bytes.Join([][]byte{file[:2], segment, exif, file[2:]}, nil)
}

// PNG is the picture as a file.
func PNG(widthPx, heightPx int) []byte {
	var out bytes.Buffer
	if err := png.Encode(&out, Picture(widthPx, heightPx)); err != nil {
		panic(err)
	}
	return out.Bytes()
}

// entry is one field of an image file directory.
type entry struct {
	tag, kind uint16
	count     uint32
	value     []byte
}

const (
	ascii    = 2
	short    = 3
	long     = 4
	rational = 5
)

func text(tag uint16, s string) entry {
	return entry{tag, ascii, uint32(len(s) + 1), []byte(s + "\x00")}
}

func degrees(tag uint16, d, m, s uint32) entry {
	var v []byte
	for _, n := range []uint32{d, m, s} {
		v = binary.LittleEndian.AppendUint32(v, n)
		v = binary.LittleEndian.AppendUint32(v, 1)
	}
	return entry{tag, rational, 3, v}
}

func pointer(tag uint16, to int) entry {
	return entry{tag, long, 1, binary.LittleEndian.AppendUint32(nil, uint32(to))}
}

// tiff lays the directories one behind the other: the main one, the camera's, the place's.
func (s Says) tiff() []byte {
	var main, camera, place []entry
	if s.Maker != "" {
		main = append(main, text(0x010f, s.Maker))
	}
	if s.Orientation != 0 {
		main = append(main, entry{0x0112, short, 1, binary.LittleEndian.AppendUint16(nil, uint16(s.Orientation))})
	}
	if s.Taken != "" {
		camera = append(camera, text(0x9003, s.Taken))
	}
	if s.Located {
		place = append(place, text(1, "N"), degrees(2, 51, 30, 0), text(3, "W"), degrees(4, 0, 7, 30))
	}
	const start = 8
	pointers := 0
	for _, sub := range [][]entry{camera, place} {
		if len(sub) > 0 {
			pointers++
		}
	}
	after := start + sizeOf(main) + 12*pointers
	if len(camera) > 0 {
		main = append(main, pointer(0x8769, after))
		after += sizeOf(camera)
	}
	if len(place) > 0 {
		main = append(main, pointer(0x8825, after))
	}
	out := []byte("II*\x00\x08\x00\x00\x00")
	for _, directory := range [][]entry{main, camera, place} {
		if len(directory) > 0 {
			out = lay(out, directory)
		}
	}
	return out
}

func sizeOf(directory []entry) int {
	size := 2 + 12*len(directory) + 4
	for _, e := range directory {
		if len(e.value) > 4 {
			size += len(e.value)
		}
	}
	return size
}

func lay(out []byte, directory []entry) []byte {
	values := len(out) + 2 + 12*len(directory) + 4
	var behind []byte
	out = binary.LittleEndian.AppendUint16(out, uint16(len(directory)))
	for _, e := range directory {
		out = binary.LittleEndian.AppendUint16(out, e.tag)
		out = binary.LittleEndian.AppendUint16(out, e.kind)
		out = binary.LittleEndian.AppendUint32(out, e.count)
		if len(e.value) > 4 {
			out = binary.LittleEndian.AppendUint32(out, uint32(values+len(behind)))
			behind = append(behind, e.value...)
		} else {
			out = append(append(out, e.value...), make([]byte, 4-len(e.value))...)
		}
	}
	return append(append(out, 0, 0, 0, 0), behind...)
}
