package browser

import (
	"encoding/json"
	"fmt"
	"net/http"
	"slices"
	"strings"
	"testing"

	"github.com/labstack/echo/v4"

	"unpick/api/pages"
)

// everyPage are the pages of the demo, one of each kind, empty forms and full ones.
var everyPage = []string{
	"/", "/new", "/you", "/waiting", "/offline", demo,
	demo + "/log", demo + "/log/assembly/stud-wall", demo + "/log/assembly/lining", demo + "/log/assembly/mezzanine", demo + "/log/assembly/ceiling",
	demo + "/log/assembly/door-set", demo + "/log/assembly/service-run", demo + "/log/run", demo + "/log/piece", demo + "/log/found", demo + "/log/run?key=1", demo + "/log/made/2",
	demo + "/drawings", demo + "/drawings?view=plan&step=40", demo + "/drawings?view=elevation/W1&pick=W1-S4&falls=1", demo + "/drawings?view=setting-out/W1",
	demo + "/strip-out", demo + "/strip-out/programme", demo + "/strip-out/1", demo + "/strip-out/5", demo + "/strip-out/signed/YARD-1",
	demo + "/free", demo + "/free?/code=W1-S5&falls=1",
	demo + "/register", demo + "/register/pieces", demo + "/register/fixings", demo + "/register/hosts", demo + "/register/log", demo + "/register/workbook",
	demo + "/pieces/W1-S4", demo + "/fixings/W1-F27", demo + "/assemblies/W1", demo + "/hosts/BLK-REAR", demo + "/holes/L1-H1", demo + "/closing-up", demo + "/notices",
	demo + "/making-good", demo + "/making-good/L1-H1", demo + "/making-good/BLK-REAR", demo + "/schedule", demo + "/schedule?only=W1", demo + "/salvage?pieces-find=stud&pieces-by=usable", demo + "/documents",
	demo + "/settings", demo + "/settings/tenancy", demo + "/settings/exits", demo + "/settings/pricing", demo + "/settings/new-surface", demo + "/settings/new-price", demo + "/settings/work-rates", "/firm", "/firm/new-price?currency=GBP", "/firm/work-rates", demo + "/settings/prices-of", demo + "/settings/new-zone",
	demo + "/settings/new-surface?key=1&/code=X9&/name=Ceiling&/kind=plasterboard-ceiling&/rule=ask&/position=over+SLAB1&/height_mm=3000",
	demo + "/condition", demo + "/condition/BLK-LOW", demo + "/licence", demo + "/settings/licence", demo + "/survey?zone=Z-BIND&known=assumed",
	demo + "/walk-round", demo + "/walk-round/SLAB2?as=surveyor&by=N.N.", demo + "/walk-round/SLAB2/5",
	demo + "/hosts/BLK-REAR/amend", demo + "/settings/exits?stored=yes",
	demo + "/issues", scheduleIssue, scheduleIssue + "/answers", scheduleIssue + "/answers?party=landlord",
	demo + "/move", demo + "/move?to=WREN-NEXT&/vehicle/payload_kg=600", demo + "/move?to=WREN-NEXT&/nearby/within_mm=300", demo + "/labels?/to=WREN-NEXT", demo + "/move?to=WREN-NEXT&/programme/entry=2029-04-10&/programme/rent_here_minor_a_month=1450", demo + "/move?to=WREN-NEXT&/kerf_mm=nonsense", layout + "/first-order", layout + "/first-order?/prices_of=WREN-PRESS",
	demo + "/salvage/found", demo + "/salvage/waste", demo + "/labels", demo + "/labels/labels.pdf?/sheet=nonsense", demo + "/settings/labels",
}

// TestEveryPage: axe-core finds no violation of WCAG 2.2 A or AA on any page, on a phone and on a desk, in light and in
// dark; no page complains in the console or asks another host. Rules: https://www.w3.org/TR/WCAG22/, as axe-core 4.14.1
// tests them.
func TestEveryPage(t *testing.T) {
	t.Parallel()
	script := axe(t)
	s := newSite(t)
	p := newPhone(s)
	p.open(demo + "/log/found")
	p.logFound("a hole", "400") // so that there is a page that says what was logged
	p.until("the entry is shown", `location.pathname.includes("/log/made/")`)
	for _, page := range append(s.mailed(), everyPage...) {
		p.open(page)
		if status := eval[int](p, `performance.getEntriesByType("navigation")[0].responseStatus`); status != answers(page) {
			t.Errorf("%s answers %d, want %d", page, status, answers(page))
			continue
		}
		eval[bool](p, script+"; true")
		for _, look := range []struct {
			theme      string
			wide, high int64
		}{{"light", phoneWide, phoneHigh}, {"dark", phoneWide, phoneHigh}, {"dark", desktopWide, desktopHigh}, {"light", desktopWide, desktopHigh}} {
			p.looks(look.wide, look.high, look.theme)
			for _, fault := range p.violations() {
				t.Errorf("%s, %s, %d px: %s", page, look.theme, look.wide, fault)
			}
			if wide := eval[int](p, `document.documentElement.scrollWidth - document.documentElement.clientWidth`); wide > 1 {
				t.Errorf("%s at %d px is %d px too wide", page, look.wide, wide)
			}
			p.picture(fmt.Sprintf("%s-%s-%d", strings.NewReplacer("/", "_", "?", "_").Replace(page), look.theme, look.wide))
		}
	}
}

// answers is the status of a page: 422 where it is asked for nonsense, so that a form that was refused is looked at too.
func answers(page string) int {
	if strings.HasSuffix(page, "nonsense") {
		return 422
	}
	return 200
}

// noPages are addresses that answer a browser with something else than a page, or with another page, or that have no
// address before something was sent: see mailed.
var noPages = []string{"/assets/:hash/:name", "/sw.js", "/manifest.webmanifest", "/f/:code/log/again", "/f/:code/move/:name", "/f/:code/first-order/:name", "/f/:code/documents/:name", "/f/:code/photos/:photo",
	issueRoute + "/file", issueRoute + "/print", issueRoute + "/returned/:sum", "/l/:token", "/l/:token/file", "/l/:token/print"}

// TestEveryRouteIsLookedAt: no page is forgotten above.
func TestEveryRouteIsLookedAt(t *testing.T) {
	t.Parallel()
	p, err := pages.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	e := echo.New()
	p.Routes(e)
	for _, r := range e.Routes() {
		if r.Method != http.MethodGet || slices.Contains(noPages, r.Path) {
			continue
		}
		if !slices.ContainsFunc(everyPage, func(address string) bool { return fits(r.Path, address) }) {
			t.Errorf("no page at %s is looked at: add one to everyPage", r.Path)
		}
	}
}

// fits reports whether an address belongs to a route.
func fits(route, address string) bool {
	path, _, _ := strings.Cut(address, "?")
	given, parts := strings.Split(path, "/"), strings.Split(route, "/")
	for i := range min(len(given), len(parts)) {
		if parts[i] != given[i] && (!strings.HasPrefix(parts[i], ":") || given[i] == "") {
			return false
		}
	}
	return len(given) == len(parts)
}

// TestAxeSees: a picture without words and a field without a label, put into a page, are found: silence above means
// something.
func TestAxeSees(t *testing.T) {
	t.Parallel()
	script := axe(t)
	p := newPhone(newSite(t))
	p.open("/you")
	eval[bool](p, script+"; true")
	eval[bool](p, `(() => { const i = document.createElement("input"); document.querySelector("main").append(i, document.createElement("img")); return true; })()`)
	if found := strings.Join(p.violations(), "\n"); !strings.Contains(found, "image-alt") || !strings.Contains(found, "label") {
		t.Errorf("axe-core finds only: %s", found)
	}
}

// violations are what axe-core finds on the page as it stands, in a line each.
func (p *phone) violations() []string {
	p.tb.Helper()
	text := eval[string](p, `axe.run(document, {runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"], resultTypes: ["violations"]}).then((r) => JSON.stringify(r.violations.map((v) => ({rule: v.id, help: v.help, at: v.nodes.slice(0, 3).map((n) => n.html.slice(0, 160) + " " + n.failureSummary.slice(0, 200))}))))`)
	var found []struct {
		Rule, Help string
		At         []string
	}
	if err := json.Unmarshal([]byte(text), &found); err != nil {
		p.tb.Fatal(err)
	}
	var out []string
	for _, v := range found {
		out = append(out, v.Rule+": "+v.Help+": "+strings.Join(v.At, " | "))
	}
	return out
}

// TestFirstPage: what the first page of a fit-out loads, all of it, is under 100 KB as it is sent.
func TestFirstPage(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	p := newPhone(s)
	p.weigh()
	p.open(demo)
	if sum := p.weighed(); sum > 100<<10 || sum < 5<<10 {
		t.Errorf("the first page loads %d bytes, want under 100 KB (and something)", sum)
	}
}
