package pages

import (
	"encoding/json"
	"slices"

	"github.com/labstack/echo/v4"

	"unpick/api/service"
	"unpick/domain"
)

// logHome is what can be logged, and what was logged last.
type logHome struct {
	FitOut   domain.FitOut
	Recipes  []entry
	Others   []entry
	NoHosts  bool // nothing of the landlord's is in the register yet: that comes first
	Last     *domain.LogEntry
	LastMade string
	Again    bool // what was logged last can be logged once more
}

// LogHome offers everything that can be logged, in big entries.
func (p *Pages) LogHome(c echo.Context) error {
	ctx := c.Request().Context()
	f, err := p.fitOut(c)
	if err != nil {
		return err
	}
	r, err := p.jobs.Register(ctx, f.Code)
	if err != nil {
		return err
	}
	home := logHome{FitOut: f, NoHosts: len(r.Hosts) == 0}
	for _, e := range entries() {
		if e.Recipe {
			home.Recipes = append(home.Recipes, e)
		} else {
			home.Others = append(home.Others, e)
		}
	}
	last, _, err := p.lastLogged(c, f.Code)
	if err != nil {
		return err
	}
	if last != nil {
		home.Last, home.Again = &last.Entry, true
	}
	return p.show(c, screen{Name: "log", Title: "Log, " + f.Name, FitOut: &f, Here: "log", Data: home})
}

// looksBack is how many entries of the log are searched for one that can be logged again.
const looksBack = 20

// lastLogged is the newest entry of the log that can be logged again, with the address that does so; nil where there is none.
func (p *Pages) lastLogged(c echo.Context, code string) (*service.LoggedEntry, string, error) {
	entries, err := p.jobs.LastLogged(c.Request().Context(), code, looksBack)
	if err != nil {
		return nil, "", err
	}
	for _, entry := range entries {
		if entry.Kind != domain.Append || entry.Number == 1 {
			continue
		}
		var change domain.Change
		if err := json.Unmarshal(entry.Change, &change); err != nil {
			return nil, "", err
		}
		if address := againAddress(code, change.Add); address != "" {
			return &service.LoggedEntry{Entry: entry, Change: change}, address, nil
		}
	}
	return nil, "", nil
}

// againAddress is where the same is logged again, "" where it cannot be.
func againAddress(code string, added domain.Records) string {
	like := func(of string) string { return "?like=" + escapeQuery(of) }
	switch {
	case len(added.Assemblies) == 1 && entryBy(added.Assemblies[0].Recipe) != nil:
		return at(code, "log", "assembly", added.Assemblies[0].Recipe) + like(added.Assemblies[0].Code)
	case len(added.Assemblies) > 0:
		return ""
	case len(added.Fixings) == 1 && entryBy("run") != nil:
		return at(code, "log", "run") + like(added.Fixings[0].Code)
	case len(added.Elements) == 1 && entryBy("piece") != nil:
		return at(code, "log", "piece") + like(added.Elements[0].Code)
	case len(added.Holes) == 1 && len(added.Elements) == 0:
		return at(code, "log", "found") + like(added.Holes[0].Code)
	}
	return ""
}

// LogAgain goes to the form of what was logged last, filled in, with its place moved on.
func (p *Pages) LogAgain(c echo.Context) error {
	f, err := p.fitOut(c)
	if err != nil {
		return err
	}
	_, address, err := p.lastLogged(c, f.Code)
	if err != nil {
		return err
	}
	if address == "" {
		return domain.Errorf(domain.NotFound, "nothing was logged yet that could be logged again")
	}
	return done(c, address)
}

// entryBy is a way to log by its name; nil where there is none.
func entryBy(name string) *entry {
	all := entries()
	at := slices.IndexFunc(all, func(e entry) bool { return e.Name == name })
	if at < 0 {
		return nil
	}
	return &all[at]
}

// address is where an entry's form is.
func (e entry) address(code string) string {
	if e.Recipe {
		return at(code, "log", "assembly", e.Name)
	}
	return at(code, "log", e.Name)
}

// In is the address of the entry's form in a fit-out, for templates.
func (e entry) In(f domain.FitOut) string { return e.address(f.Code) }
