// Package drawing makes every drawing as SVG, for documents and for pages: true to scale in millimetres.
//
// The idea: a drawing is a view (a projection of the fit-out's axes onto paper), pieces as outlines with a class by
// kind, marks for fixings by family, and dimensions. Kinds differ by hatch and line as well as by tone, so that a
// black-and-white print still reads.
//
// Looking for
//
//   - the sheet and its words: sheet.go; tones and lines: style.go; legend, bar and title: block.go
//   - the landlord's fabric in an elevation, openings: fabric.go
//   - projecting pieces and surfaces: view.go
//   - the plan: plan.go; one assembly seen from its face a: elevation.go
//   - dimensions: dimension.go; marks of fixings: mark.go
package drawing
