package pages

import (
	"fmt"
	"slices"
	"strings"

	"github.com/labstack/echo/v4"

	"unpick/domain"
	"unpick/domain/evidence"
)

// registerPage is one list of everything that is known about a fit-out.
type registerPage struct {
	FitOut domain.FitOut
	Lists  []registerList
	List   registerList
	Table  table
	Signed []domain.SignOff
}

// registerList is one of the lists.
type registerList struct {
	Path, Title string
	Count       int
	table       func(c echo.Context, l look) table
}

// mostLogged is how many entries of the log are listed, the newest.
const mostLogged = 1000

func registerLists(r *domain.Register) []registerList {
	return []registerList{
		{"assemblies", "Assemblies", len(r.Assemblies), assemblyTable},
		{"pieces", "Pieces", len(r.Elements), pieceTable},
		{"fixings", "Fixings", len(r.Fixings), fixingTable},
		{"holes", "Holes", len(r.Holes), holeTable},
		{"hosts", "The landlord's surfaces", len(r.Hosts) + len(r.StruckHosts), hostTable},
		{"log", "The log", 0, nil},
	}
}

// Register shows one list of the register, the assemblies first.
func (p *Pages) Register(c echo.Context) error {
	f, err := p.fitOut(c)
	if err != nil {
		return err
	}
	r, err := p.jobs.Register(c.Request().Context(), f.Code)
	if err != nil {
		return err
	}
	page := registerPage{FitOut: f, Lists: registerLists(r)}
	which := 0
	if name := c.Param("list"); name != "" {
		if which = slices.IndexFunc(page.Lists, func(l registerList) bool { return l.Path == name }); which < 0 {
			return domain.Errorf(domain.NotFound, "there is no such list: the register has assemblies, pieces, fixings, holes, surfaces and the log")
		}
	}
	page.List = page.Lists[which]
	if page.List.Path == "log" {
		page.Table, err = p.logTable(c, f.Code)
	} else {
		page.Table = page.List.table(c, look{r: r, index: r.Index(), fitOut: f})
	}
	if err != nil {
		return err
	}
	if page.Signed = evidence.Photographs(r); len(page.Signed) > mostEntries {
		page.Signed = page.Signed[:mostEntries]
	}
	return p.show(c, screen{Name: "register", Title: page.List.Title + ", " + f.Name, FitOut: &f, Here: "register", Data: page})
}

func assemblyTable(c echo.Context, l look) table {
	pieces, fixings := map[string]int{}, map[string]int{}
	for i := range l.r.Elements {
		if l.r.Elements[i].State != domain.Struck {
			pieces[l.r.Elements[i].Assembly]++
		}
	}
	for i := range l.r.Fixings {
		if l.r.Fixings[i].State != domain.FixingStruck {
			fixings[l.r.Fixings[i].Assembly] += l.r.Fixings[i].Count
		}
	}
	rows := make([][]cell, len(l.r.Assemblies))
	for i, a := range l.r.Assemblies {
		licensed := plain(a.Licensed)
		if a.Licensed == "" {
			licensed = cell{Text: "not licensed", Flag: !a.Struck}
		}
		rows[i] = []cell{linked(a.Code, at(l.fitOut.Code, "assemblies", a.Code)), plain(a.Name), plain(recipeWords(a.Recipe)), plain(l.zone(a.Zone)), licensed,
			count(pieces[a.Code]), count(fixings[a.Code]), plain(struckOr(a.Struck, "in place"))}
	}
	return newTable(c, "assemblies", "Assemblies", []column{
		{Key: "code", Title: "Code"}, {Key: "name", Title: "Name"}, {Key: "kind", Title: "Kind", Rest: true}, {Key: "zone", Title: "Room", Rest: true},
		{Key: "licence", Title: "Licence", Rest: true}, {Key: "pieces", Title: "Pieces", Figure: true, Sum: sumCount}, {Key: "fixings", Title: "Fixings", Figure: true, Rest: true, Sum: sumCount}, {Key: "state", Title: "State"},
	}, rows)
}

func pieceTable(c echo.Context, l look) table {
	rows := make([][]cell, len(l.r.Elements))
	for i := range l.r.Elements {
		e := &l.r.Elements[i]
		rows[i] = []cell{linked(e.Code, at(l.fitOut.Code, "pieces", e.Code)), plain(kindWords(string(e.Kind))), plain(l.material(e.Material)), plain(sizeOf(e)),
			plain(e.Assembly), plain(l.zone(e.Zone)), plain(knownWords(e.Known)), plain(stateWords(string(e.State)))}
	}
	return newTable(c, "pieces", "Pieces", []column{
		{Key: "code", Title: "Code"}, {Key: "kind", Title: "What"}, {Key: "material", Title: "Material", Rest: true}, {Key: "size", Title: "Size mm"},
		{Key: "assembly", Title: "Part of", Rest: true}, {Key: "zone", Title: "Room", Rest: true}, {Key: "known", Title: "Known", Rest: true}, {Key: "state", Title: "State"},
	}, rows)
}

func fixingTable(c echo.Context, l look) table {
	rows := make([][]cell, len(l.r.Fixings))
	for i := range l.r.Fixings {
		f := &l.r.Fixings[i]
		into := f.IntoElement
		if into == "" {
			into = l.host(f.IntoHost)
		}
		rows[i] = []cell{linked(f.Code, at(l.fitOut.Code, "fixings", f.Code)), count(f.Count), plain(l.fixingType(f.Type)), plain(f.Holds), plain(into),
			plain(knownWords(f.Known)), plain(stateWords(string(f.State)))}
	}
	return newTable(c, "fixings", "Fixings", []column{
		{Key: "code", Title: "Code"}, {Key: "count", Title: "How many", Figure: true, Sum: sumCount}, {Key: "type", Title: "Type"}, {Key: "holds", Title: "Holds"},
		{Key: "into", Title: "To", Rest: true}, {Key: "known", Title: "Known", Rest: true}, {Key: "state", Title: "State", Rest: true},
	}, rows)
}

func holeTable(c echo.Context, l look) table {
	rows := make([][]cell, len(l.r.Holes))
	for i, h := range l.r.Holes {
		rows[i] = []cell{linked(h.Code, at(l.fitOut.Code, "holes", h.Code)), count(h.Count), plain(l.host(h.Host)), plain(holeSize(h)), plain(stateWords(string(h.State))),
			plain(h.Fixing), plain(h.Residue)}
	}
	return newTable(c, "holes", "Holes", []column{
		{Key: "code", Title: "Code"}, {Key: "count", Title: "How many", Figure: true, Sum: sumCount}, {Key: "surface", Title: "In"}, {Key: "size", Title: "Size"},
		{Key: "state", Title: "State"}, {Key: "fixing", Title: "Made for", Rest: true}, {Key: "left", Title: "Stays in it", Rest: true},
	}, rows)
}

func hostTable(c echo.Context, l look) table {
	made := map[string]int{}
	for i := range l.r.Holes {
		if k, ok := l.index.Hosts[l.r.Holes[i].Host]; ok { // what is in a struck surface counts nowhere
			made[l.r.Holes[i].Host] += l.r.Hosts[k].New(&l.r.Holes[i])
		}
	}
	every := slices.Concat(l.r.Hosts, l.r.StruckHosts)
	rows := make([][]cell, len(every))
	for i, h := range every {
		holes := count(made[h.Code])
		holes.Flag = made[h.Code] > h.AgreedHoles
		rows[i] = []cell{linked(h.Code, at(l.fitOut.Code, "hosts", h.Code)), plain(h.Name), plain(l.hostKind(h.Kind)), plain(struckOr(h.Struck, ruleWords(h.Rule))), count(h.AgreedHoles), holes, count(len(h.Conditions))}
	}
	return newTable(c, "hosts", "The landlord's surfaces", []column{
		{Key: "code", Title: "Code"}, {Key: "name", Title: "Name"}, {Key: "kind", Title: "Kind", Rest: true}, {Key: "rule", Title: "May be fixed to", Rest: true},
		{Key: "agreed", Title: "Holes agreed", Figure: true, Sum: sumCount}, {Key: "made", Title: "Holes made", Figure: true, Sum: sumCount}, {Key: "condition", Title: "Condition records", Figure: true, Rest: true},
	}, rows)
}

func (p *Pages) logTable(c echo.Context, code string) (table, error) {
	entries, err := p.jobs.LastLogged(c.Request().Context(), code, mostLogged)
	rows := make([][]cell, len(entries))
	for i, e := range entries {
		number := count(int(e.Number))
		if e.Number > 1 {
			number.Link = at(code, "log", "made", fmt.Sprint(e.Number))
		}
		rows[i] = []cell{number, plain(moment(e.ServerTime)), plain(e.Who), plain(map[domain.ChangeKind]string{domain.Append: "added", domain.Amend: "amended", domain.Strike: "struck"}[e.Kind]), plain(e.What)}
	}
	return newTable(c, "log", "The log, the newest first", []column{
		{Key: "no", Title: "No.", Figure: true}, {Key: "when", Title: "When"}, {Key: "who", Title: "Who"}, {Key: "kind", Title: "Kind", Rest: true}, {Key: "what", Title: "What"},
	}, rows), err
}

func struckOr(struck bool, otherwise string) string {
	if struck {
		return "struck out"
	}
	return otherwise
}

func sizeOf(e *domain.Element) string {
	return fmt.Sprintf("%d × %d × %d", e.LengthMm, e.WidthMm, e.ThicknessMm)
}

func holeSize(h domain.Hole) string {
	if h.Through {
		return fmt.Sprintf("Ø %g, right through", h.DiameterMm)
	}
	return fmt.Sprintf("Ø %g, %d deep", h.DiameterMm, h.DepthMm)
}

// kindWords writes "sole-plate" as "sole plate".
func kindWords(kind string) string { return strings.ReplaceAll(kind, "-", " ") }

func recipeWords(recipe string) string {
	if recipe == "" {
		return "loose pieces"
	}
	return kindWords(recipe)
}

func stateWords(state string) string {
	switch state {
	case "":
		return "in place"
	case "struck":
		return "struck out"
	}
	return kindWords(state)
}

func knownWords(k domain.Known) string {
	switch k {
	case domain.Measured:
		return "measured"
	case domain.Assumed:
		return "assumed"
	case domain.Unknown:
		return "not known until opened"
	}
	return "seen"
}

func ruleWords(rule domain.FixingRule) string {
	switch rule {
	case domain.Allowed:
		return "yes"
	case domain.Never:
		return "never"
	}
	return "ask first"
}
