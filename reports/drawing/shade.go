package drawing

import (
	"fmt"
	"strconv"
)

// isometricKinds are the sorts of piece with their tone on top, in the light and in the dark. Lightness differs from
// sort to sort, and line too, so that they part without colour.
var isometricKinds = []struct{ class, words, light, dark, line string }{
	{"timber", "timber", "#e8c98f", "#a5803f", "timber-line"},
	{"board", "board", "#f4f7fa", "#8d99a2", "board-line"},
	{"wool", "insulation", "#efe58a", "#8f8740", "wool-line"},
	{"steel", "steel", "#43597a", "#5d728f", "steel-line"},
	{"door", "door", "#8a4fa8", "#84609a", "door-line"},
	{"trim", "trim", "#c2622e", "#a8623a", "trim-line"},
	{"service", "service", "#dfb100", "#a88a1d", "service-line"},
	{"seal", "seal", "#4b9f8e", "#3f8f80", "seal-line"},
	{"other", "other", "#a6a6a6", "#77736b", "other-line"},
}

// shade is how much of a tone is left on the top, the left and the right of a piece.
var shade = [3]float64{1, .93, .83}

// shades are the tones of the isometric view.
func shades() []tone {
	var out []tone
	for _, k := range isometricKinds {
		for i, left := range shade {
			out = append(out, tone{fmt.Sprintf("iso-%s-%s", k.class, sides[i]), darker(k.light, left), darker(k.dark, left)})
		}
	}
	for _, k := range isometricKinds { // in the dark a dark line parts lit sides better than a light one
		out = append(out, tone{"iso-" + k.line, lightOf(k.line), "#0d0d0c"})
	}
	return append(out,
		tone{"iso-floor", "#eeeae2", "#2b2925"},
		tone{"iso-wall", "#f6f4ef", "#23211e"},
	)
}

var sides = [3]string{"top", "left", "right"}

func isometricRules() []rule {
	out := []rule{
		{".d-iso-floor", "fill:$iso-floor;stroke:$faint;stroke-width:$.06"},
		{".d-iso-wall", "fill:$iso-wall;stroke:$faint;stroke-width:$.06"},
		{".d-away", "fill:none;stroke:$faint;stroke-width:$.06;stroke-dasharray:$.5 $.3125"},
	}
	for _, k := range isometricKinds {
		for i := range shade {
			out = append(out, rule{fmt.Sprintf(".d-iso-%s-%d", k.class, i),
				fmt.Sprintf("fill:$iso-%s-%s;stroke:$iso-%s;stroke-width:$.04;stroke-linejoin:round", k.class, sides[i], k.line)})
		}
	}
	return out
}

// lightOf is a colour of the palette in the light.
func lightOf(name string) string {
	for _, t := range palette {
		if t.name == name {
			return t.light
		}
	}
	return ""
}

// darker is a colour with so much of it left.
func darker(colour string, left float64) string {
	out := "#"
	for i := 1; i < 7; i += 2 {
		n, _ := strconv.ParseUint(colour[i:i+2], 16, 8) // our own constants
		out += fmt.Sprintf("%02x", int(float64(n)*left+.5))
	}
	return out
}
