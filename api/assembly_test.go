package api

import (
	"bytes"
	"net/url"
	"strings"

	"unpick/api/spec"
)

// describedAgain amends an assembly's name, then its parameters with everything that follows, and strikes it at last.
func (s *site) describedAgain() {
	f := base + "/ONE"
	at := f + "/assemblies/W2"
	tag := func() string { return s.want(200, get, at, nil).header.Get("ETag") }
	var done spec.AssemblyAmended
	answer := s.want(200, patch, at, object{"name": "Wall by the press", "licensed": "item 4"}, "If-Match", tag())
	answer.into(s.tb, &done)
	if answer.header.Get("ETag") != `"2"` || done.Assembly.Name != "Wall by the press" || records(done.Added)+records(done.Amended)+records(done.Struck) != 0 {
		s.tb.Errorf("an assembly renamed: %s", answer.body)
	}
	s.want(412, patch, at, object{"note": "x"}, "If-Match", `"1"`)
	closer := object{"params": object{"stud_centres_mm": 400, "fix_pitch_mm": 400}}
	s.want(422, patch, at, closer, "If-Match", tag()) // drilled is asked
	s.want(200, patch, at+"?dry_run=true", closer, "If-Match", tag()).into(s.tb, &done)
	if done.Entry != 0 || records(done.Added) == 0 || tag() != `"2"` {
		s.tb.Errorf("a dry run of closer studs: entry %d, %d records added, then ETag %s", done.Entry, records(done.Added), tag())
	}
	tried := records(done.Added)
	answer = s.want(200, patch, at+"?drilled=true&reason="+url.QueryEscape("the drawing said 400"), closer, "If-Match", tag())
	answer.into(s.tb, &done)
	if done.Entry == 0 || records(done.Added) < tried || answer.header.Get("ETag") != `"3"` {
		s.tb.Errorf("closer studs: entry %d, %d records added after a dry run of %d, ETag %s", done.Entry, records(done.Added), tried, answer.header.Get("ETag"))
	}
	log := s.want(200, get, f+"/log?limit=500", nil)
	if !bytes.Contains(log.body, []byte("the drawing said 400")) {
		s.tb.Error("the log lacks the reason for describing a wall again")
	}
	p := s.want(422, patch, at, object{"params": object{"lenth_mm": 1}}, "If-Match", tag()).problem(s.tb)
	if field := *(*p.Errors)[0].Field; field != "/params/lenth_mm" {
		s.tb.Errorf("a misspelt parameter: field = %q", field)
	}
	s.overwritten(at, tag)
	s.struckWhole(at, tag)
}

// overwritten shows that what was amended by hand is taken back only where the request says so.
func (s *site) overwritten(at string, tag func() string) {
	stud := base + "/ONE/elements/W2-S3"
	s.want(200, patch, stud, object{"length_mm": 2600}, "If-Match", s.want(200, get, stud, nil).header.Get("ETag"))
	back := object{"params": object{"stud_centres_mm": 600}}
	p := s.want(409, patch, at+"?drilled=false", back, "If-Match", tag()).problem(s.tb)
	if !strings.Contains(*p.Detail, "W2-S3") {
		s.tb.Errorf("the refusal does not name the piece: %s", *p.Detail)
	}
	var done spec.AssemblyAmended
	s.want(200, patch, at+"?drilled=false&overwrite=true", back, "If-Match", tag()).into(s.tb, &done)
	if done.Struck.Elements == nil || len(*done.Struck.Elements) == 0 {
		s.tb.Error("wider studs strike no element")
	}
	var e spec.Element
	s.want(200, get, stud, nil).into(s.tb, &e)
	if e.LengthMm == 2600 {
		s.tb.Error("the stud was to be overwritten, and is as it was amended by hand")
	}
}

// struckWhole strikes an assembly with everything in it, once nobody else holds on to it.
func (s *site) struckWhole(at string, tag func() string) {
	f := base + "/ONE"
	why := object{"reason": "never built", "drilled": false}
	s.want(201, post, f+"/relations", object{"relation": object{"code": "R9", "kind": "hides", "from": "W2-S1", "to": "B1"}})
	p := s.want(409, post, at+"/strike", why, "If-Match", tag()).problem(s.tb)
	if !strings.Contains(*p.Detail, "R9") {
		s.tb.Errorf("the refusal does not name the relation: %s", *p.Detail)
	}
	s.want(200, post, f+"/relations/R9/strike", object{"reason": "not so"}, "If-Match", `"1"`)
	s.want(400, post, at+"/strike", object{"reason": "never built"}, "If-Match", tag()) // drilled is asked
	s.strikes(at, why)
	var left spec.ElementPage
	s.want(200, get, f+"/elements?assembly=W2&state=in-place", nil).into(s.tb, &left)
	if len(left.Items) != 0 {
		s.tb.Errorf("%d elements in place of an assembly that is struck", len(left.Items))
	}
	var holes spec.HolePage
	s.want(200, get, f+"/holes?assembly=W2&state=in-use", nil).into(s.tb, &holes)
	if len(holes.Items) != 0 {
		s.tb.Errorf("%d sets of holes in use of an assembly that is struck", len(holes.Items))
	}
	s.want(409, patch, at, object{"note": "x"}, "If-Match", tag())
	late := loose("B9", 400)
	late["assembly"] = "W2"
	s.want(422, post, f+"/elements", object{"element": late})
}

func records(r spec.Records) int {
	n := 0
	if r.Elements != nil {
		n += len(*r.Elements)
	}
	if r.Fixings != nil {
		n += len(*r.Fixings)
	}
	if r.Holes != nil {
		n += len(*r.Holes)
	}
	if r.Relations != nil {
		n += len(*r.Relations)
	}
	return n
}
