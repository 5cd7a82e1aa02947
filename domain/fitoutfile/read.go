package fitoutfile

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"

	"unpick/domain"
)

// MostBytes is the largest file that is read: beyond it a register is stored piece by piece through the program.
const MostBytes = 64 << 20

// Read reads a fit-out from its file, expands the recipes in it and checks every rule that always holds. What is
// wrong is an error that names the place and the mend; all broken rules are told at once.
func Read(rd io.Reader, cat *domain.Catalogue, expand Expander) (*domain.Register, error) {
	data, err := io.ReadAll(io.LimitReader(rd, MostBytes+1))
	if err != nil {
		return nil, fmt.Errorf("reading a fit-out file: %w", err)
	}
	if err := looksLikeJSON(data); err != nil {
		return nil, err
	}
	if err := noDoubledKeys(data); err != nil {
		return nil, err
	}
	if err := rightFormat(data); err != nil {
		return nil, err
	}
	decoder := json.NewDecoder(bytes.NewReader(data))
	decoder.DisallowUnknownFields()
	var file File
	if err := decoder.Decode(&file); err != nil {
		return nil, inWords(err, data)
	}
	if rest := bytes.TrimSpace(data[decoder.InputOffset():]); len(rest) > 0 {
		return nil, domain.Errorf(domain.Invalid, "line %d: something follows after the end of the fit-out: take it away, a file holds one", lineOf(data, decoder.InputOffset()))
	}
	if file.Assemblies, err = canonicalAssemblies(file.Assemblies); err != nil {
		return nil, err
	}
	r, err := expandAll(file.register(cat), expand)
	if err != nil {
		return nil, err
	}
	if faults := domain.Check(r); len(faults) > 0 {
		return nil, faults
	}
	return r, nil
}

// rightFormat refuses another program's JSON and another version of ours by name, before its fields puzzle anyone.
func rightFormat(data []byte) error {
	var head struct {
		Format        string `json:"format"`
		FormatVersion int    `json:"format_version"`
	}
	if err := json.Unmarshal(data, &head); err != nil {
		return inWords(err, data)
	}
	switch {
	case head.Format != Format:
		return domain.FieldErrorf(domain.Invalid, "/format", "is %q: a fit-out file says %q there", head.Format, Format)
	case head.FormatVersion != FormatVersion:
		return domain.FieldErrorf(domain.Invalid, "/format_version", "is %d and this program reads version %d: use the program that wrote the file, or a newer one", head.FormatVersion, FormatVersion)
	}
	return nil
}

// inWords words what the JSON reader found, with the line or the field.
func inWords(err error, data []byte) error {
	if syntax, ok := errors.AsType[*json.SyntaxError](err); ok {
		return domain.Errorf(domain.Invalid, "line %d: %v", lineOf(data, syntax.Offset), syntax)
	}
	if kind, ok := errors.AsType[*json.UnmarshalTypeError](err); ok {
		field := "/" + strings.ReplaceAll(kind.Field, ".", "/")
		return domain.FieldErrorf(domain.Invalid, field, "line %d: a %s stands where a %s belongs", lineOf(data, kind.Offset), kind.Value, plainType(kind.Type.String()))
	}
	if errors.Is(err, io.ErrUnexpectedEOF) {
		return domain.Errorf(domain.Invalid, "the file ends in the middle: it was cut off while being written or copied")
	}
	return domain.Errorf(domain.Invalid, "the file cannot be read: %v; the fields there are: unpick schema", err)
}

func plainType(name string) string {
	switch {
	case name == "int" || name == "int64":
		return "whole number"
	case name == "float64":
		return "number"
	case name == "string" || strings.HasPrefix(name, "domain."):
		return "word or group of fields"
	}
	return name
}

func lineOf(data []byte, offset int64) int {
	return 1 + bytes.Count(data[:min(max(offset, 0), int64(len(data)))], []byte("\n"))
}
