package catalogue

import "testing"

// Common practice, no source: sawn timber that is picked over takes about a fifth more than engineered or planed studs;
// ranges seen: stock lengths 5, softwood 5-10, sheets 10-20.
func TestWastageFor(t *testing.T) {
	t.Parallel()
	for code, want := range map[string]float64{
		"c16-sawn-47x100": 20, "c24-post-100x100": 20, "c16-batten-25x50": 20, "softwood-treated": 20, "redwood-par-38x225": 10, "lining-sw-32x138": 10,
		"c16-cls-38x89": 5, "gl24h-90x225": 5, "toeboard-ply-18x150": 5, "packer-deflection-18x89": 5, "osb3-18-metric": 10, "pb-a-12": 10, "p5-22-tg": 5, "trim-mdf-18x95": 15, "rw-45-50": 5,
		"sealant-acrylic-310": 15, "adhesive-grab-350": 15, "stud-70-05": 5, "door-set-fd30-838": 0, "hanger-47": 0,
	} {
		w, ok := WastageFor(Default().Materials[code])
		if w.Percent != want || ok != (want > 0) {
			t.Errorf("WastageFor(%s) = %v, %v; want %v", code, w.Percent, ok, want)
		}
	}
	if w, ok := WastageOf("screws"); !ok || w.Percent != 10 {
		t.Errorf("WastageOf(screws) = %v, %v; want 10", w.Percent, ok)
	}
}

// Only what is sold by the length or by the sheet has a least size: a hanger is metal and small as it is made.
func TestKeepingOf(t *testing.T) {
	t.Parallel()
	for code, want := range map[string]bool{"c16-cls-38x89": true, "pb-a-12": true, "rw-45-50": true, "stud-70-05": true, "hanger-47": false, "door-leaf-fd30-838": false} {
		if k, ok := KeepingOf(Default().Materials[code]); ok != want || ok && (k.LeastLengthMm == 0 || k.Source == "") {
			t.Errorf("KeepingOf(%s) = %+v, %v; want %v, with a length and a source", code, k, ok, want)
		}
	}
}
