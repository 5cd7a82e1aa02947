package api

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

var rowPattern = regexp.MustCompile(`(?s)<tr>(<td.*?)</tr>`)

// rowsOf are the rows of the first table of a page, cells as plain text.
func rowsOf(page reply) [][]string {
	body := string(page.body)
	body = body[strings.Index(body, "<tbody>"):]
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
	all := rowsOf(s.want(200, get, at+"/salvage", nil))
	some := s.want(200, get, at+"/salvage?pieces-find=W1-S&pieces-by=usable&pieces-down=1", nil)
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
