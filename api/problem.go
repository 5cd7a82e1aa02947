package api

import (
	"errors"
	"log/slog"
	"net/http"

	"github.com/labstack/echo/v4"

	"unpick/domain"
)

// statuses gives each code its one status; this is the only place where codes and statuses meet.
var statuses = map[domain.Code]int{
	domain.Invalid: http.StatusUnprocessableEntity, domain.NotFound: http.StatusNotFound, domain.Exists: http.StatusConflict,
	domain.Stale: http.StatusPreconditionFailed, domain.Refused: http.StatusForbidden, domain.Cycle: http.StatusConflict,
	domain.TooLarge: http.StatusRequestEntityTooLarge, domain.Unclean: http.StatusConflict, domain.Unmatched: http.StatusUnprocessableEntity,
}

// problem answers an error as problem details (RFC 9457). What has no code is logged and answered without text.
func problem(err error, c echo.Context) {
	if c.Response().Committed {
		return
	}
	status, body := http.StatusInternalServerError, map[string]any{"type": "about:blank"}
	if told, ok := errors.AsType[*domain.Error](err); ok {
		status = statuses[told.Code]
		body["code"], body["detail"] = told.Code, told.Text
		if told.Field != "" {
			body["field"] = told.Field
		}
	} else if http, ok := errors.AsType[*echo.HTTPError](err); ok {
		status = http.Code
	} else {
		slog.Error("request failed", "method", c.Request().Method, "path", c.Path(), "error", err)
	}
	body["status"], body["title"] = status, http.StatusText(status)
	c.Response().Header().Set(echo.HeaderContentType, "application/problem+json")
	if err := c.JSON(status, body); err != nil {
		slog.Error("answering a problem", "error", err)
	}
}
