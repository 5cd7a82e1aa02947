package progress

import (
	"fmt"
	"slices"
	"strings"

	"unpick/domain"
)

// Good is a repair that somebody signs: hole sets that are filled, films or bruises of fixings that are cleaned off, a
// surface that is redecorated.
type Good struct {
	About    []string // codes of hole sets, of fixings that leave something without a hole, of host surfaces
	By, Role string
	On       string // ISO 8601
	Note     string
	Photos   []string // SHA-256
	NoPhoto  string   // why there is none
}

// MakeGood is the change that signs for a repair: the holes are made good from then on. Refused for a hole that something
// still uses, and for one that is signed for already; a name is wanted, and a photo or why there is none.
func MakeGood(r *domain.Register, g Good) (domain.Change, error) {
	var faults domain.Errors
	if strings.TrimSpace(g.By) == "" {
		faults.Addf(domain.Invalid, "/by", "a repair is signed by name: type the name of who signs")
	}
	if len(g.About) == 0 {
		faults.Addf(domain.Invalid, "/about", "which repair is signed for is not said: load the page again")
	}
	index := r.Index()
	signed := domain.AboutOf(r.Signed(domain.MadeGood))
	seen := map[string]bool{}
	open := map[string]int{}
	for i := range r.Holes {
		if h := &r.Holes[i]; h.Charged() && !slices.Contains(g.About, h.Code) {
			open[h.Host] += r.Hosts[index.Hosts[h.Host]].Owed(h)
		}
	}
	var put domain.Records
	holes := 0
	for i, code := range g.About {
		place := fmt.Sprintf("/about/%d", i)
		h, isHole := index.Holes[code]
		_, isHost := index.Hosts[code]
		f, isFixing := index.Fixings[code]
		switch {
		case seen[code]:
			faults.Addf(domain.Invalid, place, "%s is given twice: once is enough", code)
		case isHost && open[code] > 0:
			faults.Addf(domain.Refused, place, "%s still has %d holes to make good: fill them before it is redecorated", code, open[code])
		case isHost:
		case signed[code]:
			faults.Addf(domain.Refused, place, "%s is signed for already: withdraw that first if it was not good", code)
		case isHole && r.Holes[h].State == domain.HoleInUse:
			faults.Addf(domain.Refused, place, "%s is still in use by %s: take that out first", code, r.Holes[h].Fixing)
		case isHole && r.Holes[h].State == domain.HoleInherited: // a favour: it stays what it was, and is not owed
		case isHole && !r.Holes[h].Charged():
			faults.Addf(domain.Refused, place, "%s is %s: there is nothing to make good", code, r.Holes[h].State)
		case isHole:
			hole := r.Holes[h]
			hole.State = domain.HoleMadeGood
			put.Holes = append(put.Holes, hole)
			holes += hole.Count
		case isFixing && r.Fixings[f].InPlace():
			faults.Addf(domain.Refused, place, "%s is still in place: take it out first", code)
		case !isFixing:
			faults.Addf(domain.NotFound, place, "there is no hole set, fixing or surface %.60s", code)
		}
		seen[code] = true
	}
	if g.NoPhoto = strings.TrimSpace(g.NoPhoto); len(g.Photos) > 0 {
		g.NoPhoto = "" // there is one after all
	} else if g.NoPhoto == "" {
		faults.Addf(domain.Invalid, "/no_photo", "a repair is shown on a photo: add one, or say why there is none")
	}
	if len(faults) > 0 {
		return domain.Change{}, faults
	}
	what := "made good: " + strings.Join(g.About, ", ")
	if holes > 0 {
		what += fmt.Sprintf(" (%d %s)", holes, domain.UnitWords(float64(holes), "hole"))
	}
	done := domain.SignOff{Code: NextCode(r), Kind: domain.MadeGood, What: what, About: slices.Clone(g.About), By: g.By, Role: g.Role, On: g.On, Note: g.Note, Photos: g.Photos, NoPhoto: g.NoPhoto}
	kind := domain.Append
	if len(put.Holes) > 0 {
		kind = domain.Amend
	}
	return domain.Change{Kind: kind, What: what + ", signed by " + g.By, Put: put, Add: domain.Records{SignOffs: []domain.SignOff{done}}}, nil
}

// spoilt are the holes of a repair whose signature is taken back: empty again, and owed again.
func spoilt(r *domain.Register, o domain.SignOff) domain.Records {
	var put domain.Records
	index := r.Index()
	for _, code := range o.About {
		i, ok := index.Holes[code]
		if !ok || r.Holes[i].State != domain.HoleMadeGood {
			continue
		}
		h := r.Holes[i]
		h.State = domain.HoleEmpty
		put.Holes = append(put.Holes, h)
	}
	return put
}
