package api

import (
	"bytes"
	"context"
	"fmt"
	"log/slog"
	"net/http/httptest"
	"testing"

	"github.com/labstack/echo/v4"
)

// TestWhoLeft: work that stops because the visitor left is no failure of the program, and is not logged as one; the same
// error with the visitor still there is.
func TestWhoLeft(t *testing.T) {
	t.Parallel()
	var log bytes.Buffer
	s := &surface{logger: slog.New(slog.NewTextHandler(&log, nil))}
	ctx, leave := context.WithCancel(context.Background())
	leave()
	req := httptest.NewRequest("GET", "/f/X/move", nil)
	answer := httptest.NewRecorder()
	s.problem(fmt.Errorf("planning: %w", context.Canceled), echo.New().NewContext(req.WithContext(ctx), answer))
	if log.Len() > 0 || answer.Body.Len() > 0 {
		t.Errorf("logged %q and answered %q to nobody", log.String(), answer.Body)
	}
}
