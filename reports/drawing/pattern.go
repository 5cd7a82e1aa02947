package drawing

import (
	"bytes"
	"fmt"
)

// hatches are the patterns by name, each in a square of so many code heights: the shapes in it, %[1]g the side of the
// square. Patterns are not turned: office programs draw a turned one badly.
var hatches = map[string]struct {
	side float64
	body string
}{
	"grain":    {4, `<rect class="d-tint-timber" width="%[1]g" height="%[1]g"/><line class="d-hatch-grain" x1="0" y1="%[1]g" x2="%[1]g" y2="0"/>`},
	"wool":     {4, `<rect class="d-tint-wool" width="%[1]g" height="%[1]g"/><path class="d-hatch-wool" d="M0 %[2]g q %[3]g -%[2]g %[2]g 0 t %[2]g 0"/>`},
	"mass":     {4, `<rect class="d-tint-mass" width="%[1]g" height="%[1]g"/><line class="d-hatch-mass" x1="0" y1="%[1]g" x2="%[1]g" y2="0"/>`},
	"chosen":   {.8, `<path class="d-hatch-chosen" d="M0 %[2]g H%[1]g M%[2]g 0 V%[1]g"/>`},
	"out":      {.8, `<path class="d-hatch-out" d="M0 %[1]g L%[1]g 0"/>`},
	"falls":    {.8, `<path class="d-hatch-falls" d="M0 0 L%[1]g %[1]g M0 %[1]g L%[1]g 0"/>`},
	"put-back": {.8, `<circle class="d-hatch-put-back" cx="%[2]g" cy="%[2]g" r="%[4]g"/>`},
	"done":     {.8, `<path class="d-hatch-done" d="M0 %[1]g L%[1]g 0"/>`},
}

// hatchOrder is the order of the patterns in a file.
var hatchOrder = []string{"grain", "wool", "mass", "chosen", "out", "falls", "put-back", "done"}

// patterns writes the patterns that a drawing uses.
func (s *sheet) patterns(out *bytes.Buffer) {
	if len(s.hatched) == 0 {
		return
	}
	out.WriteString("<defs>\n")
	for _, name := range hatchOrder {
		if !s.hatched[name] {
			continue
		}
		h := hatches[name]
		side := round3(h.side * s.textMm)
		fmt.Fprintf(out, `<pattern id="%s-%s" width="%[3]g" height="%[3]g" patternUnits="userSpaceOnUse">`, s.o.prefix(), name, side)
		fmt.Fprintf(out, h.body, side, round3(side/2), round3(side/4), round3(side/6))
		out.WriteString("</pattern>\n")
	}
	out.WriteString("</defs>\n")
}

// fill is the attribute that fills with a pattern, and notes that the drawing needs it.
func (s *sheet) fill(name string) string {
	if s.hatched == nil {
		s.hatched = map[string]bool{}
	}
	s.hatched[name] = true
	return ` fill="url(#` + s.o.prefix() + "-" + name + `)"`
}

// fillOf is how a class is filled: by a pattern, or by the stylesheet.
func (s *sheet) fillOf(class string) string {
	switch class {
	case "timber":
		return s.fill("grain")
	case "wool":
		return s.fill("wool")
	case "host", "fabric":
		return s.fill("mass")
	}
	return ""
}

func round3(v float64) float64 { return float64(int64(v*1000+.5)) / 1000 }
