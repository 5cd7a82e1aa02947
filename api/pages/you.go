package pages

import (
	"net/http"
	"net/url"
	"strings"
	"unicode"

	"github.com/labstack/echo/v4"

	"unpick/api/auth"
	"unpick/domain"
)

const (
	nameCookie  = "name"
	longestName = 60
)

func youForm(name string) form {
	return form{Groups: []group{{Fields: []field{{Name: "/name", Label: "Your name", Kind: words, Required: true, Value: name, Help: "As you sign: J. Carter"}}}}}
}

// You asks for the name that the log keeps.
func (p *Pages) You(c echo.Context) error {
	f := youForm(auth.Who(c.Request().Context()).Name)
	f.fill(nil)
	return p.show(c, screen{Name: "you", Title: "Who is logging", Data: &f})
}

// KeepName keeps it on the device, for a year.
func (p *Pages) KeepName(c echo.Context) error {
	sent, err := c.FormParams()
	if err != nil {
		return err
	}
	name := strings.Join(strings.Fields(sent.Get("/name")), " ")
	if name == "" || len(name) > longestName || strings.ContainsFunc(name, unicode.IsControl) {
		err := domain.FieldErrorf(domain.Invalid, "/name", "a name of 1 to %d letters is wanted", longestName)
		f := youForm("")
		f.fill(sent)
		f.blame(err, "")
		return p.refuse(c, err, screen{Name: "you", Title: "Who is logging", Data: &f})
	}
	c.SetCookie(&http.Cookie{Name: nameCookie, Value: url.QueryEscape(name), Path: "/", MaxAge: 365 * 24 * 3600, HttpOnly: true, SameSite: http.SameSiteLaxMode})
	return done(c, "/")
}

// NameOf is the name that the device keeps, "" where it keeps none.
func NameOf(r *http.Request) string {
	kept, err := r.Cookie(nameCookie)
	if err != nil {
		return ""
	}
	name, err := url.QueryUnescape(kept.Value)
	if err != nil || len(name) > longestName || strings.ContainsFunc(name, unicode.IsControl) {
		return ""
	}
	return name
}
