package walkround

import (
	"fmt"
	"strconv"
	"strings"

	"unpick/domain"
	"unpick/domain/progress"
)

// Answer is what one party says of one hole.
type Answer struct {
	Host   string
	Number int
	Party  domain.Party
	Agrees bool
	Note   string // what is disputed; wanted where it is
	By     string
	On     string // ISO 8601
	Photos []string
}

// Say is the change that keeps an answer. One that the same party gave before is withdrawn in the same change, and stays.
func Say(r *domain.Register, a Answer) (domain.Change, error) {
	var faults domain.Errors
	if a.Party != domain.TenantSide && a.Party != domain.LandlordSide {
		faults.Addf(domain.Invalid, "/party", "say who answers: %s or %s", domain.TenantSide, domain.LandlordSide)
	}
	if strings.TrimSpace(a.By) == "" {
		faults.Addf(domain.Invalid, "/by", "say the name of who answers")
	}
	if !a.Agrees && strings.TrimSpace(a.Note) == "" {
		faults.Addf(domain.Invalid, "/note", "say what is disputed: not ours, was there before, larger than the register has it")
	}
	if len(faults) > 0 {
		return domain.Change{}, faults
	}
	h, err := find(r, a.Host, a.Number)
	if err != nil {
		return domain.Change{}, err
	}
	o := domain.SignOff{Code: progress.NextCode(r), Kind: domain.HoleAgreed, About: []string{h.Set}, Number: a.Number, By: a.By, Role: string(a.Party), On: a.On, Photos: a.Photos, Note: strings.TrimSpace(a.Note)}
	verb := "agrees"
	if !a.Agrees {
		o.Kind, verb = domain.HoleDisputed, "disputes"
	}
	o.What = fmt.Sprintf("%s %s hole %d of %s: %s", a.Party, verb, a.Number, a.Host, Words(h))
	c := domain.Change{Kind: domain.Append, What: fmt.Sprintf("walk-round: %s, by %s", o.What, a.By)}
	if before := h.By(a.Party); before != nil {
		gone := domain.SignOff{Code: o.Code, Kind: before.Kind, What: "answered again: " + before.What, About: before.About, Number: a.Number, Withdraws: before.Code, By: a.By, Role: string(a.Party), On: a.On}
		o.Code = after(o.Code)
		c.Add.SignOffs = append(c.Add.SignOffs, gone)
	}
	c.Add.SignOffs = append(c.Add.SignOffs, o)
	return c, nil
}

// Withdraw is the change that takes a party's answer back, so that the hole is open for it again.
func Withdraw(r *domain.Register, a Answer) (domain.Change, error) {
	h, err := find(r, a.Host, a.Number)
	if err != nil {
		return domain.Change{}, err
	}
	before := h.By(a.Party)
	if before == nil {
		return domain.Change{}, domain.Errorf(domain.Refused, "%s has no answer about hole %d of %s to take back", a.Party, a.Number, a.Host)
	}
	if strings.TrimSpace(a.By) == "" {
		return domain.Change{}, domain.FieldErrorf(domain.Invalid, "/by", "say the name of who takes it back")
	}
	gone := domain.SignOff{Code: progress.NextCode(r), Kind: before.Kind, What: "taken back: " + before.What, About: before.About, Number: a.Number,
		Withdraws: before.Code, By: a.By, Role: string(a.Party), On: a.On, Note: strings.TrimSpace(a.Note)}
	return domain.Change{Kind: domain.Append, What: "walk-round: " + gone.What + ", by " + a.By, Add: domain.Records{SignOffs: []domain.SignOff{gone}}}, nil
}

func find(r *domain.Register, host string, number int) (Hole, error) {
	for _, s := range Of(r) {
		if s.Host == host {
			h, _, _, err := s.Find(number, domain.TenantSide)
			return h, err
		}
	}
	return Hole{}, domain.Errorf(domain.NotFound, "there is no surface %.60q with holes in it", host)
}

// after is the code that follows S-7: S-8.
func after(code string) string {
	n, _ := strconv.Atoi(strings.TrimPrefix(code, "S-")) // NextCode made it
	return "S-" + strconv.Itoa(n+1)
}

// Words is what the register has of a hole: "Ø 8 mm, 50 deep, in use".
func Words(h Hole) string {
	deep := strconv.Itoa(h.Of.DepthMm) + " deep"
	if h.Of.Through {
		deep = "right through"
	}
	out := fmt.Sprintf("Ø %g mm, %s, %s", h.Of.DiameterMm, deep, IsWords(h.Of.State))
	if h.Of.Face == domain.BackFace {
		out += ", far face"
	}
	if h.Defect > 0 {
		out += ", in defect " + strconv.Itoa(h.Defect) + " of the start"
	}
	return out
}

// IsWords says what a hole is now.
func IsWords(s domain.HoleState) string {
	switch s {
	case domain.HoleInUse:
		return "in use"
	case domain.HoleEmpty:
		return "its fixing is out"
	case domain.HoleAbandoned:
		return "drilled and not used"
	case domain.HoleInherited:
		return "there before the tenant"
	case domain.HoleMadeGood:
		return "made good"
	}
	return string(s)
}
