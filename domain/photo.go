package domain

// Photo is one photo as it is kept: upright, scaled down, with nothing in the file but the picture. What it shows is said
// by what names it: a sign-off, a condition of a host surface.
type Photo struct {
	SHA256    string `json:"sha256"` // of the kept file, in lower-case hexadecimal: its name everywhere
	MediaType string `json:"media_type"`
	WidthPx   int    `json:"width_px"`
	HeightPx  int    `json:"height_px"`
	Taken     string `json:"taken,omitempty"` // by the camera's own clock, "2026-03-14T09:26:53", "" where it does not say

	// Located says that where it was taken was kept on purpose. Degrees, north and east positive.
	Located   bool    `json:"located,omitempty"`
	Latitude  float64 `json:"latitude,omitempty"`
	Longitude float64 `json:"longitude,omitempty"`

	By string `json:"by"` // who sent it
	At string `json:"at"` // when it was kept: UTC, as in the log
}
