package catalogue

import "testing"

// ISO 273:1979: fine, medium, coarse.
func TestClearance(t *testing.T) {
	t.Parallel()
	for size, want := range map[string][3]float64{
		"M6": {6.4, 6.6, 7}, "M8": {8.4, 9, 10}, "M10": {10.5, 11, 12}, "M12": {13, 13.5, 14.5}, "M16": {17, 17.5, 18.5}, "M20": {21, 22, 24},
	} {
		h, ok := Clearance(size)
		if got := [3]float64{h.FineMm, h.MediumMm, h.WideMm}; !ok || got != want {
			t.Errorf("Clearance(%s) = %v, %v; want %v", size, got, ok, want)
		}
	}
	if _, ok := Clearance("M7"); ok {
		t.Error("Clearance(M7) is there")
	}
}

// ISO 15480:1999; ST4.2 read in a trade article, the rest from memory.
func TestDrillRange(t *testing.T) {
	t.Parallel()
	for size, want := range map[string][2]float64{
		"ST3.5": {0.7, 2.25}, "ST4.2": {1.75, 3}, "ST4.8": {1.75, 4.4}, "ST5.5": {1.75, 5.25}, "ST6.3": {2, 6},
	} {
		from, to, ok := DrillRange(size)
		if got := [2]float64{from, to}; !ok || got != want {
			t.Errorf("DrillRange(%s) = %v, %v; want %v", size, got, ok, want)
		}
	}
}

// DIN 7975 recommended pilot holes, as two trade tables print them; ST6.3 from memory.
func TestTappingHole(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		size                string
		thickness, strength float64
		want                float64 // 0 is none
	}{
		{"ST4.2", 1.4, 100, 3.1}, {"ST4.2", 2, 300, 3.4}, {"ST4.2", 3.5, 500, 3.7},
		{"ST4.8", 3, 300, 4.1}, {"ST4.8", 4, 500, 4.3}, {"ST5.5", 3, 300, 4.8},
		{"ST4.8", 2.3, 300, 4.0}, // between 2.2 and 2.5: the larger
		{"ST6.3", 3, 300, 5.4},   // on the border of two rows: the larger
		{"ST4.8", 1.5, 300, 0},   // thinner than the pitch: it would not hold
		{"ST4.8", 6, 300, 0}, {"ST4.8", 3, 235, 0}, {"ST9", 3, 300, 0},
	} {
		h, ok := TappingHole(tt.size, tt.thickness, tt.strength)
		if h.HoleMm != tt.want || ok != (tt.want > 0) {
			t.Errorf("TappingHole(%s, %v, %v) = %v, %v; want %v", tt.size, tt.thickness, tt.strength, h.HoleMm, ok, tt.want)
		}
	}
}

// A pilot lies between the root and the crest of its thread (ISO 1478): less cannot be driven, more does not hold.
func TestPilotsLieInTheThread(t *testing.T) {
	t.Parallel()
	for _, h := range HoleSizes() {
		if h.Record != "pilot" {
			continue
		}
		thread, ok := hole("thread", h.Size)
		if !ok || h.HoleMm < thread.MinorMinMm || h.HoleMm > thread.MajorMinMm {
			t.Errorf("%s in %v mm: pilot %v, thread %v to %v", h.Size, h.ToThicknessMm, h.HoleMm, thread.MinorMinMm, thread.MajorMinMm)
		}
		if h.FromThicknessMm < thread.PitchMm {
			t.Errorf("%s: steel of %v mm is thinner than the pitch, %v", h.Size, h.FromThicknessMm, thread.PitchMm)
		}
	}
}
