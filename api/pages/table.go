package pages

import (
	"cmp"
	"fmt"
	"net/url"
	"slices"
	"strings"

	"github.com/labstack/echo/v4"

	"unpick/domain"
)

// column is one column of a table: a figure is aligned to the right and sorted by its value.
type column struct {
	Key, Title string
	Figure     bool
	Rest       bool                 // left out on a phone
	Sum        func(float64) string // writes the total of the rows shown; nil where none makes sense
}

// cell is what one row says in one column.
type cell struct {
	Text  string
	Value float64 // what a figure is sorted and summed by
	Link  string
	Flag  bool
}

// table is rows that are filtered and sorted on the server: every view of it has an address of its own.
type table struct {
	Name, Caption string
	Columns       []column
	Rows          [][]cell
	Totals        []string // one for each column; nil where nothing is summed
	Query         string
	Sort          string
	Down          bool
	Of            int // rows before the filter
	path          string
}

const longestQuery = 100

// newTable filters rows by the words of the address and sorts them by the column it names. Two tables of one page go by
// name: theirs are ?name-find, ?name-by and ?name-down.
func newTable(c echo.Context, name, caption string, columns []column, rows [][]cell) table {
	t := table{Name: name, Caption: caption, Columns: columns, Of: len(rows), path: c.Request().URL.Path,
		Query: strings.TrimSpace(c.QueryParam(name + "-find")), Sort: c.QueryParam(name + "-by"), Down: c.QueryParam(name+"-down") != ""}
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
	}
	t.total()
	return t
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
	q := url.Values{}
	if t.Query != "" {
		q.Set(t.Name+"-find", t.Query)
	}
	q.Set(t.Name+"-by", key)
	if t.Sort == key && !t.Down {
		q.Set(t.Name+"-down", "1")
	}
	return t.path + "?" + q.Encode() + "#" + t.Name
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
