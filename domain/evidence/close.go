package evidence

import (
	"fmt"
	"slices"
	"strings"

	"unpick/domain"
	"unpick/domain/progress"
)

// Closing is what somebody signs before boards close something up.
type Closing struct {
	Boards   []string
	Shown    []string     // codes of what was listed when they signed
	Known    domain.Known // seen or measured
	By, Role string
	On       string // ISO 8601
	Note     string
	Photos   []string // SHA-256 of each, one at least
}

// Close is the change that signs for what boards close up: everything listed is known as it was seen or measured from
// then on, and the sign-off keeps the photo. It is refused as stale when what they close up is not what was listed.
func Close(r *domain.Register, c Closing) (domain.Change, error) {
	things := Behind(r, c.Boards)
	if err := c.check(r, things); err != nil {
		return domain.Change{}, err
	}
	var put domain.Records
	fixings, services := 0, 0
	about := slices.Clone(c.Boards)
	for _, t := range things {
		about = append(about, t.Code)
		if t.Fixing != nil {
			fixings += t.Hidden
			if f := *t.Fixing; better(f.Known, c.Known) {
				f.Known = c.Known
				put.Fixings = append(put.Fixings, f)
			}
			continue
		}
		services++
		if e := *t.Service; better(e.Known, c.Known) {
			e.Known = c.Known
			put.Elements = append(put.Elements, e)
		}
	}
	what := fmt.Sprintf("%s before %s closed up: %s", c.Known, shortened(c.Boards), counted(fixings, services))
	signed := domain.SignOff{Code: progress.NextCode(r), Kind: domain.ClosedUp, What: what, About: about, By: c.By, Role: c.Role, On: c.On, Photos: c.Photos, Note: c.Note}
	kind := domain.Append
	if len(put.Fixings)+len(put.Elements) > 0 {
		kind = domain.Amend
	}
	return domain.Change{Kind: kind, What: what + ", signed by " + c.By, Put: put, Add: domain.Records{SignOffs: []domain.SignOff{signed}}}, nil
}

func (c Closing) check(r *domain.Register, things []Thing) error {
	var faults domain.Errors
	index := r.Index()
	for _, code := range c.Boards {
		if i, ok := index.Elements[code]; !ok || !r.Elements[i].IsInPlace() {
			faults.Addf(domain.NotFound, "/boards", "%.60q is no piece in place here: load the page again", code)
		}
	}
	if len(c.Boards) == 0 {
		faults.Addf(domain.Invalid, "/boards", "which boards go on is not said")
	}
	if c.Known != domain.Seen && c.Known != domain.Measured {
		faults.Addf(domain.Invalid, "/known", "say whether it was seen or measured")
	}
	if strings.TrimSpace(c.By) == "" {
		faults.Addf(domain.Invalid, "/by", "it is signed by name: type the name of who looked")
	}
	if len(c.Photos) == 0 {
		faults.Addf(domain.Invalid, "/photo", "a photo is wanted: take it before the board goes on")
	}
	if len(faults) > 0 {
		return faults
	}
	if len(things) == 0 {
		return domain.Errorf(domain.Refused, "nothing that is in the register goes out of sight behind %s: log what is there first", shortened(c.Boards))
	}
	now := make([]string, len(things))
	for i, t := range things {
		now[i] = t.Code
	}
	if !slices.Equal(now, c.Shown) {
		return domain.Errorf(domain.Stale, "what goes out of sight has changed since the page was read: look at the list again, and sign what is there now")
	}
	return nil
}

// better reports whether a record is known less well than it now is.
func better(was, now domain.Known) bool {
	return was.Provisional() || now == domain.Measured && was != domain.Measured
}

func counted(fixings, services int) string {
	says := fmt.Sprintf("%d fixings", fixings)
	if fixings == 1 {
		says = "1 fixing"
	}
	switch {
	case services == 1:
		says += ", 1 service"
	case services > 1:
		says += fmt.Sprintf(", %d services", services)
	}
	return says
}

func shortened(codes []string) string {
	const most = 4
	if len(codes) > most {
		return fmt.Sprintf("%s and %d more", strings.Join(codes[:most], ", "), len(codes)-most)
	}
	return strings.Join(codes, ", ")
}
