package service

import (
	"context"
	"encoding/json"
	"io"
	"slices"
	"strconv"
	"strings"

	"unpick/domain"
	"unpick/domain/calendar"
	"unpick/domain/fitoutfile"
	"unpick/domain/lease"
	"unpick/domain/plan"
	"unpick/domain/schedule"
	"unpick/domain/timetable"
	"unpick/domain/walkround"
	"unpick/reports"
	"unpick/reports/drawing"
)

// stripOutBook is the workbook that shows the programme.
const stripOutBook = "stripout.xlsx"

const workbook = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"

// Document is one file made of a fit-out.
type Document struct {
	Name      string // of letters, digits, "-", "_" and its ending: safe as a file's name and in a header
	Title     string
	MediaType string
	Planned   bool // it needs the plan
	Write     func(w io.Writer) error
}

// Documents lists every document of a fit-out, in the order in which they are read. Those that need the plan can be
// written only where in has one.
func Documents(in reports.Input) []Document {
	const text, drawn = "application/json", "image/svg+xml"
	r := in.Register
	out := []Document{
		{"register.json", "The register, as a fit-out file", text, false, func(w io.Writer) error { return fitoutfile.Write(w, r) }},
		{"plan.json", "Everything computed", text, true, func(w io.Writer) error { return writePlan(w, in.Plan) }},
		{stripOutBook, "Strip-out, step by step", workbook, true, func(w io.Writer) error { return reports.StripOut(w, in) }},
		{"making-good.xlsx", "Making good, hole by hole", workbook, true, func(w io.Writer) error { return reports.MakingGood(w, in) }},
		{"reinstatement.xlsx", "Schedule of reinstatement", workbook, true, func(w io.Writer) error { return reports.Reinstatement(w, in) }},
		{"salvage.xlsx", "What comes out, and what it is worth", workbook, true, func(w io.Writer) error { return reports.Salvage(w, in) }},
		{"waste-note.xlsx", "Waste note for the carrier", workbook, true, func(w io.Writer) error { return reports.WasteNote(w, in) }},
		{"crew-sheets.pdf", "Crew sheets, one for each day", portable, true, func(w io.Writer) error { return reports.CrewSheetsPDF(w, in) }},
		{"reinstatement.pdf", "Schedule of reinstatement, to print", portable, true, func(w io.Writer) error { return reports.ReinstatementPDF(w, in) }},
		{"waste-note.pdf", "Waste note for the carrier, to print", portable, true, func(w io.Writer) error { return reports.WasteNotePDF(w, in) }},
		{"labels.pdf", "Labels with QR codes for what is kept", portable, true, func(w io.Writer) error { return reports.LabelsPDF(w, in, reports.LabelChoice{}) }},
		{"drawings.pdf", "Plan, view and elevations to scale", portable, false, func(w io.Writer) error { return reports.DrawingsPDF(w, in) }},
		{"plan.svg", "Plan", drawn, false, func(w io.Writer) error { return drawing.Plan(w, r, drawing.Options{}) }},
		{"isometric.svg", "Isometric view", drawn, false, func(w io.Writer) error { return drawing.Isometric(w, r, drawing.Options{}) }},
	}
	out = append(out, registerBooks(in)...)
	if t := r.FitOut.Tenancy; t.BreakDate != "" || t.Expiry != "" {
		out = append(out, Document{"dates.ics", "The dates of the lease, for a calendar", "text/calendar; charset=utf-8", true, func(w io.Writer) error {
			return reports.Dates(w, r.FitOut, lease.Of(r, in.Plan, calendar.DayOf(in.Now)).Dates, in.Now)
		}})
	}
	if slices.ContainsFunc(drawing.Views(r), func(v drawing.View) bool { return v.Kind == drawing.SettingOutView }) {
		out = append(out, Document{"setting-out.pdf", "Setting-out sheets of every wall", portable, false, func(w io.Writer) error { return reports.SettingOutPDF(w, in) }})
	}
	taken := map[string]bool{}
	for _, s := range walkround.Of(r) {
		out = append(out, Document{HoleMapName(r, s.Host), "Hole map of " + s.Name, drawn, false, func(w io.Writer) error {
			return drawing.HoleMap(w, r, s.Host, drawing.Around{}, drawing.Options{})
		}})
	}
	for _, a := range r.Assemblies {
		if !stands(r, a.Code, domain.Stud, domain.Post) {
			continue
		}
		name := freeName(taken, FileName(a.Code)) + ".svg"
		out = append(out, Document{"elevation-" + name, "Elevation of " + a.Name, drawn, false, func(w io.Writer) error { return drawing.Elevation(w, r, a.Code, drawing.Options{}) }})
		if stands(r, a.Code, domain.Stud) {
			out = append(out, Document{"setting-out-" + name, "Setting out of " + a.Name, drawn, false, func(w io.Writer) error {
				return drawing.SettingOut(w, r, a.Code, drawing.Options{Stamp: reports.Stamp(in)})
			}})
		}
	}
	return out
}

// HoleMapName is the document with the hole map of a surface.
func HoleMapName(r *domain.Register, host string) string {
	taken, name := map[string]bool{}, ""
	for _, h := range r.Hosts {
		if name = freeName(taken, "hole-map-"+FileName(h.Code)); h.Code == host {
			break
		}
	}
	return name + ".svg"
}

// freeName is name, or with a number behind it where two codes make the same name.
func freeName(taken map[string]bool, name string) string {
	free := name
	for i := 2; taken[free]; i++ {
		free = name + "_" + strconv.Itoa(i)
	}
	taken[free] = true
	return free
}

// DocumentList lists the documents of a stored fit-out. It plans nothing: none of them can be written.
func (s *Service) DocumentList(ctx context.Context, fitOut string) ([]Document, error) {
	r, err := s.Register(ctx, fitOut)
	if err != nil {
		return nil, err
	}
	return append(Documents(reports.Input{Register: r}), s.evidence(ctx, domain.Actor{}, fitOut)), nil
}

// Document is one document of a stored fit-out, ready to be written, or NotFound. The fit-out is planned only where the
// document needs it, so that a register with a fault in its order can still be drawn and taken away.
func (s *Service) Document(ctx context.Context, who domain.Actor, fitOut, name string, scope schedule.Scope) (Document, error) {
	r, err := s.Register(ctx, fitOut)
	if err != nil {
		return Document{}, err
	}
	if name == evidenceName {
		return s.evidence(ctx, who, fitOut), nil
	}
	named := func(d Document) bool { return d.Name == name }
	in := reports.Input{Register: r, Now: s.now(), By: who.Name, Revision: "draft"}
	docs := Documents(in)
	at := slices.IndexFunc(docs, named)
	if at < 0 {
		return Document{}, domain.Errorf(domain.NotFound, "there is no document %q of %s: the list of documents has their names", name, fitOut)
	}
	if !docs[at].Planned {
		return docs[at], nil
	}
	p, err := s.scoped(ctx, fitOut, scope)
	if err != nil {
		return Document{}, err
	}
	in = reports.Input{Register: p.register, Plan: p.plan, Now: s.now(), By: who.Name, Revision: "draft", Scope: scope, Positions: p.stand}
	if name == stripOutBook {
		if in.Timetable, err = s.laid(p, timetable.WhatIf{}, ""); err != nil {
			return Document{}, err
		}
	}
	docs = Documents(in)
	if at = slices.IndexFunc(docs, named); at < 0 { // the lease lost its dates meanwhile
		return Document{}, domain.Errorf(domain.NotFound, "there is no document %q of %s any more: load the list again", name, fitOut)
	}
	return docs[at], nil
}

// stands reports whether an assembly has pieces of any of these kinds in place.
func stands(r *domain.Register, assembly string, kinds ...domain.ElementKind) bool {
	for i := range r.Elements {
		e := &r.Elements[i]
		if e.Assembly == assembly && e.IsInPlace() && slices.Contains(kinds, e.Kind) {
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

// FileName keeps a code from leaving its folder, and from breaking out of a header.
func FileName(code string) string {
	return strings.Map(func(c rune) rune {
		if c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || c == '-' || c == '_' {
			return c
		}
		return '-'
	}, code)
}
