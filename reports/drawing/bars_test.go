package drawing_test

import (
	"io"
	"strings"
	"testing"

	"unpick/reports/drawing"
)

func programme() drawing.Chart {
	return drawing.Chart{
		Title: "Strip-out", Subtitle: "One crew.", Unit: "day", Now: 1.5,
		Bars: []drawing.Bar{
			{Code: "1", Label: "Prove the services dead", Group: "Press room", Start: 0, End: .5, Done: 1},
			{Code: "2", Label: "Take out the boards", Group: "Press room", Start: .5, End: 2, Done: .6, Emphasis: drawing.Chosen},
			{Code: "3", Label: "Take out the studs <&\"", Group: "Store", Start: 2, End: 4, Note: "two people"},
			{Code: "4", Label: "Sweep", Group: "Store", Start: 4, End: 4},
		},
	}
}

// TestBars: bars are as long as their time, on one scale, and what is done as long as its share.
func TestBars(t *testing.T) {
	t.Parallel()
	for name, o := range map[string]drawing.Options{"bars": {}, "bars-narrow": {WidthPx: 390, Inline: true, ID: "b", Link: linked}} {
		raw := drawn(t, func(w io.Writer) error { return drawing.Bars(w, programme(), o) })
		golden(t, name, raw)
		s := parse(t, raw)
		wide := map[string]float64{}
		start := map[string]float64{}
		for _, p := range s.polygons {
			if p.code != "" {
				b := newBounds()
				for _, c := range p.points {
					b.add(c)
				}
				wide[p.class+p.code], start[p.class+p.code] = b[2]-b[0], b[0]
			}
		}
		unit := wide["bar3"] / 2
		for _, tt := range []struct {
			bar  string
			want float64
		}{{"bar1", .5}, {"bar2", 1.5}, {"bar-done1", .5}, {"bar-done2", .9}} {
			if got := wide[tt.bar] / unit; got < tt.want-.01 || got > tt.want+.01 {
				t.Errorf("%s: %s is %.3f units long, want %v", name, tt.bar, got, tt.want)
			}
		}
		if got := (start["bar3"] - start["bar1"]) / unit; got < 1.99 || got > 2.01 {
			t.Errorf("%s: the third bar starts %.3f units in, want 2", name, got)
		}
		if wide["bar4"] <= 0 {
			t.Errorf("%s: what takes no time is not seen", name)
		}
	}
	empty := parse(t, drawn(t, func(w io.Writer) error { return drawing.Bars(w, drawing.Chart{}, drawing.Options{}) }))
	if !strings.Contains(empty.texts[0].words, "nothing to draw") {
		t.Errorf("an empty chart says %q", empty.texts[0].words)
	}
}
