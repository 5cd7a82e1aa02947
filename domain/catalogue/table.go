package catalogue

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"slices"
	"strconv"
	"strings"

	"unpick/domain"
)

// row is one line of a table. Its readers note what is wrong with a cell and carry on, so that all the faults of a
// file are told at once.
type row struct {
	file    string
	line    int
	columns map[string]int
	cells   []string
	faults  *[]error
}

// each calls read for every row of a table whose header is exactly the given columns.
func each(fsys fs.FS, file, columns string, read func(row)) error {
	f, err := fsys.Open(file)
	if err != nil {
		return fmt.Errorf("reading catalogue: %w", err)
	}
	defer f.Close()
	in := csv.NewReader(f)
	header, err := in.Read()
	if err != nil {
		return fmt.Errorf("%s: reading the header: %w", file, err)
	}
	if want := strings.Split(columns, ","); !slices.Equal(header, want) {
		return fmt.Errorf("%s:1: the columns are %s, want %s", file, strings.Join(header, ","), columns)
	}
	at := map[string]int{}
	for i, name := range header {
		at[name] = i
	}
	var faults []error
	for {
		cells, err := in.Read()
		if errors.Is(err, io.EOF) {
			return errors.Join(faults...)
		}
		if err != nil {
			return errors.Join(append(faults, fmt.Errorf("%s: %w", file, err))...)
		}
		line, _ := in.FieldPos(0)
		read(row{file, line, at, cells, &faults})
	}
}

// into fills a map from a table by the first column, which must be filled and must not come twice.
func into[T any](m *map[string]T, fsys fs.FS, file, columns string, read func(row) T) error {
	*m = map[string]T{}
	key, _, _ := strings.Cut(columns, ",")
	return each(fsys, file, columns, func(r row) {
		name := r.must(key)
		if _, twice := (*m)[name]; twice {
			r.fault(key, "%q comes twice", name)
		}
		(*m)[name] = read(r)
	})
}

// text is a cell as it stands. A column that the header does not have is a mistake in the program.
func (r row) text(column string) string {
	i, ok := r.columns[column]
	if !ok {
		panic("catalogue: no column " + column + " in " + r.file)
	}
	return strings.TrimSpace(r.cells[i])
}

func (r row) must(column string) string {
	s := r.text(column)
	if s == "" {
		r.fault(column, "is empty")
	}
	return s
}

// number is a cell that is empty (0) or a plain number that is not negative.
func (r row) number(column string) float64 {
	s := r.text(column)
	if s == "" {
		return 0
	}
	n, err := strconv.ParseFloat(s, 64)
	if err != nil || math.IsNaN(n) || math.IsInf(n, 0) || n < 0 {
		r.fault(column, "%q is not a number of 0 or more", s)
		return 0
	}
	return n
}

func (r row) whole(column string) int {
	n := r.number(column)
	if n != math.Trunc(n) || n > math.MaxInt32 {
		r.fault(column, "%q is not a whole number", r.text(column))
		return 0
	}
	return int(n)
}

func (r row) positive(column string) float64 {
	n := r.number(column)
	if n == 0 {
		r.fault(column, "must be over 0")
	}
	return n
}

// list is a cell of words with a bar between them.
func (r row) list(column string) []string {
	s := r.text(column)
	if s == "" {
		return nil
	}
	return strings.Split(s, "|")
}

// lengths is a cell of whole millimetres with a bar between them, ascending.
func (r row) lengths(column string) []int {
	var out []int
	for _, s := range r.list(column) {
		n, err := strconv.Atoi(s)
		if err != nil || n <= 0 || len(out) > 0 && n <= out[len(out)-1] {
			r.fault(column, "%q is not a list of lengths in ascending order", r.text(column))
			return nil
		}
		out = append(out, n)
	}
	return out
}

func (r row) yes(column string) bool { return r.oneOf(column, "", "yes") == "yes" }

func (r row) oneOf(column string, allowed ...string) string {
	s := r.text(column)
	if !slices.Contains(allowed, s) {
		r.fault(column, "%q is none of %q", s, allowed)
	}
	return s
}

// sourced is what no row may be without.
func (r row) sourced() domain.Sourced {
	return domain.Sourced{Source: r.must("source"), Confirmed: r.must("confirmed")}
}

func (r row) fault(column, format string, args ...any) {
	*r.faults = append(*r.faults, fmt.Errorf("%s:%d: %s: %s", r.file, r.line, column, fmt.Sprintf(format, args...)))
}
