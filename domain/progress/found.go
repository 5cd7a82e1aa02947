package progress

import (
	"fmt"
	"slices"
	"strings"

	"unpick/domain"
)

// Graded is what somebody says of pieces in hand: what they are fit for, and how much of their length is good.
type Graded struct {
	Elements []string
	As       domain.PieceCondition
	UsableMm int // 0 is all of it
	Note     string
	By, Role string
	On       string // ISO 8601
}

// Grade is the change that records what pieces were found fit for, at the take-down or any time after. Nothing of the
// expectation is lost: a later record counts over an earlier one, and the log keeps all. A piece that is still in place is
// refused, since nobody has it in hand.
func Grade(r *domain.Register, g Graded) (domain.Change, error) {
	faults := named(g.By, "what a piece was found as")
	if !slices.Contains(domain.PieceConditions(), g.As) {
		faults.Addf(domain.Invalid, "/condition", "%.60q is no condition: say whole, cut, downgraded, recycle or waste", g.As)
	}
	shortest := 100_000
	codes := piecesNamed(r, g.Elements, &faults, func(e *domain.Element) string {
		shortest = min(shortest, e.LengthMm)
		if e.IsInPlace() {
			return "is still in place: tick it off the strip-out first"
		}
		return ""
	})
	switch material := g.As == domain.Recycle || g.As == domain.Spent; {
	case g.As == domain.Cut && (g.UsableMm <= 0 || g.UsableMm >= shortest):
		faults.Addf(domain.Invalid, "/usable_mm", "a piece found cut has a good length over 0 and under its own, %d at the shortest: measure it", shortest)
	case material && g.UsableMm != 0:
		faults.Addf(domain.Invalid, "/usable_mm", "what is found as %s has no usable length: leave it empty", g.As)
	case g.UsableMm < 0 || g.UsableMm > shortest:
		faults.Addf(domain.Invalid, "/usable_mm", "the good length is 0 to %d, the length of the shortest piece", shortest)
	}
	if len(faults) > 0 {
		return domain.Change{}, faults
	}
	what := fmt.Sprintf("%s found %s", counted(codes), g.As)
	if g.UsableMm > 0 {
		what += fmt.Sprintf(", %d mm good", g.UsableMm)
	}
	signed := domain.SignOff{Code: NextCode(r), Kind: domain.PieceFound, What: what, About: codes, By: g.By, Role: g.Role, On: g.On, Note: g.Note, Found: g.As, UsableMm: g.UsableMm}
	return domain.Change{Kind: domain.Append, What: what + of(codes), Add: domain.Records{SignOffs: []domain.SignOff{signed}}}, nil
}

// Assessed is which entry of the List of Waste somebody settled on for pieces that may fall under two.
type Assessed struct {
	Elements []string
	Code     string
	Note     string // on what it rests: an invoice, a test report
	By, Role string
	On       string // ISO 8601
}

// Assess is the change that settles a mirror entry. It names its evidence, and the code is one of those that the pieces'
// material may have.
func Assess(r *domain.Register, a Assessed) (domain.Change, error) {
	faults := named(a.By, "an assessment of waste")
	if strings.TrimSpace(a.Note) == "" {
		faults.Addf(domain.Invalid, "/note", "an assessment rests on something: name the invoice, the test report or whoever was asked")
	}
	codes := piecesNamed(r, a.Elements, &faults, func(e *domain.Element) string {
		w := r.Catalogue.WasteCodes[r.Catalogue.Materials[e.Material].WasteCode]
		if choice := append([]string{w.Code}, w.Mirrors()...); !slices.Contains(choice, a.Code) {
			return fmt.Sprintf("is waste of %s, and %.20q is none of them", strings.Join(choice, " or "), a.Code)
		}
		return ""
	})
	if len(faults) > 0 {
		return domain.Change{}, faults
	}
	what := fmt.Sprintf("waste of %s assessed as %s", counted(codes), a.Code)
	signed := domain.SignOff{Code: NextCode(r), Kind: domain.WasteAssessed, What: what, About: codes, By: a.By, Role: a.Role, On: a.On, Note: a.Note, WasteCode: a.Code}
	return domain.Change{Kind: domain.Append, What: what + of(codes), Add: domain.Records{SignOffs: []domain.SignOff{signed}}}, nil
}

// named is the fault of a signature without a name.
func named(by, what string) domain.Errors {
	var faults domain.Errors
	if strings.TrimSpace(by) == "" {
		faults.Addf(domain.Invalid, "/by", "%s is signed by name: type the name of who says so", what)
	}
	return faults
}

// piecesNamed are the codes, each once, of pieces of the tenant's that nothing speaks against.
func piecesNamed(r *domain.Register, codes []string, faults *domain.Errors, against func(*domain.Element) string) []string {
	index := r.Index()
	var out []string
	for _, code := range codes {
		i, ok := index.Elements[code]
		switch {
		case !ok:
			faults.Addf(domain.Invalid, "/elements", "there is no piece %.60s here", code)
		case r.Elements[i].Owner == domain.LandlordOwns || r.Elements[i].State == domain.Struck:
			faults.Addf(domain.Refused, "/elements", "%s is not a piece of the tenant's", code)
		default:
			if why := against(&r.Elements[i]); why != "" {
				faults.Addf(domain.Refused, "/elements", "%s %s", code, why)
			} else if !slices.Contains(out, code) {
				out = append(out, code)
			}
		}
	}
	if len(codes) == 0 {
		faults.Addf(domain.Invalid, "/elements", "no piece is named: tick those that are meant")
	}
	return out
}

func counted(codes []string) string {
	if len(codes) == 1 {
		return codes[0]
	}
	return fmt.Sprintf("%d pieces", len(codes))
}
