package api

import (
	"fmt"
	"net"
	"runtime/debug"
	"strings"

	"github.com/labstack/echo/v4"

	"unpick/api/auth"
	"unpick/api/pages"
	"unpick/domain"
)

// policy lets a page load our own files and talk to us; nothing inline, nothing from elsewhere. A photo that was just taken
// is shown from a blob.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob:; connect-src 'self'; manifest-src 'self'; worker-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"

// headers puts on every answer what keeps a page from loading or running anything that is not ours.
func headers(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		h := c.Response().Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		if strings.HasPrefix(c.Path(), "/api/") {
			h.Set("Cache-Control", "no-store") // a register is nobody else's business, a proxy's least
		}
		return next(c)
	}
}

// ownHostOnly refuses requests that name another host: a page elsewhere that points its name at this machine. What a
// proxy says in a forwarded header is not looked at.
func ownHostOnly(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		host := c.Request().Host
		if h, _, err := net.SplitHostPort(host); err == nil {
			host = h
		}
		host = strings.TrimSuffix(strings.TrimPrefix(host, "["), "]")
		if ip := net.ParseIP(host); host != "localhost" && (ip == nil || !ip.IsLoopback()) {
			return domain.Errorf(elsewhere, "this program answers to 127.0.0.1 and localhost only, not to %q", host)
		}
		return next(c)
	}
}

// identify says who is asking: the program's own name for its user, and the time on the device where it was sent.
func (s *surface) identify(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		r := c.Request()
		who := domain.Actor{Name: s.actor, DeviceTime: r.Header.Get("Device-Time")}
		if name := pages.NameOf(r); name != "" {
			who.Name = name
		}
		c.SetRequest(r.WithContext(auth.With(r.Context(), who)))
		return next(c)
	}
}

// recovered turns a panic into an error for the log, so that one broken request does not take the others along.
func recovered(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) (err error) {
		defer func() {
			if p := recover(); p != nil {
				err = fmt.Errorf("panic: %v\n%s", p, debug.Stack())
			}
		}()
		return next(c)
	}
}
