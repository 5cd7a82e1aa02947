package pages

import (
	"cmp"
	"fmt"
	"maps"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"

	"unpick/domain"
)

// column is one column of a table: a figure is aligned to the right and sorted by its value.
type column struct {
	Key, Title string
	Figure     bool
	Rest       bool                 // left out on a phone until all columns are asked for
	Sum        func(float64) string // writes the total; nil where none makes sense
}

// cell is what one row says in one column.
type cell struct {
	Text  string
	Value float64 // what a figure is sorted and summed by
	Link  string
	Flag  bool
}

// table is rows that are filtered, sorted and paged on the server: every view of it has an address of its own.
type table struct {
	Name, Caption string
	Columns       []column
	Rows          [][]cell // of this page
	Totals        []string // one for each column, over every row that the filter lets through; nil where nothing is summed
	Query         string
	Sort          string
	Down          bool
	Of            int  // rows before the filter
	Found         int  // rows that the filter lets through
	First         int  // where this page starts, from 1; 0 where there is nothing
	All           bool // every row on one page, for printing
	Wide          bool // every column on a phone too
	path          string
	kept          url.Values // what the address says of the tables of the page
}

const (
	longestQuery = 100
	rowsOnPage   = 25 // four lines each on a phone: nobody scrolls further
)

// newTable filters rows by the words of the address, sorts them by the column it names and cuts out the page it asks for.
// Several tables of one page go by name: theirs are ?name-find, ?name-by (with a minus for downwards), ?name-page, ?name-all
// and ?name-wide.
func newTable(c echo.Context, name, caption string, columns []column, rows [][]cell) table {
	sort, down := strings.CutPrefix(c.QueryParam(name+"-by"), "-")
	t := table{Name: name, Caption: caption, Columns: columns, Of: len(rows), path: c.Request().URL.Path, kept: keptOf(c.QueryParams()),
		Query: strings.TrimSpace(c.QueryParam(name + "-find")), Sort: sort, Down: down, All: c.QueryParam(name+"-all") != "", Wide: c.QueryParam(name+"-wide") != ""}
	if len(t.Query) > longestQuery {
		t.Query = strings.ToValidUTF8(t.Query[:longestQuery], "")
	}
	words := strings.Fields(strings.ToLower(t.Query))
	for _, row := range rows {
		if holds(row, words) {
			t.Rows = append(t.Rows, row)
		}
	}
	if at := slices.IndexFunc(columns, func(c column) bool { return c.Key == t.Sort }); at >= 0 {
		slices.SortStableFunc(t.Rows, func(a, b []cell) int { return compared(columns[at], a[at], b[at], t.Down) })
	} else {
		t.Sort, t.Down = "", false
	}
	t.total()
	page, _ := strconv.Atoi(c.QueryParam(name + "-page")) // what is no number is the first page
	t.cut(page)
	return t
}

// cut keeps the rows of a page, counted from 1; one that there is not is the nearest that there is.
func (t *table) cut(page int) {
	t.Found = len(t.Rows)
	if t.Found == 0 {
		return
	}
	t.First = 1
	if t.All {
		return
	}
	from := min(max(page-1, 0), (t.Found-1)/rowsOnPage) * rowsOnPage
	t.First, t.Rows = from+1, t.Rows[from:min(from+rowsOnPage, t.Found)]
}

// keptOf is what an address says already, of other tables and of the page; what nobody types is left out.
func keptOf(sent url.Values) url.Values {
	out := url.Values{}
	for name, values := range sent {
		for _, value := range values {
			if len(name) <= longestQuery && len(value) <= longestQuery && value != "" && len(out[name]) < mostKept && len(out) < mostKept {
				out.Add(name, value)
			}
		}
	}
	return out
}

const mostKept = 100

// with is the address of the table with something else said of it, "" for no longer; the first page, unless one is named.
func (t table) with(name, value string) string {
	q := maps.Clone(t.kept)
	q.Del(t.Name + "-page")
	if q.Del(t.Name + "-" + name); value != "" {
		q.Set(t.Name+"-"+name, value)
	}
	address := t.path
	if len(q) > 0 {
		address += "?" + q.Encode()
	}
	return address + "#" + t.Name
}

// Paged reports whether there are more rows than are shown at once.
func (t table) Paged() bool { return t.Found > rowsOnPage }

// Last is the number of the last row shown.
func (t table) Last() int { return t.First + len(t.Rows) - 1 }

// Before and After are the addresses of the pages beside this one, "" where there is none; Whole that of all rows, ByPage
// back from it.
func (t table) Before() string {
	if t.All || t.First <= 1 {
		return ""
	}
	return t.with("page", strconv.Itoa((t.First-1)/rowsOnPage))
}

func (t table) After() string {
	if t.All || t.Last() >= t.Found {
		return ""
	}
	return t.with("page", strconv.Itoa((t.First-1)/rowsOnPage+2))
}

func (t table) Whole() string  { return t.with("all", "1") }
func (t table) ByPage() string { return t.with("all", "") }

// Widened is the address with every column on a phone, or back from it; Folds reports whether some are left out there.
func (t table) Widened() string {
	if t.Wide {
		return t.with("wide", "")
	}
	return t.with("wide", "1")
}

func (t table) Folds() bool {
	return slices.ContainsFunc(t.Columns, func(c column) bool { return c.Rest })
}

// Kept is what the form to find and sort sends along: what the address says of anything else.
func (t table) Kept() url.Values {
	q := maps.Clone(t.kept)
	for _, own := range []string{"find", "by", "page"} {
		q.Del(t.Name + "-" + own)
	}
	return q
}

// holds reports whether every word stands somewhere in a row.
func holds(row []cell, words []string) bool {
	for _, word := range words {
		if !slices.ContainsFunc(row, func(c cell) bool { return strings.Contains(strings.ToLower(c.Text), word) }) {
			return false
		}
	}
	return true
}

func compared(by column, a, b cell, down bool) int {
	if down {
		a, b = b, a
	}
	if by.Figure {
		return cmp.Compare(a.Value, b.Value)
	}
	return cmp.Compare(strings.ToLower(a.Text), strings.ToLower(b.Text))
}

func (t *table) total() {
	sums := false
	out := make([]string, len(t.Columns))
	for i, c := range t.Columns {
		if c.Sum == nil {
			continue
		}
		sums = true
		sum := 0.0
		for _, row := range t.Rows {
			sum += row[i].Value
		}
		out[i] = c.Sum(sum)
	}
	if sums && len(t.Rows) > 0 {
		t.Totals = out
	}
}

// By is the address of the table sorted by a column; by the same one again turns it round.
func (t table) By(key string) string {
	if t.Sort == key && !t.Down {
		key = "-" + key
	}
	return t.with("by", key)
}

// Ordered says how a column is sorted, in the words that readers of the page aloud are given.
func (t table) Ordered(key string) string {
	switch {
	case t.Sort != key:
		return "none"
	case t.Down:
		return "descending"
	}
	return "ascending"
}

// Path is the page that the table stands on.
func (t table) Path() string { return t.path }

func plain(text string) cell { return cell{Text: text} }

func linked(text, to string) cell { return cell{Text: text, Link: to} }

func count(n int) cell { return cell{Text: thousands(n), Value: float64(n)} }

// measured writes a figure with so many decimals.
func measured(v float64, decimals int) cell {
	return cell{Text: fmt.Sprintf("%.*f", decimals, v), Value: v}
}

// priced writes an amount in minor units, or that there is no rate.
func priced(minor int64, known bool, currency string) cell {
	if !known {
		return cell{Text: "no rate", Flag: true}
	}
	return cell{Text: domain.FormatMoney(minor, currency), Value: float64(minor)}
}

func sumCount(v float64) string { return thousands(int(v)) }

func sumKg(v float64) string { return fmt.Sprintf("%.1f", v) }

func sumMoney(currency string) func(float64) string {
	return func(v float64) string { return domain.FormatMoney(int64(v), currency) }
}
