package api

import (
	"bytes"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"github.com/google/uuid"
)

// TestInstallable: the manifest names icons that are there, and the service worker answers for every address and imports
// what is there.
func TestInstallable(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	var m struct {
		Start string `json:"start_url"`
		Icons []struct{ Src, Sizes, Purpose string }
	}
	s.want(200, get, "/manifest.webmanifest", nil).into(t, &m)
	sizes := map[string]bool{}
	for _, i := range m.Icons {
		icon := s.want(200, get, i.Src, nil)
		if !strings.HasPrefix(icon.header.Get("Content-Type"), "image/") {
			t.Errorf("%s is %s", i.Src, icon.header.Get("Content-Type"))
		}
		sizes[i.Sizes+" "+i.Purpose] = true
	}
	for _, want := range []string{"192x192 any", "512x512 any", "512x512 maskable"} {
		if !sizes[want] {
			t.Errorf("no icon of %s: %v", want, sizes)
		}
	}
	worker := s.want(200, get, "/sw.js", nil)
	named := regexp.MustCompile(`"(/assets/[^"]+)"`).FindAllSubmatch(worker.body, -1)
	if len(named) < 8 || worker.header.Get("Cache-Control") != "no-cache" {
		t.Errorf("the service worker names %d files and may be kept: %q", len(named), worker.header.Get("Cache-Control"))
	}
	for _, n := range named {
		s.want(200, get, string(n[1]), nil)
	}
	s.want(200, get, "/offline", nil)
	s.want(200, get, "/waiting", nil)
}

// TestAskedForLess: a form sent by the queue is answered with where to go, once, and a refusal with the page.
func TestAskedForLess(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	s.want(201, post, base+"/import", oneWall(t, "ONE"))
	fields := url.Values{"/place/hole_on": {"SLAB"}, "/holes/0/diameter_mm": {"wide"}, "/place/hole_along_mm": {"400"}, "/place/hole_up_mm": {"300"}}
	head := []string{"Prefer", "return=minimal", "Idempotency-Key", uuid.NewString(), "Device-Time", "2026-03-14T09:26:53Z"}
	if got := s.submit("/f/ONE/log/found", fields, head...); got.status != 422 || !bytes.Contains(got.body, []byte("<main")) {
		t.Fatalf("a word for a figure: status %d: %.500s", got.status, got.body)
	}
	fields.Set("/holes/0/diameter_mm", "10")
	first := s.submit("/f/ONE/log/found", fields, head...)
	if first.status != 204 || !strings.Contains(first.header.Get("Location"), "/log/made/") {
		t.Fatalf("status %d, Location %q: %.500s", first.status, first.header.Get("Location"), first.body)
	}
	if again := s.submit("/f/ONE/log/found", fields, head...); again.header.Get("Location") != first.header.Get("Location") {
		t.Errorf("sent again it leads to %q, want %q", again.header.Get("Location"), first.header.Get("Location"))
	}
	var log struct {
		Items []struct {
			DeviceTime string `json:"device_time"`
		}
	}
	s.want(200, get, base+"/ONE/log", nil).into(t, &log)
	if len(log.Items) != 2 || log.Items[1].DeviceTime != "2026-03-14T09:26:53Z" {
		t.Errorf("the log has %+v, want the import and one entry with the time of the device", log.Items)
	}
}
