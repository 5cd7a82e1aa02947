package api

import (
	"bytes"
	"html"
	"image/jpeg"
	"io"
	"maps"
	"mime/multipart"
	"net/http"
	"net/textproto"
	"net/url"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"unpick/api/spec"
	"unpick/domain/photo/phototest"
)

// sentFile is a file in a form.
type sentFile struct {
	name, mediaType string
	content         []byte
}

// upload sends a form with a photo as a browser without script does.
func (s *site) upload(address string, fields url.Values, file *sentFile) reply {
	s.tb.Helper()
	var body bytes.Buffer
	w := multipart.NewWriter(&body)
	for _, name := range slices.Sorted(maps.Keys(fields)) { // in one order, as a browser sends them
		for _, v := range fields[name] {
			if err := w.WriteField(name, v); err != nil {
				s.tb.Fatal(err)
			}
		}
	}
	if file != nil {
		field := "/photo"
		if file.mediaType == xlsx {
			field = "/book"
		}
		part, err := w.CreatePart(textproto.MIMEHeader{"Content-Disposition": {`form-data; name="` + field + `"; filename="` + file.name + `"`}, "Content-Type": {file.mediaType}})
		if err != nil {
			s.tb.Fatal(err)
		}
		if _, err := part.Write(file.content); err != nil {
			s.tb.Fatal(err)
		}
	}
	w.Close()
	return s.postRaw(address, w.FormDataContentType(), &body)
}

func (s *site) postRaw(address, contentType string, body io.Reader) reply {
	s.tb.Helper()
	r, err := http.NewRequestWithContext(s.tb.Context(), http.MethodPost, s.url+address, body)
	if err != nil {
		s.tb.Fatal(err)
	}
	r.Header.Set("Content-Type", contentType)
	r.Header.Set("Accept", "text/html")
	answer, err := http.DefaultTransport.RoundTrip(r)
	if err != nil {
		s.tb.Fatal(err)
	}
	defer answer.Body.Close()
	out, err := io.ReadAll(answer.Body)
	if err != nil {
		s.tb.Fatal(err)
	}
	return reply{answer.StatusCode, answer.Header, out}
}

// ok fails unless a page or form was answered as wanted.
func (s *site) ok(want int, what string, r reply) string {
	s.tb.Helper()
	if r.status != want {
		s.tb.Fatalf("%s: status = %d, want %d\n%s", what, r.status, want, wordsOf(r))
	}
	return html.UnescapeString(string(r.body))
}

// wordsOf is a page without its markup, cut short.
func wordsOf(r reply) string {
	text := regexp.MustCompile(`(?s)<[^>]*>|\s+`).ReplaceAllString(string(r.body), " ")
	return text[:min(len(text), 1500)]
}

var photoAddress = regexp.MustCompile(`/f/[^"/]+/photos/[0-9a-f]{64}(-small)?\.jpg`)

func phone(s phototest.Says) *sentFile {
	return &sentFile{"IMG_0001.JPG", "image/jpeg", phototest.JPEG(800, 600, s)}
}

// TestRegister: every list shows its records and leads to them, and every record has a page that says what it is.
func TestRegister(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	at := s.demo()
	link := regexp.MustCompile(`<td[^>]*><a href="([^"]+)"`)
	for _, list := range []string{"assemblies", "pieces", "fixings", "holes", "hosts", "log"} {
		page := s.want(200, get, at+"/register/"+list, nil)
		rows := rowsOf(page)
		if len(rows) == 0 || len(rows) > 300 {
			t.Errorf("%s: %d rows", list, len(rows))
		}
		for i, to := range link.FindAllStringSubmatch(string(page.body), -1) {
			if i < 3 {
				s.ok(200, list+" leads to "+to[1], s.send(get, html.UnescapeString(to[1]), nil))
			}
		}
		if found := rowsOf(s.want(200, get, at+"/register/"+list+"?"+list+"-find=%3Cscript%3E", nil)); len(found) != 1 || !strings.Contains(found[0][0], "Nothing") {
			t.Errorf("%s: looking for nothing that is there finds %v", list, found)
		}
	}
	s.want(200, get, at+"/register", nil)
	s.want(404, get, at+"/register/nothing", nil)
	stud := s.ok(200, "a stud", s.send(get, at+"/pieces/W1-S1", nil))
	for _, says := range []string{"What holds it", "What hides it", "W1-SP", "Part of", "mm"} {
		if !strings.Contains(stud, says) {
			t.Errorf("the page of a stud does not say %q", says)
		}
	}
	for _, nobody := range []string{"/pieces/NOBODY", "/pieces/W1", "/fixings/W1-S1", "/holes/%3Cscript%3E", "/hosts/..%2f..", "/assemblies/" + strings.Repeat("x", 3000)} {
		if r := s.send(get, at+nobody, nil); r.status != 404 || strings.Contains(string(r.body), "<script>alert") {
			t.Errorf("%.40s: status = %d, want 404", nobody, r.status)
		}
	}
}

// TestRecordsOfHardCodes: codes with a stroke and a dot have pages and forms like any other.
func TestRecordsOfHardCodes(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	s.want(201, post, base+"/import", strings.ReplaceAll(string(oneWall(t, "UNIT/4")), `"W1"`, `"W/1.a"`))
	at := "/f/UNIT%2F4"
	wall := s.ok(200, "the wall", s.send(get, at+"/assemblies/W%2F1.a", nil))
	if !strings.Contains(wall, "W/1.a-S1") {
		t.Error("the wall's page does not list its studs")
	}
	stud := at + "/pieces/W%2F1.a-S1"
	s.ok(200, "its stud", s.send(get, stud, nil))
	answer := s.submit(stud+"/amend", url.Values{"/version": {"1"}, "/length_mm": {"2644"}, "/width_mm": {"89"}, "/thickness_mm": {"38"}, "/note": {"planed"}})
	s.ok(303, "amending it", answer)
	if to := answer.header.Get("Location"); to != stud {
		t.Errorf("then to %q, want %q", to, stud)
	}
	if !strings.Contains(s.ok(200, "its stud", s.send(get, stud, nil)), "planed") {
		t.Error("the note is not on the page")
	}
}

// TestAmendAsBuilt: a stud that was put up 50 mm further along takes its fixings with it; what somebody changed meanwhile is
// said beside what was typed, and nothing typed is lost.
func TestAmendAsBuilt(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	at := s.demo()
	api := base + "/WREN-PRESS"
	stud := at + "/pieces/W1-S3"
	element := func() (e spec.Element) {
		s.want(200, get, api+"/elements/W1-S3", nil).into(t, &e)
		return e
	}
	before := element()
	typed := url.Values{"/version": {"1"}, "/known": {"measured"}, "/length_mm": {strconv.Itoa(before.LengthMm)}, "/width_mm": {"89"}, "/thickness_mm": {"38"},
		"/note": {"clear of the socket"}, "/moved/x_mm": {"0"}, "/moved/y_mm": {"5"}, "/how/with_fixings": {"yes"}}
	s.ok(303, "moving a stud", s.submit(stud+"/amend", typed))
	after := element()
	if after.Placement.Origin.Y != before.Placement.Origin.Y+5 || after.Note == nil || *after.Note != "clear of the socket" || after.Version == nil || *after.Version != 2 {
		t.Errorf("the stud is now %+v", after)
	}
	stale := typed
	stale.Set("/note", `mine, "quoted" & <b>bold</b>`)
	page := s.submit(stud+"/amend", stale)
	text := s.ok(412, "amending what somebody changed", page)
	for _, says := range []string{"Somebody changed W1-S3", "It says now: clear of the socket", `mine, "quoted" & <b>bold</b>`} {
		if !strings.Contains(text, says) {
			t.Errorf("the page does not say %q", says)
		}
	}
	if strings.Contains(string(page.body), "<b>bold") {
		t.Error("what was typed comes back as markup")
	}
	if !strings.Contains(string(page.body), `name="/version" value="2"`) {
		t.Error("the form that comes back is not for the version of now")
	}
	stale.Set("/version", "2")
	stale.Del("/moved/y_mm")
	s.ok(303, "saving it all the same", s.submit(stud+"/amend", stale))
	for field, bad := range map[string]string{"/length_mm": "twelve", "/moved/y_mm": "1.5", "/moved/x_mm": "99999999999", "/width_mm": "-1"} {
		again := url.Values{"/version": {"3"}, "/known": {""}, "/length_mm": {"2000"}, "/width_mm": {"89"}, "/thickness_mm": {"38"}, "/note": {"kept " + field}}
		again.Set(field, bad)
		text := s.ok(422, field+" = "+bad, s.submit(stud+"/amend", again))
		if !strings.Contains(text, "kept "+field) || !strings.Contains(text, `value="`+bad+`"`) || !strings.Contains(text, `class="fault"`) {
			t.Errorf("%s = %s: what was typed is lost, or no fault stands beside it", field, bad)
		}
	}
}

// TestAmendFixing: another count of screws takes its holes along.
func TestAmendFixing(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	s.want(201, post, base+"/import", oneWall(t, "U"))
	var holes spec.HolePage
	s.want(200, get, base+"/U/holes", nil).into(t, &holes)
	hole := holes.Items[0]
	code := *hole.Fixing
	var f spec.Fixing
	s.want(200, get, base+"/U/fixings/"+code, nil).into(t, &f)
	typed := url.Values{"/version": {"1"}, "/type": {f.Type}, "/count": {strconv.Itoa(f.Count + 1)}, "/known": {"seen"}, "/note": {"one more"}}
	s.ok(303, "one more screw", s.submit("/f/U/fixings/"+code+"/amend", typed))
	var now spec.Hole
	s.want(200, get, base+"/U/holes/"+hole.Code, nil).into(t, &now)
	if now.Count != hole.Count+1 {
		t.Errorf("%d holes, want %d", now.Count, hole.Count+1)
	}
	typed.Set("/version", "2")
	typed.Set("/type", "no-such-screw")
	if text := s.ok(422, "a type that nobody sells", s.submit("/f/U/fixings/"+code+"/amend", typed)); !strings.Contains(text, `class="fault"`) {
		t.Error("no fault stands beside the type")
	}
}

// TestStrike: striking a fixing asks why and whether it was drilled; what was drilled stays a hole.
func TestStrike(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	s.want(201, post, base+"/import", oneWall(t, "U"))
	var holes spec.HolePage
	s.want(200, get, base+"/U/holes", nil).into(t, &holes)
	code := *holes.Items[0].Fixing
	page := "/f/U/fixings/" + code
	text := s.ok(422, "without an answer", s.submit(page+"/strike", url.Values{"/version": {"1"}, "/reason": {"hit steel"}, "/drilled": {""}}))
	if !strings.Contains(text, "say whether it was drilled") || !strings.Contains(text, "hit steel") {
		t.Error("the page does not ask whether it was drilled, or lost the reason")
	}
	if text := s.ok(422, "without a reason", s.submit(page+"/strike", url.Values{"/version": {"1"}, "/drilled": {"yes"}})); !strings.Contains(text, "say why") {
		t.Error("the page does not ask why")
	}
	s.ok(412, "at an old version", s.submit(page+"/strike", url.Values{"/version": {"7"}, "/reason": {"hit steel"}, "/drilled": {"yes"}}))
	s.ok(303, "with both", s.submit(page+"/strike", url.Values{"/version": {"1"}, "/reason": {"hit steel"}, "/drilled": {"yes"}}))
	var now spec.Hole
	s.want(200, get, base+"/U/holes/"+holes.Items[0].Code, nil).into(t, &now)
	if now.State != "abandoned" {
		t.Errorf("its hole is %s, want abandoned", now.State)
	}
	if text := s.ok(200, "a struck fixing", s.send(get, page, nil)); !strings.Contains(text, "Struck out") || !strings.Contains(text, "hit steel") || strings.Contains(text, "Save as built") {
		t.Error("a struck fixing does not say so, or is offered to be amended")
	}
	s.ok(409, "amending what is struck", s.submit(page+"/amend", url.Values{"/version": {"2"}}))
	if text := s.ok(422, "a piece that fixings name", s.submit("/f/U/pieces/W1-S1/strike", url.Values{"/version": {"1"}, "/reason": {"left out"}})); !strings.Contains(text, "strike those out first") {
		t.Error("the page does not say what holds the piece")
	}
	s.ok(422, "a wall with holes", s.submit("/f/U/assemblies/W1/strike", url.Values{"/version": {"1"}, "/reason": {"never built"}}))
	s.ok(303, "the wall", s.submit("/f/U/assemblies/W1/strike", url.Values{"/version": {"1"}, "/reason": {"never built"}, "/drilled": {"no"}}))
}

// TestAmendAssembly: a wall described again asks what its form has to ask, and says what is wrong beside its field.
func TestAmendAssembly(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	s.want(201, post, base+"/import", oneWall(t, "U"))
	page := s.ok(200, "the wall", s.send(get, "/f/U/assemblies/W1", nil))
	size := regexp.MustCompile(`name="(/params/[a-z_]*_mm)"[^>]* value="(\d+)"`).FindAllStringSubmatch(page, -1)
	if len(size) == 0 {
		t.Fatal("the wall's form has no sizes")
	}
	typed := url.Values{"/version": {"1"}, "/name": {"Store wall"}, "/licensed": {"item 3"}, "/note": {""}}
	for _, m := range size {
		typed.Set(m[1], m[2])
	}
	s.ok(303, "another name", s.submit("/f/U/assemblies/W1/amend", typed))
	if text := s.ok(200, "the wall", s.send(get, "/f/U/assemblies/W1", nil)); !strings.Contains(text, "Store wall") || !strings.Contains(text, "item 3") {
		t.Error("the wall's new name or licence is not on its page")
	}
	typed.Set("/version", "2")
	typed.Set(size[0][1], "0")
	if text := s.ok(422, "no size", s.submit("/f/U/assemblies/W1/amend", typed)); !strings.Contains(text, "Store wall") {
		t.Error("what was typed is lost")
	}
}

// TestPhotos: a photo is kept upright, without its place, and served under the hash of what it holds.
func TestPhotos(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	s.want(201, post, base+"/import", oneWall(t, "U"))
	s.want(201, post, base+"/import", oneWall(t, "OTHER"))
	stud := "/f/U/pieces/W1-S1"
	fields := url.Values{"/version": {"1"}, "/shows": {"split at the foot"}, "key": {keyOf(t, s.want(200, get, stud, nil).body)}}
	lying := phone(phototest.Says{Orientation: 6, Located: true, Maker: "SECRET-MAKER", Taken: "2026:03:14 09:26:53"})
	for range 2 { // a browser sends the same again with another boundary
		s.ok(303, "a photo", s.upload(stud+"/photo", fields, lying))
	}
	page := string(s.want(200, get, stud, nil).body)
	if n := strings.Count(page, "<img"); n != 1 {
		t.Fatalf("%d photos after the same was sent twice, want 1", n)
	}
	if !strings.Contains(page, "split at the foot") || strings.Contains(page, "taken at 51") {
		t.Error("the page does not say what the photo shows, or says where it was taken")
	}
	addresses := photoAddress.FindAllString(page, -1)
	slices.Sort(addresses)
	addresses = slices.Compact(addresses)
	if len(addresses) != 2 {
		t.Fatalf("addresses %v, want a small one and a whole one", addresses)
	}
	for _, address := range addresses {
		file := s.want(200, get, address, nil)
		p, err := jpeg.Decode(bytes.NewReader(file.body))
		if err != nil {
			t.Fatal(err)
		}
		if b := p.Bounds(); b.Dx() >= b.Dy() {
			t.Errorf("%s is %v: it was taken upright", address, b)
		}
		if bytes.Contains(file.body, []byte("Exif")) || bytes.Contains(file.body, []byte("SECRET")) {
			t.Errorf("%s still holds what the camera wrote", address)
		}
		if h := file.header; h.Get("Content-Type") != "image/jpeg" || !strings.Contains(h.Get("Cache-Control"), "immutable") || h.Get("X-Content-Type-Options") != "nosniff" {
			t.Errorf("%s is served with %v", address, h)
		}
		s.want(404, get, strings.Replace(address, "/f/U/", "/f/OTHER/", 1), nil)
	}
	s.want(404, get, "/f/U/photos/"+strings.Repeat("0", 64)+".jpg", nil)
	s.want(404, get, "/f/U/photos/..%2f..%2fetc%2fpasswd", nil)
	fields.Set("key", "")
	fields.Set("/place", "yes")
	s.ok(303, "a photo with its place", s.upload("/f/U/hosts/SLAB/photo", fields, &sentFile{"b.jpg", "image/jpeg", phototest.JPEG(640, 480, phototest.Says{Located: true})}))
	if text := s.ok(200, "the slab", s.send(get, "/f/U/hosts/SLAB", nil)); !strings.Contains(text, "taken at 51.50000, -0.12500") {
		t.Error("the place is not kept though it was asked for")
	}
	// The photo that was sent without its place is sent once more, and this time the place is to be kept.
	s.ok(303, "the same photo with its place", s.upload(stud+"/photo", fields, lying))
	if text := s.ok(200, "the stud", s.send(get, stud, nil)); !strings.Contains(text, "taken at 51.50000, -0.12500") {
		t.Error("the place of a photo that was there already is not kept though it was asked for the second time")
	}
	// Nobody takes it away again by sending the photo without.
	fields.Del("/place")
	s.ok(303, "the same photo without its place", s.upload(stud+"/photo", fields, lying))
	if text := s.ok(200, "the stud", s.send(get, stud, nil)); !strings.Contains(text, "taken at 51.50000, -0.12500") {
		t.Error("a place that was kept is gone")
	}
}

// TestPhotosRefused: what is no photo is refused by name, beside its field, and nothing typed is lost.
func TestPhotosRefused(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	s.want(201, post, base+"/import", oneWall(t, "U"))
	for _, tt := range []struct {
		name   string
		file   *sentFile
		status int
		says   string
	}{
		{"none", nil, 422, "there is no photo"},
		{"a lie", &sentFile{"a.png", "image/png", phototest.JPEG(20, 20, phototest.Says{})}, 422, "says that it is PNG and is JPEG"},
		{"a page", &sentFile{"a.jpg", "image/jpeg", []byte("<html><script>alert(1)</script>")}, 422, "no photo"},
		{"a hostile name", &sentFile{"<script>alert(1)</script>.exe", "image/jpeg", []byte("MZ")}, 422, "no photo"},
		{"13 MB", &sentFile{"a.jpg", "image/jpeg", append(phototest.JPEG(20, 20, phototest.Says{}), make([]byte, 13<<20)...)}, 422, "the most that is taken is 12 MB"},
	} {
		r := s.upload("/f/U/pieces/W1-S1/photo", url.Values{"/version": {"1"}, "/shows": {"kept words"}}, tt.file)
		text := s.ok(tt.status, tt.name, r)
		if !strings.Contains(text, tt.says) || !strings.Contains(text, "kept words") {
			t.Errorf("%s: the page does not say %q, or lost what was typed", tt.name, tt.says)
		}
		if strings.Contains(string(r.body), "<script>alert") {
			t.Errorf("%s: what was sent comes back as markup", tt.name)
		}
	}
	if strings.Contains(string(s.want(200, get, "/f/U/pieces/W1-S1", nil).body), "<img") {
		t.Error("something that was refused is shown")
	}
	huge := io.MultiReader(strings.NewReader("--b\r\nContent-Disposition: form-data; name=\"/photo\"; filename=\"a.jpg\"\r\n\r\n"), io.LimitReader(zeros{}, 200<<20), strings.NewReader("\r\n--b--\r\n"))
	if r := s.tryRaw("/f/U/pieces/W1-S1/photo", "multipart/form-data; boundary=b", huge); r != 0 && r != 413 {
		t.Errorf("200 MB: status = %d, want 413", r)
	}
}

// zeros never ends.
type zeros struct{}

func (zeros) Read(p []byte) (int, error) {
	clear(p)
	return len(p), nil
}

// tryRaw sends more than is taken: 0 where the server hung up before it was all sent.
func (s *site) tryRaw(address, contentType string, body io.Reader) int {
	s.tb.Helper()
	r, err := http.NewRequestWithContext(s.tb.Context(), http.MethodPost, s.url+address, body)
	if err != nil {
		s.tb.Fatal(err)
	}
	r.Header.Set("Content-Type", contentType)
	answer, err := http.DefaultTransport.RoundTrip(r)
	if err != nil {
		return 0
	}
	defer answer.Body.Close()
	return answer.StatusCode
}

// TestClosingUp: what a wall's boards close up is listed, and signed for with one photo and a name.
func TestClosingUp(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	at := s.demo()
	s.want(200, get, at+"/closing-up", nil)
	address := at + "/closing-up?assembly=W1&face=a"
	page := s.ok(200, "the list", s.send(get, address, nil))
	shown := regexp.MustCompile(`name="/shown" value="([^"]+)"`).FindStringSubmatch(page)
	if shown == nil || !strings.Contains(page, "Goes out of sight") || !strings.Contains(page, `accept="image/*" capture="environment"`) {
		t.Fatalf("the page lists nothing, or takes no photo:\n%s", wordsOf(reply{body: []byte(page)}))
	}
	first := strings.Fields(shown[1])[0]
	signed := url.Values{"/shown": {shown[1]}, "/known": {"measured"}, "/by": {"J. Carter"}, "/role": {"carpenter"}, "/note": {"pipe lagged"}}
	without := s.ok(422, "without a photo", s.upload(address, signed, nil))
	if !strings.Contains(without, "a photo is wanted") || !strings.Contains(without, "pipe lagged") {
		t.Error("the page does not ask for the photo, or lost what was typed")
	}
	nobody := url.Values{"/shown": {shown[1]}, "/known": {"seen"}, "/by": {" "}, "/note": {"pipe lagged"}}
	if text := s.ok(422, "without a name", s.upload(address, nobody, phone(phototest.Says{}))); !strings.Contains(text, "by name") || !strings.Contains(text, "pipe lagged") {
		t.Error("the page does not ask for the name, or lost what was typed")
	}
	other := url.Values{"/shown": {first}, "/known": {"seen"}, "/by": {"J. Carter"}}
	if text := s.ok(412, "of another list", s.upload(address, other, phone(phototest.Says{}))); !strings.Contains(text, "has changed since") {
		t.Error("the page does not say that the list is another")
	}
	s.ok(303, "signed", s.upload(address, signed, phone(phototest.Says{})))
	if text := s.ok(200, "the page of what was signed", s.send(get, address, nil)); !strings.Contains(text, "Signed by J. Carter, carpenter") {
		t.Error("the page does not say that it was signed")
	}
	record := s.ok(200, "a fixing behind it", s.send(get, at+"/fixings/"+first, nil))
	for _, says := range []string{"measured before", "J. Carter", "<img", "pipe lagged"} {
		if !strings.Contains(record, says) {
			t.Errorf("the page of %s does not say %q", first, says)
		}
	}
	var f spec.Fixing
	s.want(200, get, base+"/WREN-PRESS/fixings/"+first, nil).into(t, &f)
	if f.Known == nil || *f.Known != "measured" {
		t.Errorf("%s is known as %v, want measured", first, f.Known)
	}
	if text := s.ok(200, "the register", s.send(get, at+"/register", nil)); !strings.Contains(text, "J. Carter") {
		t.Error("the register does not list the signature")
	}
	s.want(404, get, at+"/closing-up?assembly=%3Cscript%3E&face=z", nil)
	s.want(404, get, at+"/closing-up?board=NOBODY", nil)
}
