// Package photo turns what a phone sends into a photo that may be kept for thirty years and shown to anybody.
//
// The idea: what is sent is looked at, not believed. Its kind is read from its first bytes, its size from its header
// before a single pixel is decoded. The picture is then turned upright, scaled down and written anew, so that nothing of
// the old file is left: no place, no serial number, no thumbnail of what was cropped away. Where it was taken is kept
// only where the person asked for it, as two figures beside the photo and never in it.
//
// Looking for
//
//   - the limits, and the way through: photo.go; what kind of file it is: kind.go
//   - what the camera wrote, which way is up: exif.go; turning and scaling: turn.go
package photo

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"image"
	"image/jpeg"

	"unpick/domain"
)

// The limits. A phone's photo of 12 megapixels is 2 to 6 MB (common practice, no source).
const (
	MostBytes  = 12 << 20
	MostPixels = 40_000_000
	LargestPx  = 2400 // the longer side of what is kept
	SmallPx    = 320  // the longer side of the one in lists
)

// quality of the JPEG that is kept: above it files grow faster than anybody sees (common practice, no source).
const quality = 85

// Sent is a photo as it came.
type Sent struct {
	Name      string // as the phone calls the file
	MediaType string // as the browser calls it, "" where it does not
	Content   []byte
	KeepPlace bool // the person asked that where it was taken is kept
}

// Kept is a photo as it is stored.
type Kept struct {
	domain.Photo
	Content []byte // the JPEG
	Small   []byte // the same, small
}

// Read looks at a photo and answers what is kept of it. Refused, in words: what is too large in bytes or in pixels, what
// is no JPEG, PNG or WebP, and what says it is one and is another.
func Read(s Sent) (Kept, error) {
	if len(s.Content) > MostBytes {
		return Kept{}, domain.Errorf(domain.TooLarge, "the photo has %.1f MB, and the most that is taken is %d MB: set the camera to a smaller size", float64(len(s.Content))/(1<<20), MostBytes>>20)
	}
	k, err := kindOf(s)
	if err != nil {
		return Kept{}, err
	}
	size, err := k.header(bytes.NewReader(s.Content))
	if err != nil {
		return Kept{}, broken(k)
	}
	if size.Width < 1 || size.Height < 1 || size.Width > MostPixels/size.Height {
		return Kept{}, domain.Errorf(domain.TooLarge, "the photo is %d by %d dots, more than the %d million that are taken: set the camera to a smaller size", size.Width, size.Height, MostPixels/1_000_000)
	}
	picture, err := k.decode(bytes.NewReader(s.Content))
	if err != nil {
		return Kept{}, broken(k)
	}
	said := cameraSays(k, s.Content)
	out := Kept{Photo: domain.Photo{MediaType: "image/jpeg", Taken: said.taken}}
	if s.KeepPlace && said.located {
		out.Located, out.Latitude, out.Longitude = true, said.latitude, said.longitude
	}
	upright := turned(scaled(picture, LargestPx), said.orientation)
	out.WidthPx, out.HeightPx = upright.Bounds().Dx(), upright.Bounds().Dy()
	if out.Content, err = written(upright); err != nil {
		return Kept{}, err
	}
	if out.Small, err = written(scaled(upright, SmallPx)); err != nil {
		return Kept{}, err
	}
	sum := sha256.Sum256(out.Content)
	out.SHA256 = hex.EncodeToString(sum[:])
	return out, nil
}

func broken(k *kind) error {
	return domain.Errorf(domain.Invalid, "the %s file is broken or not whole: take the photo again, or choose another", k.name)
}

func written(picture image.Image) ([]byte, error) {
	var out bytes.Buffer
	if err := jpeg.Encode(&out, picture, &jpeg.Options{Quality: quality}); err != nil {
		return nil, fmt.Errorf("writing a photo: %w", err)
	}
	return out.Bytes(), nil
}

// IsSum reports whether a text can be the SHA-256 of a photo: 64 lower-case hexadecimal digits.
func IsSum(sum string) bool {
	if len(sum) != 2*sha256.Size {
		return false
	}
	for _, digit := range sum {
		if (digit < '0' || digit > '9') && (digit < 'a' || digit > 'f') {
			return false
		}
	}
	return true
}
