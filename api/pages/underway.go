package pages

import (
	"time"

	"github.com/labstack/echo/v4"

	"unpick/api/service"
	"unpick/domain"
	"unpick/domain/plan"
)

// patience is how long a page waits for a plan before it says how far planning is.
const patience = 1500 * time.Millisecond

// underway answers for a page whose plan takes longer: how far it is, asked for again every two seconds. The page may be
// left and come back to; planning goes on. It reports whether it has answered.
func (p *Pages) underway(c echo.Context, f domain.FitOut, here string) (bool, error) {
	u, err := p.jobs.Await(c.Request().Context(), f.Code, patience)
	if u == nil || err != nil {
		return false, err
	}
	c.Response().Header().Set("Refresh", "2")
	c.Response().Header().Set("Cache-Control", "no-store")
	return true, p.show(c, screen{Name: "underway", Title: "Planning, " + f.Name, FitOut: &f, Here: here, Data: underwayPage{f, *u}})
}

type underwayPage struct {
	FitOut domain.FitOut
	Of     service.Underway
}

// Seconds is how long it has been under way.
func (u underwayPage) Seconds() int { return int(u.Of.Since.Seconds()) }

// Share is how much of the stage is done, in hundredths; 0 where it does not count.
func (u underwayPage) Share() int { return u.Of.Stage.Done * 100 / max(u.Of.Stage.Of, 1) }

// stageLine is one stage of planning on the page.
type stageLine struct {
	Name      string
	Past, Now bool
}

// Stages are all the stages, in order.
func (u underwayPage) Stages() []stageLine {
	var out []stageLine
	for n := 1; n <= plan.Stages; n++ {
		out = append(out, stageLine{plan.Stage{Number: n}.Name(), n < u.Of.Stage.Number, n == u.Of.Stage.Number})
	}
	return out
}
