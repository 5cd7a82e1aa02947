package domain

import (
	"strconv"
	"strings"
)

// conditions holds the condition records of a surface: each dated, in words, its defects on the surface.
func (c *checker) conditions(s spot, h *HostSurface) {
	withdrawn := map[int]bool{}
	for i, seen := range h.Conditions {
		field := "conditions/" + strconv.Itoa(i)
		if seen.On == "" {
			c.fault(s, field+"/on", "has a condition record without a date: say when it was seen")
		}
		c.date(s, field+"/on", seen.On)
		c.needText(s, field+"/text", seen.Text)
		c.text(s, field+"/by", seen.By)
		oneOf(c, s, field+"/stage", seen.Stage, append(Stages(), "")...)
		c.photos(s, field, seen.Photos)
		switch n := seen.Withdraws; {
		case n == 0:
		case n < 0 || n > i || h.Conditions[n-1].Withdraws > 0:
			c.fault(s, field+"/withdraws", "withdraws record %d: give the number of an earlier record that withdraws nothing itself", n)
		case withdrawn[n]:
			c.fault(s, field+"/withdraws", "withdraws record %d a second time: once is enough", n)
		case len(seen.Defects) > 0:
			c.fault(s, field+"/defects", "withdraws record %d and has defects of its own: put them into a record of their own", n)
		}
		withdrawn[seen.Withdraws] = true
		for k, d := range seen.Defects {
			c.defect(s, field+"/defects/"+strconv.Itoa(k), h, d)
		}
	}
}

func (c *checker) photos(s spot, field string, photos []string) {
	for k, photo := range photos {
		if len(photo) != 64 || strings.Trim(photo, "0123456789abcdef") != "" {
			c.fault(s, field+"/photos/"+strconv.Itoa(k), "names the photo %.70q: give the SHA-256 of its original bytes, 64 small hexadecimal digits", photo)
		}
	}
}

func (c *checker) defect(s spot, field string, h *HostSurface, d Defect) {
	oneOf(c, s, field+"/kind", d.Kind, DefectKinds()...)
	c.whole(s, field+"/width_mm", d.WidthMm, 1, farthestMm)
	c.whole(s, field+"/height_mm", d.HeightMm, 0, farthestMm)
	c.whole(s, field+"/depth_mm", d.DepthMm, 0, 10_000)
	c.text(s, field+"/text", d.Text)
	if d.UMm < 0 || d.UMm > h.UMm {
		c.fault(s, field+"/u_mm", "has a defect %d mm along a surface that is %d mm long: measure its middle from the end where the surface starts", d.UMm, h.UMm)
	}
	if d.VMm < 0 || d.VMm > h.VMm {
		c.fault(s, field+"/v_mm", "has a defect %d mm up a surface that is %d mm high: measure its middle from the lower edge", d.VMm, h.VMm)
	}
}
