// Package reports writes documents onto an io.Writer: workbooks here, drawings in reports/drawing.
//
// The idea: a document gets plain values (a register and its plan) and writes them; nothing is computed here that
// the plan does not hold, and every total is a live formula that carries the plan's own figure as its value.
//
// Looking for
//
//   - the strip-out workbook: stripout.go; its crew sheets: crewsheet.go; why the order is so: reasons.go
//   - making good: makinggood.go; the reinstatement schedule: reinstatement.go; salvage: salvage.go, how well it comes apart: apart.go
//   - which copy it is: an issue with its anchor and what changed, or a draft: issue.go; workbooks that come back: reports/returned
//   - the cover and the cautions: cover.go; the rates that feed amounts: rates.go
//   - the programme's sheet: programme.go; the dates of a lease as iCalendar: dates.go
//   - drawings placed in a workbook: pictures.go
//   - what is printed as PDF: reinstatementpdf.go, crewpdf.go, drawingset.go, labels.go on the sheets of labelsheet.go, cuts.go; what
//     those share: printed.go
//   - the waste note, as both: wastenote.go; what is saved, by material: savings.go
//   - sheets, styles and print set-up: book.go, table.go
package reports
