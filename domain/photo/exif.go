package photo

import (
	"bytes"
	"math"
	"strings"
	"time"

	"github.com/bep/imagemeta"
)

// said is what the camera wrote into the file.
type said struct {
	orientation         int    // 1 to 8 as in EXIF 2.3, 4.6.4 A (from memory); 1 where it does not say
	taken               string // "2026-03-14T09:26:53", "" where it does not say
	located             bool
	latitude, longitude float64
}

// cameraSays reads what the camera wrote. What cannot be read is not said: a photo without it is still a photo.
func cameraSays(k *kind, content []byte) said {
	wanted := map[string]bool{"Orientation": true, "DateTimeOriginal": true, "GPSLatitude": true, "GPSLatitudeRef": true, "GPSLongitude": true, "GPSLongitudeRef": true}
	tags := map[string]any{}
	_, err := imagemeta.Decode(imagemeta.Options{
		R: bytes.NewReader(content), ImageFormat: k.meta, Sources: imagemeta.EXIF,
		ShouldHandleTag: func(t imagemeta.TagInfo) bool {
			return wanted[t.Tag] && strings.HasPrefix(t.Namespace, "IFD0") // the thumbnail has an orientation of its own
		},
		HandleTag: func(t imagemeta.TagInfo) error {
			tags[t.Tag] = t.Value
			return nil
		},
	})
	if err != nil {
		return said{orientation: 1}
	}
	s := said{orientation: 1}
	if o, ok := figure(tags["Orientation"]); ok && o >= 1 && o <= 8 {
		s.orientation = int(o)
	}
	if text, ok := tags["DateTimeOriginal"].(string); ok {
		if t, err := time.Parse("2006:01:02 15:04:05", strings.TrimRight(text, "\x00 ")); err == nil {
			s.taken = t.Format("2006-01-02T15:04:05")
		}
	}
	var north, east bool
	s.latitude, north = degrees(tags["GPSLatitude"], tags["GPSLatitudeRef"], "S", 90)
	s.longitude, east = degrees(tags["GPSLongitude"], tags["GPSLongitudeRef"], "W", 180)
	s.located = north && east
	return s
}

func figure(v any) (float64, bool) {
	switch n := v.(type) {
	case uint8:
		return float64(n), true
	case uint16:
		return float64(n), true
	case uint32:
		return float64(n), true
	case int:
		return float64(n), true
	case int64:
		return float64(n), true
	case float64:
		return n, true
	}
	return 0, false
}

// degrees is one half of a place; below is the letter that turns it negative. What lies off the globe is not said.
func degrees(value, letter any, below string, most float64) (float64, bool) {
	d, ok := figure(value)
	if !ok || math.IsNaN(d) || math.Abs(d) > most {
		return 0, false
	}
	if text, ok := letter.(string); ok && strings.HasPrefix(strings.ToUpper(text), below) {
		d = -math.Abs(d)
	}
	return d, true
}
