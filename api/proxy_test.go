package api

import (
	"net/http"
	"net/http/httptest"
	"net/netip"
	"testing"

	"github.com/labstack/echo/v4"
)

// TestClientAddress: headers of a stranger change nothing; a trusted proxy's own word counts, and nothing that stands
// further left in it.
func TestClientAddress(t *testing.T) {
	t.Parallel()
	near, far := []string{"127.0.0.0/8", "::1/128"}, []string{"192.0.2.0/24", "127.0.0.1/32"}
	for _, tt := range []struct {
		name    string
		proxies []string
		peer    string
		forward []string
		want    string // "" is refused
	}{
		{"nobody in front", nil, "127.0.0.1:5000", nil, "127.0.0.1"},
		{"forged, no proxy trusted", nil, "127.0.0.1:5000", []string{"203.0.113.9"}, "127.0.0.1"},
		{"a stranger", nil, "203.0.113.9:5000", nil, ""},
		{"a stranger who says he is this machine", nil, "203.0.113.9:5000", []string{"127.0.0.1"}, ""},
		{"in a private network, no proxy trusted", nil, "10.0.0.5:5000", []string{"127.0.0.1"}, ""},
		{"through a trusted proxy", near, "127.0.0.1:5000", []string{"203.0.113.9"}, "203.0.113.9"},
		{"the same over IPv6", near, "[::1]:5000", []string{"2001:db8::7"}, "2001:db8::7"},
		{"forged in front of what the proxy adds", near, "127.0.0.1:5000", []string{"127.0.0.1, 10.0.0.1, 203.0.113.9"}, "203.0.113.9"},
		{"forged in a header of its own", near, "127.0.0.1:5000", []string{"198.51.100.1", "203.0.113.9"}, "203.0.113.9"},
		{"a private address is nobody's word", near, "127.0.0.1:5000", []string{"203.0.113.9, 10.0.0.1"}, "10.0.0.1"},
		{"two trusted proxies", far, "127.0.0.1:5000", []string{"203.0.113.9, 192.0.2.7"}, "203.0.113.9"},
		{"a proxy elsewhere", far, "192.0.2.7:5000", []string{"203.0.113.9"}, "203.0.113.9"},
		{"a stranger beside the proxies", far, "198.51.100.1:5000", []string{"127.0.0.1"}, ""},
		{"a proxy that says nothing", far, "192.0.2.7:5000", nil, "192.0.2.7"},
	} {
		var proxies []netip.Prefix
		for _, p := range tt.proxies {
			proxies = append(proxies, netip.MustParsePrefix(p))
		}
		e, _, err := router(Config{TrustedProxies: proxies})
		if err != nil {
			t.Fatal(err)
		}
		e.GET("/test/address", func(c echo.Context) error { return c.String(http.StatusOK, c.RealIP()) })
		r := httptest.NewRequest(get, "/test/address", nil)
		r.Host, r.RemoteAddr = "localhost", tt.peer
		r.Header["X-Forwarded-For"] = tt.forward
		r.Header.Set("X-Real-Ip", "198.51.100.77")
		r.Header.Set("Forwarded", "for=198.51.100.77")
		w := httptest.NewRecorder()
		e.ServeHTTP(w, r)
		switch {
		case tt.want == "" && w.Code != http.StatusForbidden:
			t.Errorf("%s: status = %d, want 403", tt.name, w.Code)
		case tt.want != "" && (w.Code != http.StatusOK || w.Body.String() != tt.want):
			t.Errorf("%s: %d, client %q, want %q", tt.name, w.Code, w.Body, tt.want)
		}
	}
}
