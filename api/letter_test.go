package api

import (
	"bytes"
	"encoding/base64"
	"encoding/hex"
	"fmt"
	"mime/multipart"
	"net/http/httptest"
	"net/url"
	"regexp"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"github.com/xuri/excelize/v2"

	"unpick/api/service"
	"unpick/api/spec"
	"unpick/db"
	"unpick/db/dbtest"
	"unpick/domain/catalogue"
)

// mailed is a site whose clock can be moved, with the schedule of one wall issued once and a link to it.
type mailed struct {
	*site
	later    *atomic.Int64 // nanoseconds that the clock is ahead
	database string
	path     string // of the link
	issue    string // of the issue in the API
}

func newMailed(t *testing.T) mailed {
	t.Helper()
	d, database := dbtest.NewURL(t, db.Config{Catalogue: catalogue.Default()})
	later := &atomic.Int64{}
	jobs, err := service.New(t.Context(), d, func() time.Time { return time.Now().Add(time.Duration(later.Load())) })
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(jobs.Close)
	handler, err := NewHandler(Config{Jobs: jobs, Actor: "Jo"})
	if err != nil {
		t.Fatal(err)
	}
	server := httptest.NewServer(handler)
	t.Cleanup(server.Close)
	k, err := newContract()
	if err != nil {
		t.Fatal(err)
	}
	p := mailed{site: &site{tb: t, url: server.URL, k: k, seen: map[string]map[int]bool{}}, later: later, database: database, issue: base + "/ONE/issues/reinstatement.xlsx/1"}
	p.want(201, post, base+"/import", oneWall(t, "ONE"))
	p.want(201, post, base+"/ONE/records", object{"records": object{"prices": []object{{"key": "labour-hour", "amount_minor": 4000, "unit": "hour"}}}})
	p.want(201, post, base+"/ONE/issues", object{"document": "reinstatement.xlsx", "to": []string{"Harbour Estates"}})
	var made spec.LinkMade
	p.want(201, post, p.issue+"/links", object{"made_for": "J. Roe", "days": 7}).into(t, &made)
	p.path = made.Path
	return p
}

// TestLetterIsOnePaper: what a link opens has no script, no menu, no way to anything but itself and its file, is kept out
// of caches and indexes, and sends its address to nobody.
func TestLetterIsOnePaper(t *testing.T) {
	t.Parallel()
	s := newMailed(t)
	page := s.want(200, get, s.path, nil, "Accept", "text/html")
	for name, want := range map[string]string{"Cache-Control": "no-store", "Referrer-Policy": "no-referrer", "X-Robots-Tag": "noindex, nofollow, noarchive"} {
		if got := page.header.Get(name); got != want {
			t.Errorf("%s = %q, want %q", name, got, want)
		}
	}
	if policy := page.header.Get("Content-Security-Policy"); strings.Contains(policy, "script") || strings.Contains(policy, "connect") || !strings.Contains(policy, "default-src 'none'") {
		t.Errorf("the policy is %q", policy)
	}
	if strings.Contains(string(page.body), "<script") || strings.Contains(string(page.body), "manifest") {
		t.Error("the page has a script or a manifest")
	}
	for _, m := range regexp.MustCompile(`(?:href|src|action)="([^"]*)"`).FindAllStringSubmatch(string(page.body), -1) {
		if at := m[1]; at != s.path && at != s.path+"/file" && at != s.path+"/print" && !strings.HasPrefix(at, "/assets/") && !strings.HasPrefix(at, "#") {
			t.Errorf("the page leads to %s", at)
		}
	}
	file := s.want(200, get, s.path+"/file", nil)
	if same := s.want(200, get, s.issue+"/file", nil); string(file.body) != string(same.body) || file.header.Get("Cache-Control") != "no-store" {
		t.Error("the file of the link is not the file that was issued")
	}
	printed := s.want(200, get, s.path+"/print", nil)
	if same := s.want(200, get, s.issue+"/print", nil); string(printed.body) != string(same.body) || printed.header.Get("Cache-Control") != "no-store" || !strings.HasPrefix(string(printed.body), "%PDF-") {
		t.Error("the print of the link is not the one that was issued")
	}
	for _, at := range []string{s.path + "/x", s.path + "/file/x", "/l/"} {
		if lost := s.want(404, get, at, nil, "Accept", "text/html"); strings.Contains(string(lost.body), `href="/"`) || lost.header.Get("X-Robots-Tag") == "" {
			t.Errorf("%s leads to the rest of the program", at)
		}
	}
	wrong := s.submit(s.path, url.Values{"x": {strings.Repeat("y", 2<<20)}})
	if wrong.status != 413 || strings.Contains(string(wrong.body), "<nav") || strings.Contains(string(wrong.body), `href="/"`) {
		t.Errorf("a form too large is answered %d with a way to the rest of the program", wrong.status)
	}
}

// TestClosedLinksAreAlike: unknown, altered, revoked and expired links get one and the same answer, and every visit to a
// link that there was is kept.
func TestClosedLinksAreAlike(t *testing.T) {
	t.Parallel()
	s := newMailed(t)
	s.want(200, get, s.path, nil)
	unknown := s.want(404, get, "/l/"+base64.RawURLEncoding.EncodeToString(make([]byte, 32)), nil)
	unknown.header.Del("Date")
	alike := func(what, path string) {
		t.Helper()
		got := s.want(404, get, path, nil)
		got.header.Del("Date") // the clock of the server is no difference
		if string(got.body) != string(unknown.body) || fmt.Sprint(got.header) != fmt.Sprint(unknown.header) {
			t.Errorf("%s is answered otherwise than an unknown link:\n%v\n%v", what, got.header, unknown.header)
		}
	}
	last := s.path[len(s.path)-2:]
	altered := map[bool]string{true: "AA", false: "BA"}[last != "AA"]
	alike("an altered link", s.path[:len(s.path)-2]+altered)
	alike("no token at all", "/l/x")
	alike("half a token", s.path[:len(s.path)-1])
	s.later.Store(int64(8 * 24 * time.Hour))
	alike("an expired link", s.path)
	if got := s.submit(s.path, url.Values{"/items/1/remarks": {"late"}}); got.status != 404 || string(got.body) != string(unknown.body) {
		t.Errorf("an answer by an expired link: %d", got.status)
	}
	s.later.Store(0)
	s.want(200, get, s.path, nil)
	s.want(200, post, s.issue+"/links/1/revoke", nil)
	alike("a revoked link", s.path)
	alike("its file", s.path+"/file")
	alike("its print", s.path+"/print")
	var list spec.LinkList
	s.want(200, get, s.issue+"/links", nil).into(t, &list)
	did := ""
	for _, v := range list.Items[0].Visits {
		did += v.Did + " "
		if v.Client != "127.0.0.1" {
			t.Errorf("a visit came from %q", v.Client)
		}
	}
	if did != "read refused refused read refused refused refused " {
		t.Errorf("visits: %s", did)
	}
	var now spec.Standing
	s.want(200, get, s.issue+"/answers", nil).into(t, &now)
	if now.Summary.Proposed != now.Summary.Items {
		t.Error("something was taken by a link that had ended")
	}
}

// TestLetterAnswers: without script, all of it or nothing, once however often it arrives, in the log under the name of whom
// the link is for.
func TestLetterAnswers(t *testing.T) {
	t.Parallel()
	s := newMailed(t)
	half := s.typed(s.path, "/items/1/verdict", "disputed", "/items/1/figure", "1,250.5", "/items/1/remarks", "too low", "/items/2/verdict", "done")
	refused := s.submit(s.path, half)
	if text := string(refused.body); refused.status != 422 || !strings.Contains(text, "it is done after it is agreed") || !strings.Contains(text, "too low") || strings.Contains(text, "<nav") {
		t.Fatalf("half an answer: %d\n%.300s", refused.status, text)
	}
	var now spec.Standing
	s.want(200, get, s.issue+"/answers", nil).into(t, &now)
	if now.Seen != 0 {
		t.Fatalf("half an answer was taken: %+v", now.Summary)
	}
	figure := s.submit(s.path, s.typed(s.path, "/items/1/figure", "1.250,00"))
	if !strings.Contains(string(figure.body), "is no figure") {
		t.Errorf("a figure that may mean two things: %d", figure.status)
	}
	half.Del("/items/2/verdict")
	for range 2 { // the second is the same form sent again
		if took := s.submit(s.path, half); took.status != 303 || took.header.Get("Location") != "?taken=1" {
			t.Fatalf("an answer: %d to %q\n%.300s", took.status, took.header.Get("Location"), took.body)
		}
	}
	s.want(200, get, s.issue+"/answers", nil).into(t, &now)
	first := now.Positions[0]
	if first.State != "disputed" || *first.Landlord.FigureMinor != 125050 || len(*first.History) != 1 || (*first.History)[0].By != "J. Roe (by link)" || (*first.History)[0].From != "link" {
		t.Errorf("item 1 stands at %+v", first)
	}
	var page spec.LogEntryPage
	s.want(200, get, base+"/ONE/log?limit=500", nil).into(t, &page)
	s.want(403, post, s.path, nil, "Origin", "https://elsewhere.example", "Sec-Fetch-Site", "cross-site")
	var links spec.LinkList
	s.want(200, get, s.issue+"/links", nil).into(t, &links)
	did := ""
	for _, v := range links.Items[0].Visits {
		if v.Did != "read" {
			did += v.Did + " "
		}
	}
	// What was not taken is a visit and no answer: half an answer, a figure that is none, a form of another site.
	if did != "not-taken not-taken answered not-taken " {
		t.Errorf("visits that sent something: %s", did)
	}
	if page := s.ok(200, "the issue", s.send(get, "/f/ONE/issues/reinstatement.xlsx/1", nil)); !strings.Contains(page, "sent an answer that was not taken, from 127.0.0.1") {
		t.Error("the page of the issue does not say that an answer was not taken")
	}
	if e := page.Items[len(page.Items)-1]; e.Who != "J. Roe (by link)" || !strings.Contains(e.What, "the landlord answers 1 item") {
		t.Errorf("the log says %s: %s", e.Who, e.What)
	}
}

// TestLetterAsksWhichFigure: who says agreed and types another figure is asked which is meant, by link and on the tenant's
// own page, with everything typed still there, and nothing is taken until then; an agreement to a figure that was changed
// since the page was opened is not taken either.
func TestLetterAsksWhichFigure(t *testing.T) {
	t.Parallel()
	s := newMailed(t)
	own := "/f/ONE/issues/reinstatement.xlsx/1/answers"
	opened := s.typed(s.path, "/items/1/verdict", "agreed")
	for _, at := range []string{s.path, own + "?party=landlord"} {
		sent := s.typed(at, "/items/1/verdict", "agreed", "/items/1/figure", "99999", "/items/1/remarks", "both coats")
		got := s.submit(strings.TrimSuffix(at, "?party=landlord"), sent)
		if text := string(got.body); got.status != 422 || !strings.Contains(text, "agreed and GBP 99,999.00 are two different things") || !strings.Contains(text, "both coats") || !strings.Contains(text, `value="99999"`) {
			t.Errorf("%s: agreed beside another figure: %d, not asked which is meant", at, got.status)
		}
	}
	var now spec.Standing
	s.want(200, get, s.issue+"/answers", nil).into(t, &now)
	if now.Seen != 0 {
		t.Fatalf("it was taken unasked: %+v", now.Positions[0])
	}
	half := s.typed(own+"?party=landlord", "/items/1/remarks", "seen", "/by", " ")
	if got := s.submit(own, half); got.status != 422 || !strings.Contains(string(got.body), "type the name of who says it") || !strings.Contains(string(got.body), "seen") {
		t.Errorf("taken down without a name: %d", got.status)
	}
	s.want(201, post, s.issue+"/answers", object{"party": "tenant", "by": "T. Hollin", "statements": []object{{"item": 1, "figure_minor": 4321}}})
	if page := s.ok(200, "the tenant's answers", s.send(get, own, nil)); !strings.Contains(page, `name="/by" id="by" value="Jo"`) {
		t.Error("the tenant's own device does not know its name")
	}
	if mine := s.typed(own, "/items/1/remarks", "and swept", "/by", "Jo"); s.submit(own, mine).status != 303 {
		t.Error("the tenant's own answer is not taken")
	}
	s.want(200, get, s.issue+"/answers", nil).into(t, &now)
	if said := *now.Positions[0].History; said[0].By != "T. Hollin (entered by Jo)" || said[1].By != "Jo" {
		t.Errorf("the answers are by %s and %s", said[0].By, said[1].By)
	}
	if got := s.submit(s.path, opened); got.status != 422 || !strings.Contains(string(got.body), "figure was changed since it was read") {
		t.Errorf("agreed to a figure that was changed since: %d", got.status)
	}
	if got := s.submit(s.path, s.typed(s.path, "/items/1/verdict", "agreed")); got.status != 303 {
		t.Errorf("agreed to the figure that is: %d", got.status)
	}
	s.want(200, get, s.issue+"/answers", nil).into(t, &now)
	if p := now.Positions[0]; p.State != "agreed" || p.AgreedMinor != 4321 {
		t.Errorf("item 1 is %s at %d, want agreed at 4321", p.State, p.AgreedMinor)
	}
}

// TestOnlyTheHashOfALink: nothing in the database opens a link, and nothing that was sent or said can be altered there.
func TestOnlyTheHashOfALink(t *testing.T) {
	t.Parallel()
	s := newMailed(t)
	s.want(201, post, s.issue+"/answers", object{"party": "landlord", "statements": []object{{"item": 1, "remarks": "seen"}}})
	if took := s.submit(s.path, s.typed(s.path, "/items/1/remarks", "by link")); took.status != 303 {
		t.Fatalf("an answer by link: %d", took.status)
	}
	made := s.submit("/f/ONE/issues/reinstatement.xlsx/1/links", url.Values{"/made_for": {"by page"}, "/days": {"3"}, "key": {""}})
	shown := regexp.MustCompile(`/l/([A-Za-z0-9_-]{43})`).FindStringSubmatch(string(made.body))
	if made.status != 200 || shown == nil {
		t.Fatalf("a link made on its page: %d\n%.300s", made.status, made.body)
	}
	conn, err := pgx.Connect(t.Context(), s.database)
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close(t.Context())
	rows, _ := conn.Query(t.Context(), `select table_name::text from information_schema.tables where table_schema = 'public' and table_type = 'BASE TABLE'`)
	tables, err := pgx.CollectRows(rows, pgx.RowTo[string])
	if err != nil || len(tables) < 10 {
		t.Fatalf("listing tables: %v, %v", tables, err)
	}
	for _, token := range []string{strings.TrimPrefix(s.path, "/l/"), shown[1]} {
		secret, err := base64.RawURLEncoding.DecodeString(token)
		if err != nil {
			t.Fatal(err)
		}
		for _, table := range tables {
			var found int
			q := `select count(*) from ` + pgx.Identifier{table}.Sanitize() + ` r where r::text like '%' || $1 || '%' or r::text like '%' || $2 || '%' or r::text like '%' || $3 || '%'`
			if err := conn.QueryRow(t.Context(), q, token, hex.EncodeToString(secret), hex.EncodeToString([]byte(token))).Scan(&found); err != nil || found != 0 {
				t.Errorf("%s holds the secret of a link in %d rows (%v)", table, found, err)
			}
		}
	}
	for _, table := range []string{"issues", "item_numbers", "statements", "links", "link_visits"} {
		column := map[string]string{"issues": "note", "item_numbers": "key", "statements": "remarks", "links": "made_for", "link_visits": "client"}[table]
		for _, q := range []string{"update " + table + " set " + column + " = 'x'", "delete from " + table, "truncate " + table + " cascade"} {
			if _, err := conn.Exec(t.Context(), q); err == nil || !strings.Contains(err.Error(), "never") {
				t.Errorf("%s: %v, want it refused", q, err)
			}
		}
	}
}

// TestPagesOfAnIssue issues and answers by the forms.
func TestPagesOfAnIssue(t *testing.T) {
	t.Parallel()
	s := newMailed(t)
	page := s.want(200, get, "/f/ONE/issues", nil)
	if !strings.Contains(string(page.body), "Issue 1") {
		t.Error("the issue is not listed")
	}
	nobody := s.submit("/f/ONE/issues", s.typed("/f/ONE/issues", "/to", " "))
	if nobody.status != 422 || !strings.Contains(string(nobody.body), "say who it goes to") {
		t.Errorf("an issue to nobody: %d", nobody.status)
	}
	sent := s.submit("/f/ONE/issues", s.typed("/f/ONE/issues", "/to", "Harbour Estates\nJ. Roe"))
	if at := sent.header.Get("Location"); sent.status != 303 || at != "/f/ONE/issues/reinstatement.xlsx/2" {
		t.Fatalf("an issue: %d to %s\n%.400s", sent.status, at, sent.body)
	}
	two := "/f/ONE/issues/reinstatement.xlsx/2"
	if text := string(s.want(200, get, "/f/ONE", nil).body); !strings.Contains(text, `<a href="`+two+`">Issue 2</a>: 0 agreed, 0 disputed, `) {
		t.Error("Today does not say how it stands with the landlord")
	}
	if text := string(s.want(200, get, two, nil).body); !strings.Contains(text, "Nothing changed.") || !strings.Contains(text, "-trusted-proxy") {
		t.Error("the page of the issue lacks what changed, or what a link needs")
	}
	s.want(404, get, "/f/ONE/issues/reinstatement.xlsx/7", nil)
	said := s.submit(two+"/answers", s.typed(two+"/answers", "/items/1/remarks", "as licensed", "/by", "T. Hollin"))
	if said.status != 303 {
		t.Fatalf("the tenant answers: %d\n%.300s", said.status, said.body)
	}
	if text := string(s.want(200, get, two+"/answers", nil).body); !strings.Contains(text, "as licensed") {
		t.Error("what the tenant said is not shown")
	}
}

// TestBackByForm: the workbook comes back through the form, is shown before it is taken, and one that is refused leaves
// nothing behind.
func TestBackByForm(t *testing.T) {
	t.Parallel()
	s := newMailed(t)
	at := "/f/ONE/issues/reinstatement.xlsx/1"
	send := func(content []byte) reply {
		var body bytes.Buffer
		w := multipart.NewWriter(&body)
		part, err := w.CreateFormFile("/file", "back.xlsx")
		if err != nil {
			t.Fatal(err)
		}
		_, _ = part.Write(content)
		_ = w.WriteField("/party", "landlord")
		_ = w.WriteField("key", uuid.NewString())
		_ = w.Close()
		return s.postRaw(at+"/returned", w.FormDataContentType(), &body)
	}
	file := s.want(200, get, at+"/file", nil).body
	bad := send(filledIn(t, file, func(_ func(string, any), f *excelize.File) { _ = f.SetCellFormula("Schedule", "Q2", "1+1") }))
	if bad.status != 422 || !strings.Contains(string(bad.body), "Schedule!Q2: a formula stands where a figure belongs") {
		t.Errorf("a formula: %d\n%.300s", bad.status, bad.body)
	}
	if text := string(s.want(200, get, at, nil).body); strings.Contains(text, "Came back so far") {
		t.Error("a workbook that was refused is kept")
	}
	s.want(201, post, base+"/import", oneWall(t, "TWO"))
	s.want(201, post, base+"/TWO/issues", object{"document": "reinstatement.xlsx", "to": []string{"Harbour Estates"}})
	other := send(s.want(200, get, "/f/TWO/issues/reinstatement.xlsx/1/file", nil).body)
	if other.status != 422 || !strings.Contains(string(other.body), "this is a document of the fit-out TWO, not of ONE") {
		t.Errorf("another fit-out's workbook: %d\n%.300s", other.status, other.body)
	}
	draft := send(s.want(200, get, "/f/ONE/documents/reinstatement.xlsx", nil).body)
	if draft.status != 422 || !strings.Contains(string(draft.body), "this is a draft") {
		t.Errorf("a draft: %d\n%.300s", draft.status, draft.body)
	}
	good := send(filledIn(t, file, func(set func(string, any), _ *excelize.File) {
		set("P2", "make it flush")
		set("Q2", 77)
		set("L3", 1.5) // an amount of ours
	}))
	to := good.header.Get("Location")
	if good.status != 303 || !strings.HasPrefix(to, at+"/returned/") {
		t.Fatalf("a good workbook: %d to %q\n%.400s", good.status, to, good.body)
	}
	shown := string(s.want(200, get, to, nil).body)
	for _, words := range []string{"make it flush", "GBP 77.00", "Schedule!L3", "GBP 1.50", "Take this answer"} {
		if !strings.Contains(shown, words) {
			t.Errorf("before it is taken, %q is not shown", words)
		}
	}
	var now spec.Standing
	s.want(200, get, s.issue+"/answers", nil).into(t, &now)
	if now.Seen != 0 || len(now.Received) != 1 {
		t.Errorf("before it is taken %d statements and %d workbooks are there", now.Seen, len(now.Received))
	}
	path, _, _ := strings.Cut(to, "?")
	if nameless := s.submit(path, s.typed(to)); nameless.status != 422 || !strings.Contains(string(nameless.body), "type the name of who says it") {
		t.Errorf("taken without a name: %d", nameless.status)
	}
	if took := s.submit(path, s.typed(to, "/by", "J. Roe")); took.status != 303 {
		t.Fatalf("taking it: %d\n%.400s", took.status, took.body)
	}
	s.want(200, get, s.issue+"/answers", nil).into(t, &now)
	if p := now.Positions[0]; p.State != "answered" || *p.Landlord.FigureMinor != 7700 || (*p.History)[0].From != now.Received[0].Sha256 || (*p.History)[0].By != "J. Roe (entered by Jo)" {
		t.Errorf("item 1 stands at %+v", p)
	}
}
