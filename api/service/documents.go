package service

import (
	"encoding/json"
	"io"
	"strings"

	"unpick/domain"
	"unpick/domain/fitoutfile"
	"unpick/domain/plan"
	"unpick/reports"
	"unpick/reports/drawing"
)

const workbook = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"

// Document is one file made of a planned fit-out.
type Document struct {
	Name      string
	MediaType string
	Write     func(w io.Writer) error
}

// Documents lists every document of a planned fit-out, in the order in which they are read.
func Documents(in reports.Input) []Document {
	r := in.Register
	out := []Document{
		{"register.json", "application/json", func(w io.Writer) error { return fitoutfile.Write(w, r) }},
		{"plan.json", "application/json", func(w io.Writer) error { return writePlan(w, in.Plan) }},
		{"stripout.xlsx", workbook, func(w io.Writer) error { return reports.StripOut(w, in) }},
		{"making-good.xlsx", workbook, func(w io.Writer) error { return reports.MakingGood(w, in) }},
		{"reinstatement.xlsx", workbook, func(w io.Writer) error { return reports.Reinstatement(w, in) }},
		{"salvage.xlsx", workbook, func(w io.Writer) error { return reports.Salvage(w, in) }},
		{"plan.svg", "image/svg+xml", func(w io.Writer) error { return drawing.Plan(w, r) }},
	}
	for _, a := range r.Assemblies {
		if stands(r, a.Code) {
			out = append(out, Document{"elevation-" + fileName(a.Code) + ".svg", "image/svg+xml", func(w io.Writer) error { return drawing.Elevation(w, r, a.Code) }})
		}
	}
	return out
}

// stands reports whether an assembly has a frame of its own to look at square on.
func stands(r *domain.Register, assembly string) bool {
	for i := range r.Elements {
		e := &r.Elements[i]
		if e.Assembly == assembly && e.IsInPlace() && (e.Kind == domain.Stud || e.Kind == domain.Post) {
			return true
		}
	}
	return false
}

func writePlan(w io.Writer, p *plan.Plan) error {
	encoder := json.NewEncoder(w)
	encoder.SetIndent("", "  ")
	return encoder.Encode(p)
}

// fileName keeps a code from leaving its folder.
func fileName(code string) string {
	return strings.Map(func(c rune) rune {
		if c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || c == '-' || c == '_' {
			return c
		}
		return '-'
	}, code)
}
