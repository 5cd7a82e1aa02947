package api

import (
	"log/slog"
	"net/http"

	"github.com/labstack/echo/v4"

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
}

// surface is what every request meets before a handler.
type surface struct {
	jobs     *service.Service
	pages    *pages.Pages
	contract *contract
	actor    string
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
	sites.SetDenyHandler(crossSite(s.logger))
	return sites.Handler(e), nil
}

func router(config Config) (*echo.Echo, *surface, error) {
	k, err := newContract()
	if err != nil {
		return nil, nil, err
	}
	s := &surface{jobs: config.Jobs, contract: k, actor: config.Actor, logger: config.Logger}
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
	e.IPExtractor = echo.ExtractIPDirect() // the peer's own address: no proxy is trusted
	e.HTTPErrorHandler = s.problem
	e.Use(recovered, headers, ownPeerOnly, ownHostOnly, s.identify, k.check, s.conditions, s.forms)
	spec.RegisterHandlers(e, spec.NewStrictHandler(handlers, nil))
	p.Routes(e)
	return e, s, nil
}
