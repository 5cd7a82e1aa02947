package api

import (
	"bytes"
	"fmt"
	"html"
	"net/url"
	"strings"
	"testing"
)

// TestFiguresOnForms: a figure is what was typed or is refused beside its field, on every kind of page that takes one; what
// was typed stays in the field. Never is 4,8 read as 48.
func TestFiguresOnForms(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	at := s.demo()
	for _, tt := range []struct {
		page, field, typed, says string
		more                     []string
	}{
		{"/log/piece", "/elements/0/length_mm", "4,8", "is no whole figure", nil},
		{"/log/piece", "/elements/0/width_mm", "12.5", "is no whole figure", nil},
		{"/log/piece", "/elements/0/thickness_mm", "99999999999999999999", "give 0 to 1,000,000 mm", nil},
		{"/log/piece", "/elements/0/mass_kg", "1e3", "has an exponent", nil},
		{"/log/run", "/place/pitch_mm", "4,8", "is no whole figure", nil},
		{"/log/run", "/place/count", "-2", "give 0 to 1,000,000", nil},
		{"/log/assembly/stud-wall", "/params/length_mm", "2.4 m", "give it in mm", nil},
		{"/log/assembly/stud-wall", "/params/extra_studs_mm", "400 1250", "has a space in it", nil},
		{"/log/assembly/mezzanine", "/params/level_mm", "2,4", "is no whole figure", nil},
		{"/log/found", "/holes/0/diameter_mm", "1,250", "can be read in two ways", nil},
		{"/settings/new-surface", "/u_mm", "4,8", "is no whole figure", nil},
		{"/settings/new-surface", "/slope", "81", "give -80 to 80", nil},
		{"/settings/new-zone", "/level_mm", "4,8", "is no whole figure", nil},
		{"/settings/new-zone", "/corners", "0 0\n4,8 3000", "is no corner", []string{"/name", "Store"}},
		{"/settings/new-price", "/price", "12.345", "too many decimals", []string{"/key", "labour-hour", "/unit", "hour"}},
		{"/settings/exits", "/exits/0/width_mm", "83.8", "is no whole figure", nil},
		{"/settings/crew", "/crew/people", "2 people", "a unit, and none belongs here", nil},
		{"/settings/pricing", "/pricing/contingency_percent", "1,250", "can be read in two ways", nil},
		{"/settings/licence", "/tenancy/licence_items/0/max_diameter_mm", "1e1", "has an exponent", nil},
		{"/salvage/found", "/usable_mm", "4,8", "is no whole figure", nil},
		{"/condition/SLAB1", "/defects/0/depth_mm", "4,8", "is no whole figure", nil},
		{"/condition/SLAB1", "/defects/0/u_mm", "9999999", "out of range: give 0 to", nil},
	} {
		fields := s.typed(at+tt.page, append(tt.more, tt.field, tt.typed)...)
		if strings.HasPrefix(tt.page, "/condition/") { // two forms stand on the page
			fields = url.Values{"/text": {"a crack"}, tt.field: {tt.typed}}
		}
		answer := s.submit(at+tt.page, fields)
		text := html.UnescapeString(string(answer.body))
		if answer.status != 422 || !strings.Contains(faultsIn([]byte(text)), tt.says) {
			t.Errorf("%s, %s with %q: %d, %s; want it to say %q", tt.page, tt.field, tt.typed, answer.status, faultsIn([]byte(text)), tt.says)
		}
		if kept := []byte(fmt.Sprintf(`value="%s"`, html.EscapeString(tt.typed))); !bytes.Contains(answer.body, kept) && !strings.Contains(text, tt.typed+"</textarea>") {
			t.Errorf("%s, %s: %q is no longer in the field", tt.page, tt.field, tt.typed)
		}
	}
}
