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

// TestBarsOnACalendar: stretches are as long as their time, dates and closed days stand where they are, and the legend names
// them.
func TestBarsOnACalendar(t *testing.T) {
	t.Parallel()
	c := drawing.Chart{
		Title: "Both ends", Unit: "day", Ticks: []string{"1 Mar", "2 Mar", "3 Mar", "4 Mar"},
		Bars: []drawing.Bar{
			{Code: "1", Label: "Take out", Group: "Old", Start: 0, End: 4, Spans: [][2]float64{{0, 1}, {3, 4}}},
			{Code: "2", Label: "Wall", Group: "Next", Start: 3, End: 4},
		},
		Shut:  map[string][]int{"Old": {1, 2}, "Next": {2, 9}},
		Lines: []drawing.ChartLine{{At: 1, Name: "the day of entry"}, {At: 4, Name: "given back", Mark: true}, {At: 40, Name: "far away"}},
	}
	for name, o := range map[string]drawing.Options{"bars-calendar": {}, "bars-calendar-narrow": {WidthPx: 390, Inline: true, ID: "c"}} {
		raw := drawn(t, func(w io.Writer) error { return drawing.Bars(w, c, o) })
		golden(t, name, raw)
		s := parse(t, raw)
		var spans, shut []float64
		for _, p := range s.polygons {
			b := newBounds()
			for _, at := range p.points {
				b.add(at)
			}
			switch {
			case p.class == "bar" && p.code == "1":
				spans = append(spans, b[2]-b[0])
			case p.class == "row" && b[2]-b[0] > 0:
				shut = append(shut, b[2]-b[0])
			}
		}
		// Three closed days are drawn and one that is past the end is not; one more stands in the legend.
		if len(spans) != 2 || spans[0] < spans[1]-.1 || spans[0] > spans[1]+.1 || len(shut) != 4 || shut[0] < spans[0]-.2 || shut[0] > spans[0]+.2 {
			t.Errorf("%s: stretches %v, closed %v", name, spans, shut)
		}
		words := ""
		for _, x := range s.texts {
			words += x.words + "|"
		}
		for _, want := range []string{"closed", "the day of entry", "given back"} {
			if !strings.Contains(words, want) {
				t.Errorf("%s does not say %q: %s", name, want, words)
			}
		}
		if strings.Contains(words, "far away") {
			t.Errorf("%s names a date that is not on it", name)
		}
	}
}
