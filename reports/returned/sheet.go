package returned

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"path"
	"slices"
	"strings"

	"github.com/xuri/excelize/v2"

	"unpick/domain"
)

// sheet is one sheet as it stands: rows that hold anything, in their order.
type sheet struct {
	name   string
	rows   []row
	merged []string // ranges
}

type row struct {
	number int
	cells  []cell // from column A
}

// cell is what stands in a cell. kind is the file format's: "s" and "str" are words, "e" an error, "b" yes or no, "" or
// "n" a figure.
type cell struct {
	text    string
	kind    string
	style   int
	formula bool
}

// at names a cell: "Schedule!N5".
func (s *sheet) at(column, row int) string {
	name, err := excelize.CoordinatesToCellName(column+1, row)
	if err != nil {
		return s.name
	}
	return s.name + "!" + name
}

// sheet reads a sheet by its name, which is looked for without regard to case.
func (b *Book) sheet(name string) (*sheet, error) {
	all := b.file.GetSheetList()
	at := sheetIn(all, name)
	if at < 0 {
		return nil, domain.FieldErrorf(domain.Invalid, name, "the sheet %s is missing: send the workbook that went out, with its sheets as they were", name)
	}
	s := &sheet{name: all[at]}
	m, err := b.marks(s, at)
	if err != nil {
		return nil, err
	}
	return s, b.values(s, m)
}

// has reports whether there is a sheet of a name.
func (b *Book) has(name string) bool { return sheetIn(b.file.GetSheetList(), name) >= 0 }

func sheetIn(all []string, name string) int {
	return slices.IndexFunc(all, func(s string) bool { return strings.EqualFold(strings.TrimSpace(s), name) })
}

// values streams the sheet: an empty row costs nothing, and a sheet with too many others is refused half-way.
func (b *Book) values(s *sheet, m marks) error {
	stream, err := b.file.Rows(s.name)
	if err != nil {
		return unreadable(s.name, err)
	}
	defer stream.Close()
	for number := 1; stream.Next(); number++ {
		values, err := stream.Columns()
		if err != nil {
			return unreadable(s.name, err)
		}
		last := len(values)
		for last > 0 && values[last-1] == "" {
			last--
		}
		if last = max(last, m.formulas[number]); last == 0 {
			continue
		}
		if len(s.rows) == mostRows {
			return domain.FieldErrorf(domain.TooLarge, s.name, "the sheet has more than %d rows: a schedule is far shorter; it is not read", mostRows)
		}
		r := row{number: number, cells: make([]cell, last)}
		for i := range last {
			name, err := excelize.CoordinatesToCellName(i+1, number)
			if err != nil {
				return unreadable(s.name, err)
			}
			if r.cells[i] = m.cells[name]; i < len(values) {
				r.cells[i].text = strings.TrimSpace(values[i])
			}
		}
		s.rows = append(s.rows, r)
	}
	if err := stream.Error(); err != nil {
		return unreadable(s.name, err)
	}
	return nil
}

func unreadable(sheet string, err error) error {
	return domain.FieldErrorf(domain.Invalid, sheet, "the sheet cannot be read (%v): open the workbook in the spreadsheet program and save it anew", err)
}

// marks are the cells of a sheet that are more than a value: formulas, kinds and styles.
type marks struct {
	cells    map[string]cell
	formulas map[int]int // by row: up to which column there are any, since one may have no value
}

// marks reads them, and the merged ranges of a sheet. The sheet is read once more by ourselves, as a stream, because the
// library would unfold it whole in memory.
func (b *Book) marks(s *sheet, at int) (marks, error) {
	out := marks{map[string]cell{}, map[int]int{}}
	part, err := b.partOf(at)
	if err != nil {
		return out, unreadable(s.name, err)
	}
	in, err := part.Open()
	if err != nil {
		return out, unreadable(s.name, err)
	}
	defer in.Close()
	current, line, column, lines := "", 0, 0, 0 // a file may leave the places out: then they count up
	for d := xml.NewDecoder(in); ; {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return out, nil
		}
		if err != nil {
			return out, unreadable(s.name, err)
		}
		e, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		switch e.Name.Local {
		case "row":
			column = 0
			if lines++; lines > mostLines {
				return out, domain.FieldErrorf(domain.TooLarge, s.name, "the sheet has more than %d rows, empty ones counted: a schedule is far shorter; it is not read", mostLines)
			}
			if line++; attribute(e, "r") != "" {
				fmt.Sscan(attribute(e, "r"), &line)
			}
		case "c":
			var c cell
			if column++; attribute(e, "r") != "" {
				if column, line, err = excelize.CellNameToCoordinates(attribute(e, "r")); err != nil {
					return out, unreadable(s.name, err)
				}
			}
			if current, err = excelize.CoordinatesToCellName(column, line); err != nil {
				return out, unreadable(s.name, err)
			}
			c.kind = attribute(e, "t")
			fmt.Sscan(attribute(e, "s"), &c.style) // none is style 0
			if len(out.cells) >= mostCells {
				return out, domain.FieldErrorf(domain.TooLarge, s.name, "the sheet has more than %d cells: it is not read", mostCells)
			}
			if c != (cell{}) {
				out.cells[current] = c
			}
		case "f":
			c := out.cells[current]
			c.formula = true
			out.cells[current] = c
			out.formulas[line] = max(out.formulas[line], column)
		case "mergeCell":
			s.merged = append(s.merged, attribute(e, "ref"))
		}
	}
}

// partOf is the part of the file that holds a sheet, by its place among the sheets.
func (b *Book) partOf(at int) (part interface{ Open() (io.ReadCloser, error) }, err error) {
	var book struct {
		Sheets []struct {
			ID string `xml:"http://schemas.openxmlformats.org/officeDocument/2006/relationships id,attr"`
		} `xml:"sheets>sheet"`
	}
	var rels struct {
		All []struct {
			ID     string `xml:"Id,attr"`
			Target string `xml:"Target,attr"`
		} `xml:"Relationship"`
	}
	if err := errors.Join(b.decode("xl/workbook.xml", &book), b.decode("xl/_rels/workbook.xml.rels", &rels)); err != nil {
		return nil, err
	}
	if at < len(book.Sheets) {
		for _, r := range rels.All {
			if r.ID != book.Sheets[at].ID {
				continue
			}
			name := path.Join("xl", r.Target)
			if strings.HasPrefix(r.Target, "/") {
				name = strings.TrimPrefix(path.Clean(r.Target), "/")
			}
			if p := b.parts[strings.ToLower(name)]; p != nil {
				return p, nil
			}
		}
	}
	return nil, errors.New("its part of the file is missing")
}

func (b *Book) decode(name string, into any) error {
	part := b.parts[name]
	if part == nil {
		return fmt.Errorf("%s is missing", name)
	}
	in, err := part.Open()
	if err != nil {
		return err
	}
	defer in.Close()
	return xml.NewDecoder(in).Decode(into)
}

func attribute(e xml.StartElement, name string) string {
	for _, a := range e.Attr {
		if a.Name.Local == name && a.Name.Space == "" {
			return a.Value
		}
	}
	return ""
}
