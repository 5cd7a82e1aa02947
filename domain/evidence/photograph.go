package evidence

import (
	"strings"

	"unpick/domain"
	"unpick/domain/progress"
)

// Picture is a photo of one thing in the register.
type Picture struct {
	Of    string // its code: a piece, a fixing, a hole, an assembly or a host surface
	Shows string // in words, "" for a photo that speaks for itself
	Sum   string // the SHA-256 of the photo as it is kept
	By    string
	On    string // ISO 8601
}

// Photograph is the change that keeps a photo of something.
func Photograph(r *domain.Register, p Picture) (domain.Change, error) {
	if !known(r.Index(), p.Of) {
		return domain.Change{}, domain.Errorf(domain.NotFound, "there is no %.60q in this fit-out", p.Of)
	}
	what := strings.TrimSpace(p.Shows)
	if what == "" {
		what = "photo of " + p.Of
	}
	signed := domain.SignOff{Code: progress.NextCode(r), Kind: domain.Photographed, What: what, About: []string{p.Of}, By: p.By, On: p.On, Photos: []string{p.Sum}}
	return domain.Change{Kind: domain.Append, What: "photo of " + p.Of + " by " + p.By, Add: domain.Records{SignOffs: []domain.SignOff{signed}}}, nil
}

func known(index *domain.Index, code string) bool {
	for _, of := range []map[string]int{index.Elements, index.Fixings, index.Holes, index.Assemblies, index.Hosts} {
		if _, ok := of[code]; ok {
			return true
		}
	}
	return false
}
