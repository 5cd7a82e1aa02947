// Package paper makes PDF files: pages to print, with the fonts in the file.
//
// The idea: a document says what stands on its pages in millimetres from the top left corner; this package knows the
// library that writes PDF, and nothing else does. A drawing comes as the shapes that reports/drawing reads back from its
// own SVG, so that paper and screen never differ. The same input gives the same bytes.
//
// Looking for
//
//   - pages, fonts, words: page.go; tables that run over pages: table.go
//   - drawings to scale: figure.go; QR codes: qr.go
//   - the fonts and their licence: fonts
package paper
