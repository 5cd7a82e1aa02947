package api

import (
	"net/http"

	"github.com/labstack/echo/v4"

	"unpick/api/pages"
	"unpick/api/service"
)

// Handler is every route behind what every request passes.
func Handler(jobs *service.Service) (http.Handler, error) {
	p, err := pages.New(jobs)
	if err != nil {
		return nil, err
	}
	e := echo.New()
	e.HideBanner, e.HidePort = true, true
	e.IPExtractor = echo.ExtractIPDirect() // the peer's own address: nobody stands in front of a loopback server
	e.HTTPErrorHandler = problem
	e.Use(ownHostOnly, headers)
	e.GET("/", p.Home)
	e.GET("/f/:code", p.FitOut)
	e.GET("/f/:code/documents/:name", p.Document)
	e.GET("/assets/:name", p.Asset)
	e.GET("/healthz", func(c echo.Context) error { return c.String(http.StatusOK, "ok\n") })
	return http.NewCrossOriginProtection().Handler(e), nil
}
