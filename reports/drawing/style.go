package drawing

import "fmt"

// style gives each class a tone, a hatch and a line. Patterns are not turned: office programs draw a turned one badly. Sizes follow the height of a code.
func style(t float64) string {
	line := t / 16
	return fmt.Sprintf(`<defs>
<pattern id="grain" width="%[1]g" height="%[1]g" patternUnits="userSpaceOnUse"><rect width="%[1]g" height="%[1]g" fill="#f3e3c3"/><line x1="0" y1="%[1]g" x2="%[1]g" y2="0" stroke="#b98d4b" stroke-width="%[2]g"/></pattern>
<pattern id="wool" width="%[1]g" height="%[1]g" patternUnits="userSpaceOnUse"><rect width="%[1]g" height="%[1]g" fill="#fbf7d8"/><path d="M0 %[3]g q %[4]g -%[3]g %[3]g 0 t %[3]g 0" fill="none" stroke="#9a9446" stroke-width="%[2]g"/></pattern>
<pattern id="mass" width="%[1]g" height="%[1]g" patternUnits="userSpaceOnUse"><rect width="%[1]g" height="%[1]g" fill="#d9d9d9"/><line x1="0" y1="%[1]g" x2="%[1]g" y2="0" stroke="#707070" stroke-width="%[2]g"/></pattern>
</defs>
<style>
.page{fill:#fff}
text{font-family:"DejaVu Sans",Arial,sans-serif;fill:#111;font-size:%[5]gpx}
.heading{font-size:%[6]gpx;font-weight:bold}.note{font-size:%[7]gpx;fill:#333}
.code{text-anchor:middle}.label{text-anchor:middle;font-weight:bold}
.behind{fill:#fff;fill-opacity:.8}
.zone-name{text-anchor:middle;font-style:italic;fill:#333}
.dim{font-size:%[9]gpx;text-anchor:middle}
.timber{fill:url(#grain);stroke:#5d3f12;stroke-width:%[10]g}
.steel{fill:#b7c4d6;stroke:#1d3557;stroke-width:%[11]g}
.board{fill:#7fb3d5;fill-opacity:.16;stroke:#1b4f72;stroke-width:%[10]g}
.board-far{fill:none;stroke:#1b4f72;stroke-width:%[10]g;stroke-dasharray:%[12]g %[13]g}
.wool{fill:url(#wool);fill-opacity:.7;stroke:#9a9446;stroke-width:%[10]g}
.door{fill:#e9d8f4;stroke:#5b2c6f;stroke-width:%[11]g}
.trim{fill:#f5cba7;stroke:#a04000;stroke-width:%[10]g}
.service{fill:#f9e79f;stroke:#9c640c;stroke-width:%[11]g;stroke-dasharray:%[12]g %[14]g}
.seal{fill:none;stroke:#117864;stroke-width:%[11]g;stroke-dasharray:%[13]g %[14]g}
.other{fill:#eee;stroke:#333;stroke-width:%[10]g}
.overhead{fill:none;stroke:#777;stroke-width:%[10]g;stroke-dasharray:%[12]g %[13]g}
.host{fill:url(#mass);stroke:#333;stroke-width:%[11]g}
.zone{fill:none;stroke:#aaa;stroke-width:%[10]g;stroke-dasharray:%[13]g %[13]g}
.opening{fill:none;stroke:#111;stroke-width:%[10]g;stroke-dasharray:%[12]g %[13]g}
.fabric{fill:url(#mass);stroke:none}.face{stroke:#111;stroke-width:%[15]g}
.bar{fill:#111}.bar-white{fill:#fff;stroke:#111;stroke-width:%[10]g}
.measure{stroke:#111;stroke-width:%[10]g}
.mark{fill:none;stroke:#c0392b;stroke-width:%[11]g}
.mark-host{fill:#c0392b;stroke:#c0392b;stroke-width:%[10]g}
</style>
`, 4*t, line, t, t/2, t, 1.8*t, 1.05*t, t/3, .9*t, line, 2*line, 8*line, 5*line, 2*line, 3*line)
}
