package returned

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"unpick/domain"
	"unpick/domain/answer"
)

// The headings of the schedule that are read. A currency in brackets behind one does not count.
const (
	item, quantity, rate, amount     = "item", "quantity", "rate", "amount"
	tenantRemarks, tenantFigure      = "tenant's remarks", "tenant's figure"
	landlordRemarks, landlordFigure  = "landlord's remarks", "landlord's figure"
	state                            = "state"
	group, clause, location, asBuilt = "group", "clause", "location", "alteration as built"
	reinstatement, unit              = "reinstatement", "unit"
	headingsWithin                   = 20 // rows from the top
	longestCell                      = 32767
)

var wanted = []string{item, group, clause, location, asBuilt, reinstatement, quantity, unit, rate, amount, tenantRemarks, tenantFigure, landlordRemarks, landlordFigure, state}

// Schedule reads the sheet of the reinstatement schedule. Every fault is told with its cell; then there are no rows.
func (b *Book) Schedule(currency string) (answer.Sheet, error) {
	s, err := b.sheet("Schedule")
	if err != nil {
		return answer.Sheet{}, err
	}
	if len(s.merged) > 0 {
		var faults domain.Errors
		for _, ref := range s.merged {
			faults.Addf(domain.Invalid, s.name+"!"+ref, "these cells are merged, so that a row has no cell of its own: take the merging back")
		}
		return answer.Sheet{}, faults
	}
	r := scheduleReader{sheet: s, book: b, digits: domain.MinorDigits(currency), currency: currency}
	if err := r.headings(); err != nil {
		return answer.Sheet{}, err
	}
	var out answer.Sheet
	for _, row := range s.rows {
		if row.number <= r.heading {
			continue
		}
		if read, ok := r.row(row); ok {
			out.Rows = append(out.Rows, read)
		}
	}
	return out, r.faults.OrNil()
}

type scheduleReader struct {
	sheet    *sheet
	book     *Book
	digits   int
	currency string
	heading  int            // row of the headings
	columns  map[string]int // by heading
	faults   domain.Errors
}

var bracketed = regexp.MustCompile(`\s*\([^)]*\)$`)

func plainHeading(text string) string {
	text = strings.ReplaceAll(strings.ToLower(strings.Join(strings.Fields(text), " ")), "’", "'")
	return bracketed.ReplaceAllString(text, "")
}

// headings finds the row of headings and each column by its words.
func (r *scheduleReader) headings() error {
	for _, row := range r.sheet.rows {
		if row.number > headingsWithin {
			break
		}
		columns, twice := map[string]int{}, ""
		for i, c := range row.cells {
			h := plainHeading(c.text)
			if !slices.Contains(wanted, h) {
				continue
			}
			if _, ok := columns[h]; ok {
				twice = r.sheet.at(i, row.number)
			}
			columns[h] = i
		}
		if _, ok := columns[item]; !ok || len(columns) < 3 {
			continue
		}
		if twice != "" {
			return domain.FieldErrorf(domain.Invalid, twice, "this heading is there twice: leave one column for each")
		}
		var faults domain.Errors
		for _, h := range wanted {
			if _, ok := columns[h]; !ok {
				faults.Addf(domain.Invalid, r.sheet.name, "the column %q is missing: put it back with its heading", h)
			}
		}
		r.heading, r.columns = row.number, columns
		return faults.OrNil()
	}
	return domain.FieldErrorf(domain.Invalid, r.sheet.name, "the headings are missing: the first row has Item, Group, Clause and the others as they went out")
}

// row reads one row; false for one that has nothing in it to read (the total, a note).
func (r *scheduleReader) row(in row) (answer.Row, bool) {
	var out answer.Row
	out.Item = r.words(in, item)
	typed := r.cell(in, item)
	if typed.text != "" {
		n, err := strconv.ParseFloat(typed.text, 64)
		switch {
		case typed.formula:
			r.fault(in, item, "an item number is typed, not calculated: type the number as it went out")
		case err == nil && n == math.Trunc(n) && n > 0 && n < 1e9:
			out.HasNumber, out.Number = true, int(n)
		}
	}
	out.Remarks = [2]answer.Cell{r.answered(in, tenantRemarks), r.answered(in, landlordRemarks)}
	out.Figure = [2]answer.Cell{r.figure(in, tenantFigure), r.figure(in, landlordFigure)}
	if !out.HasNumber {
		blank := out.Remarks[0].Text == "" && out.Remarks[1].Text == "" && out.Figure[0].Text == "" && out.Figure[1].Text == ""
		return out, !blank
	}
	out.State = r.answered(in, state)
	out.Quantity, out.Rate, out.Amount = r.ours(in, quantity, 3), r.ours(in, rate, r.digits), r.ours(in, amount, r.digits)
	if r.cell(in, quantity).formula {
		r.fault(in, quantity, "a formula stands where a figure belongs: type the figure")
	}
	for _, w := range []struct{ heading, name string }{{group, "Group"}, {clause, "Clause"}, {location, "Location"}, {asBuilt, "Alteration as built"}, {reinstatement, "Reinstatement"}, {unit, "Unit"}} {
		out.Words = append(out.Words, answer.Named{Column: w.name, Cell: r.words(in, w.heading)})
	}
	return out, true
}

func (r *scheduleReader) cell(in row, heading string) cell {
	if at := r.columns[heading]; at < len(in.cells) {
		return in.cells[at]
	}
	return cell{}
}

func (r *scheduleReader) at(in row, heading string) string {
	return r.sheet.at(r.columns[heading], in.number)
}

func (r *scheduleReader) fault(in row, heading, format string, args ...any) {
	r.faults.Addf(domain.Invalid, r.at(in, heading), format, args...)
}

func (r *scheduleReader) words(in row, heading string) answer.Cell {
	return answer.Cell{At: r.at(in, heading), Text: r.cell(in, heading).text}
}

// answered is a cell for a person's words: a formula or an error in it is a fault.
func (r *scheduleReader) answered(in row, heading string) answer.Cell {
	c := r.cell(in, heading)
	switch {
	case c.formula:
		r.fault(in, heading, "a formula stands where an answer belongs: type the words")
	case c.kind == "e":
		r.fault(in, heading, "the cell shows the error %s: type the answer", c.text)
	case len(c.text) > longestCell:
		r.fault(in, heading, "the answer is longer than %d letters: shorten it", longestCell)
	}
	return r.words(in, heading)
}

var typedFigure = regexp.MustCompile(`^\d{1,12}(\.\d+)?$`)

// figure is a cell for a person's figure, in minor units. Words are taken only where they can mean one figure: digits,
// and a full stop before decimals.
func (r *scheduleReader) figure(in row, heading string) answer.Cell {
	c, out := r.cell(in, heading), r.words(in, heading)
	if c.text == "" && !c.formula {
		return out
	}
	isWords := c.kind == "s" || c.kind == "str" || c.kind == "inlineStr"
	switch {
	case c.formula:
		r.fault(in, heading, "a formula stands where a figure belongs: type the figure")
		return out
	case c.kind == "e", c.kind == "b", c.kind == "d", isWords && !typedFigure.MatchString(c.text):
		r.fault(in, heading, "%q is no figure: type digits only, like 1250.00", c.text)
		return out
	case !isWords && r.isDate(c.style):
		r.fault(in, heading, "a date stands where a figure belongs: type the figure, and format the cell as a number")
		return out
	}
	minor, ok := scaled(c.text, r.digits)
	switch {
	case !ok:
		r.fault(in, heading, "%s has more decimals than %s has, or is out of range: type it to the smallest coin", c.text, r.currency)
	case minor < 0:
		r.fault(in, heading, "%s is negative: a figure is what the item costs", c.text)
	default:
		out.Minor = &minor
	}
	return out
}

// ours is a figure of ours that came back, whatever it is now: what cannot be read is compared as words.
func (r *scheduleReader) ours(in row, heading string, digits int) answer.Cell {
	c, out := r.cell(in, heading), r.words(in, heading)
	if n, ok := scaled(c.text, digits); ok && c.kind != "e" {
		out.Minor = &n
	}
	return out
}

// scaled is a decimal as a whole number of its smallest unit; false where it has more decimals than that. Spreadsheet
// programs keep figures in binary, so that a millionth of the smallest unit is forgiven.
func scaled(text string, digits int) (int64, bool) {
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsNaN(v) || math.Abs(v) > 1e12 {
		return 0, false
	}
	v *= math.Pow10(digits)
	whole := math.Round(v)
	return int64(whole), math.Abs(v-whole) < 1e-3 && math.Abs(whole) < 1e15
}

// isDate reports whether a style shows a number as a date or a time (ECMA-376, part 1, 18.8.30: the built-in formats).
func (r *scheduleReader) isDate(style int) bool {
	s, err := r.book.file.GetStyle(style)
	if err != nil || s == nil {
		return false
	}
	if s.CustomNumFmt != nil {
		return strings.ContainsAny(strings.ToLower(unquoted(*s.CustomNumFmt)), "ydhs")
	}
	return s.NumFmt >= 14 && s.NumFmt <= 22 || s.NumFmt >= 45 && s.NumFmt <= 47
}

var literal = regexp.MustCompile(`"[^"]*"|\[[^\]]*\]|\\.`)

// unquoted is a number format without what it shows as it stands: words in quotes, currencies and colours in brackets.
func unquoted(format string) string { return literal.ReplaceAllString(format, "") }
