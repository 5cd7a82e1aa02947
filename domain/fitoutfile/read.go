package fitoutfile

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"

	"unpick/domain"
)

// Read reads a fit-out from its file, expands the recipes in it and checks every rule that always holds. What is
// wrong is told with its line, its JSON pointer and the mend: first whether it is JSON at all, then everything
// that breaks the schema at once, then every recipe that cannot be built, then every broken rule of the register.
// An error without a code is the reader's own (a disk, a connection).
func Read(rd io.Reader, cat *domain.Catalogue, expand Expander) (*domain.Register, error) {
	data, err := readText(rd)
	if err != nil {
		return nil, err
	}
	l, err := layOut(data)
	if err != nil {
		return nil, err
	}
	if err := rightFormat(l); err != nil {
		return nil, err
	}
	file, err := decode(l)
	if err != nil {
		return nil, err
	}
	before := file.register(cat)
	after, err := expandAll(before, expand)
	if err != nil {
		return nil, l.withLines(err)
	}
	after.Holes = domain.Numbered(nil, after.Holes)
	if faults := domain.Check(after); len(faults) > 0 {
		return nil, l.withLines(blame(faults, before, after))
	}
	return after, nil
}

// rightFormat refuses another program's JSON and another version of ours by name, before its fields puzzle anyone.
func rightFormat(l *layout) error {
	format, ok := l.member("format")
	if !ok {
		return domain.FieldErrorf(domain.Invalid, "/format", "is missing: a fit-out file says %q there, and this one may be another program's", Format)
	}
	if got := l.data[format.value.from:format.value.to]; string(got) != `"`+Format+`"` {
		return domain.FieldErrorf(domain.Invalid, "/format", "is %.60s: a fit-out file says %q there", got, Format)
	}
	version, ok := l.member("format_version")
	if !ok {
		return domain.FieldErrorf(domain.Invalid, "/format_version", "is missing: this program reads versions 1 to %d", FormatVersion)
	}
	var n int
	if err := json.Unmarshal(l.data[version.value.from:version.value.to], &n); err != nil {
		return domain.FieldErrorf(domain.Invalid, "/format_version", "is %.60s: it has to be a whole number, and this program reads 1 to %d", l.data[version.value.from:version.value.to], FormatVersion)
	}
	if n < 1 || n > FormatVersion {
		return domain.FieldErrorf(domain.Invalid, "/format_version", "is %d and this program reads versions 1 to %d: use the program that wrote the file, or a newer one", n, FormatVersion)
	}
	return nil
}

// decode holds the text to the schema and makes it the file's struct.
func decode(l *layout) (*File, error) {
	u, err := newRules()
	if err != nil {
		return nil, err
	}
	faults, err := u.check(l)
	if err != nil {
		return nil, err
	}
	if len(faults) > 0 {
		return nil, faults
	}
	var file File
	// Unknown names were refused by the schema, and a decoder would hold the text a second time.
	if err := json.Unmarshal(l.data, &file); err != nil {
		return nil, l.wrongNumber(err)
	}
	file.Assemblies, err = canonicalAssemblies(file.Assemblies)
	return &file, err
}

// wrongNumber words what passes the schema and does not fit the struct: 1.0 and 1e3 are integers to the schema,
// and a whole number may be larger than any computer's.
func (l *layout) wrongNumber(err error) error {
	wrong, ok := errors.AsType[*json.UnmarshalTypeError](err)
	if !ok {
		return fmt.Errorf("reading a fit-out file that follows its schema: %w", err)
	}
	end := int(min(wrong.Offset, int64(len(l.data))))
	return domain.FieldErrorf(domain.Invalid, l.pointerAt(end), "line %d: %s: write a plain whole number, without point or exponent", lineOf(l.data, end), wrong.Value)
}

// withLines puts the line before each fault that has a place in the text, and keeps the first of very many.
func (l *layout) withLines(err error) error {
	faults, ok := errors.AsType[domain.Errors](err)
	if !ok {
		return err
	}
	out := make(domain.Errors, 0, len(faults))
	for _, f := range shortened(faults) {
		told := *f
		if told.Field != "" {
			told.Text = fmt.Sprintf("line %d: %s", l.line(told.Field), told.Text)
		}
		out = append(out, &told)
	}
	return out
}
