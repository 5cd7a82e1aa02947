package main

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"unpick/domain"
	"unpick/domain/fitoutfile"
	"unpick/domain/plan"
	"unpick/reports"
	"unpick/reports/drawing"
)

// document is one file that demo and plan write.
type document struct {
	name  string
	write func(w io.Writer) error
}

// documents lists every file of a planned fit-out, in the order in which they are written.
func documents(in reports.Input) []document {
	r := in.Register
	out := []document{
		{"register.json", func(w io.Writer) error { return fitoutfile.Write(w, r) }},
		{"plan.json", func(w io.Writer) error { return writePlan(w, in.Plan) }},
		{"stripout.xlsx", func(w io.Writer) error { return reports.StripOut(w, in) }},
		{"making-good.xlsx", func(w io.Writer) error { return reports.MakingGood(w, in) }},
		{"reinstatement.xlsx", func(w io.Writer) error { return reports.Reinstatement(w, in) }},
		{"salvage.xlsx", func(w io.Writer) error { return reports.Salvage(w, in) }},
		{"plan.svg", func(w io.Writer) error { return drawing.Plan(w, r) }},
	}
	for _, a := range r.Assemblies {
		if stands(r, a.Code) {
			out = append(out, document{"elevation-" + fileName(a.Code) + ".svg", func(w io.Writer) error { return drawing.Elevation(w, r, a.Code) }})
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

// writeAll writes every document into a folder, each under a temporary name until it is whole.
func writeAll(dir string, docs []document, progress func(name string)) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return fmt.Errorf("making the folder for the documents: %w", err)
	}
	for _, d := range docs {
		progress(d.name)
		if err := writeFile(filepath.Join(dir, d.name), d.write); err != nil {
			return err
		}
	}
	return nil
}

func writeFile(path string, write func(w io.Writer) error) (err error) {
	file, err := os.CreateTemp(filepath.Dir(path), ".making-*")
	if err != nil {
		return fmt.Errorf("making %s: %w", path, err)
	}
	defer func() {
		if err != nil {
			file.Close()
			os.Remove(file.Name())
		}
	}()
	buffered := bufio.NewWriter(file)
	if err := write(buffered); err != nil {
		return fmt.Errorf("making %s: %w", path, err)
	}
	if err := buffered.Flush(); err != nil {
		return fmt.Errorf("making %s: %w", path, err)
	}
	if err := file.Chmod(0o644); err != nil {
		return fmt.Errorf("making %s: %w", path, err)
	}
	if err := file.Close(); err != nil {
		return fmt.Errorf("making %s: %w", path, err)
	}
	return os.Rename(file.Name(), path)
}
