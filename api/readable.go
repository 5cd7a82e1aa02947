package api

import (
	"net/url"
	"strings"
	"unicode/utf8"

	"github.com/labstack/echo/v4"

	"unpick/domain"
)

// readable refuses an address that holds what is no text: broken UTF-8, or a NUL. No record has such a name, and no database
// takes one. Forms are held to the same where they are read.
func readable(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		address := c.Request().URL
		if !isText(address.Path) || !areText(address.Query()) {
			return domain.Errorf(badRequest, "this address holds characters that are no text: type it again, or follow a link")
		}
		return next(c)
	}
}

func isText(s string) bool { return utf8.ValidString(s) && strings.IndexByte(s, 0) < 0 }

func areText(values url.Values) bool {
	for name, list := range values {
		for _, value := range append(list, name) {
			if !isText(value) {
				return false
			}
		}
	}
	return true
}
