package api

import (
	"net"

	"github.com/labstack/echo/v4"

	"unpick/domain"
)

// headers puts on every answer what keeps a page from loading or running anything that is not ours.
func headers(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		h := c.Response().Header()
		h.Set("Content-Security-Policy", "default-src 'none'; style-src 'self'; img-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'")
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		return next(c)
	}
}

// ownHostOnly refuses requests that name another host: a page elsewhere that points its name at this machine.
func ownHostOnly(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		host := c.Request().Host
		if h, _, err := net.SplitHostPort(host); err == nil {
			host = h
		}
		if ip := net.ParseIP(host); host != "localhost" && (ip == nil || !ip.IsLoopback()) {
			return domain.Errorf(domain.Refused, "this program answers to 127.0.0.1 and localhost only, not to %q", host)
		}
		return next(c)
	}
}
