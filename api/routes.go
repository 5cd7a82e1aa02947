package api

import (
	"log/slog"
	"net/http"
	"net/netip"
	"strings"

	"github.com/labstack/echo/v4"
	"github.com/labstack/echo/v4/middleware"

	"unpick/api/pages"
	"unpick/api/rest"
	"unpick/api/service"
	"unpick/api/spec"
)

// Config is what the handlers need. Only Jobs is required.
type Config struct {
	Jobs *service.Service
	// Actor is who changes something, by name, until there are accounts; "local" where it is empty.
	Actor string
	// Logger takes what no person is told; the default one where it is nil.
	Logger *slog.Logger
	// TrustedProxies are the proxies whose word for the client's address is taken (X-Forwarded-For); where there are none,
	// the peer's own address is used, whatever headers say.
	TrustedProxies []netip.Prefix
}

// surface is what every request meets before a handler.
type surface struct {
	jobs     *service.Service
	pages    *pages.Pages
	contract *contract
	actor    string
	proxies  []netip.Prefix
	logger   *slog.Logger
}

// Handler is every route behind what every request passes: the contract's routes, and the pages.
func Handler(jobs *service.Service) (http.Handler, error) {
	return NewHandler(Config{Jobs: jobs})
}

// NewHandler is Handler with a name for the log and a logger.
func NewHandler(config Config) (http.Handler, error) {
	e, s, err := router(config)
	if err != nil {
		return nil, err
	}
	sites := http.NewCrossOriginProtection()
	sites.SetDenyHandler(crossSite(s, e.IPExtractor))
	return sites.Handler(e), nil
}

func router(config Config) (*echo.Echo, *surface, error) {
	k, err := newContract()
	if err != nil {
		return nil, nil, err
	}
	s := &surface{jobs: config.Jobs, contract: k, actor: config.Actor, proxies: config.TrustedProxies, logger: config.Logger}
	if s.actor == "" {
		s.actor = "local"
	}
	if s.logger == nil {
		s.logger = slog.Default()
	}
	handlers, err := rest.New(config.Jobs, k.text)
	if err != nil {
		return nil, nil, err
	}
	p, err := pages.New(config.Jobs)
	if err != nil {
		return nil, nil, err
	}
	s.pages = p
	e := echo.New()
	e.HideBanner, e.HidePort = true, true
	e.Binder = binder{}
	e.IPExtractor = clientAddress(config.TrustedProxies)
	e.HTTPErrorHandler = s.problem
	e.Pre(slashless)
	e.Use(middleware.GzipWithConfig(middleware.GzipConfig{MinLength: 1024, Skipper: packed}), answered)
	e.Use(recovered, headers, s.ownPeerOnly, ownHostOnly, s.identify, readable, k.check, s.conditions, s.forms, s.unchanged)
	spec.RegisterHandlers(e, spec.NewStrictHandler(handlers, nil))
	p.Routes(e)
	return e, s, nil
}

// slashless leads from the address of a page with a slash at its end, as people type and copy it, to the page. Echo's own
// middleware for it takes the address unescaped, and the code of a fit-out may hold a slash.
func slashless(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		u := *c.Request().URL
		if path := u.EscapedPath(); strings.HasPrefix(path, "/f/") && strings.HasSuffix(path, "/") {
			to := strings.TrimRight(path, "/")
			if u.RawQuery != "" {
				to += "?" + u.RawQuery
			}
			return c.Redirect(http.StatusPermanentRedirect, to)
		}
		return next(c)
	}
}

// packed reports what is compressed already: workbooks, photos.
func packed(c echo.Context) bool {
	return strings.HasSuffix(c.Request().URL.Path, ".xlsx") || strings.Contains(c.Path(), "/photos/")
}

// answered answers an error inside of what compresses: outside of it the answer is closed already.
func answered(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		if err := next(c); err != nil {
			c.Error(err)
		}
		return nil
	}
}
