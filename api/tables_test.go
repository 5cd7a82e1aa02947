package api

import (
	"html"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var rowPattern = regexp.MustCompile(`(?s)<tr role="row">(<td.*?)</tr>`)

// rowsOf are the rows of the first table of a page, cells as plain text.
func rowsOf(page reply) [][]string {
	body := string(page.body)
	body = body[strings.Index(body, `<tbody role="rowgroup">`):]
	body = body[:strings.Index(body, "</tbody>")]
	var out [][]string
	for _, row := range rowPattern.FindAllStringSubmatch(body, -1) {
		var cells []string
		for _, c := range regexp.MustCompile(`(?s)<td[^>]*>(.*?)</td>`).FindAllStringSubmatch(row[1], -1) {
			cells = append(cells, strings.TrimSpace(regexp.MustCompile(`<[^>]*>`).ReplaceAllString(c[1], "")))
		}
		out = append(out, cells)
	}
	return out
}

// TestTables: a table is filtered and sorted by its address, totals are those of what is shown.
func TestTables(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	at := s.demo()
	for _, page := range []string{"/making-good", "/schedule", "/salvage"} {
		if rows := rowsOf(s.want(200, get, at+page, nil)); len(rows) < 5 {
			t.Errorf("%s shows %d rows", page, len(rows))
		}
	}
	all := rowsOf(s.want(200, get, at+"/salvage?pieces-all=1", nil))
	some := s.want(200, get, at+"/salvage?pieces-find=W1-S&pieces-by=-usable", nil)
	rows := rowsOf(some)
	if len(rows) == 0 || len(rows) >= len(all) {
		t.Fatalf("%d of %d rows have W1-S", len(rows), len(all))
	}
	var usable []int
	for _, row := range rows {
		if !strings.Contains(strings.Join(row, " "), "W1-S") {
			t.Errorf("%v has no W1-S in it", row)
		}
		n, err := strconv.Atoi(strings.ReplaceAll(row[4], ",", ""))
		if err != nil {
			t.Fatal(err)
		}
		usable = append(usable, n)
	}
	if !slices.IsSortedFunc(usable, func(a, b int) int { return b - a }) {
		t.Errorf("not the longest first: %v", usable)
	}
	if hostile := s.want(200, get, at+"/salvage?pieces-find=%3Cscript%3E"+strings.Repeat("x", 500)+"&pieces-by=nobody", nil); strings.Contains(string(hostile.body), "<script>x") {
		t.Error("what was asked for comes back as markup")
	}
}

// TestTablesByPage: a long table comes page by page, its filter and order stay in the addresses, its totals are those of
// everything that was found, and all of it can be had at once.
func TestTablesByPage(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	demo := s.demo()
	at := demo + "/register/pieces"
	const asked = "?pieces-find=board&pieces-by=-code"
	all := rowsOf(s.want(200, get, at+asked+"&pieces-all=1", nil))
	if len(all) <= 50 {
		t.Fatalf("%d pieces have the word board: too few to page", len(all))
	}
	var paged [][]string
	address := at + asked
	for pages := 0; address != "" && pages < 50; pages++ {
		page := s.want(200, get, address, nil)
		rows := rowsOf(page)
		if len(rows) == 0 || len(rows) > 25 {
			t.Fatalf("%s has %d rows", address, len(rows))
		}
		paged = append(paged, rows...)
		address = ""
		if next := regexp.MustCompile(`<a href="([^"#]*)[^"]*" rel="next">`).FindSubmatch(page.body); next != nil {
			address = html.UnescapeString(string(next[1]))
		}
	}
	if diff := cmp.Diff(all, paged); diff != "" {
		t.Errorf("the pages are not the whole (-whole +paged):\n%s", diff)
	}
	total := regexp.MustCompile(`Total of all ([0-9,]+)`)
	first, last := total.FindString(string(s.want(200, get, demo+"/register/fixings", nil).body)), total.FindString(string(s.want(200, get, demo+"/register/fixings?fixings-page=3", nil).body))
	if first == "" || first != last {
		t.Errorf("totals %q on the first page, %q on the third", first, last)
	}
	if far := rowsOf(s.want(200, get, at+asked+"&pieces-page=999999999", nil)); len(far) == 0 {
		t.Error("a page past the last shows nothing")
	}
	for _, hostile := range []string{"-1", "x", "9223372036854775808"} {
		s.want(200, get, at+"?pieces-page="+hostile, nil)
	}
}
