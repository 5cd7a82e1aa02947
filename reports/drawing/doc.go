// Package drawing makes every drawing as SVG, for documents and for pages: true to scale in millimetres.
//
// The idea: a drawing is a view (a projection of the fit-out's axes onto paper), pieces as outlines with a class by
// kind, marks for fixings by family, and dimensions. Kinds differ by hatch and line as well as by tone, so that a
// black-and-white print still reads. One drawing serves paper and page: [Options] say which, and at what moment of the
// strip-out. As a file it carries its style, light, with plain numbers; inlined in a page it has no style at all, its
// lengths count in the height of a code (em, by the font-size of its root) and its colours are custom properties of
// [Stylesheet], so that a strict policy and both themes hold.
//
// Every piece, run of fixings, set of holes and surface is a group (with a link, an anchor) with data-kind, data-code
// and the id prefix-letter-code; see record.go. A drawing with links has the role "group", for a picture may hold none.
//
// Looking for
//
//   - for whom, which moment, which drawings there are: options.go; the moment after a step: state.go
//   - the sheet and its words: sheet.go; groups and what stands out: record.go; legend, bar and title: block.go
//   - colours and lines: palette.go, shade.go; hatches: pattern.go
//   - projecting pieces and surfaces: view.go; the shape of a piece as it is cut: shape.go
//   - the plan: plan.go; one assembly seen from its face a: elevation.go; the landlord's fabric around it: fabric.go
//   - a surface that stands out, and which way it faces: host.go
//   - the isometric view: isometric.go; its pieces: solids.go; which hides which: occlusion.go
//   - holes that are left, and props: left.go; dimensions: dimension.go; marks of fixings: mark.go
//   - the numbered map of a surface's holes: holemap.go
//   - a drawing read back as shapes, for PDF: figure.go, figure_path.go, figure_style.go
//   - a setting-out sheet: settingout.go, its tables: rodtable.go; a programme as bars: bars.go
package drawing
