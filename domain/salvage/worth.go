package salvage

import (
	"fmt"

	"unpick/domain"
	"unpick/domain/catalogue"
)

// Share is what the firm takes a downgraded piece to be worth of the price of the same piece new. There is no default:
// without the firm's figure a downgraded piece has no value.
type Share struct {
	Percent int  `json:"percent"`
	Known   bool `json:"known"`
}

// ShareOf reads the share from the firm's price list, key share:downgraded in percent.
func ShareOf(prices map[string]domain.Price) Share {
	p, ok := prices[domain.ShareDowngraded]
	return Share{Percent: int(p.Amount), Known: ok}
}

// ofNew is the share of a price, to the nearest minor unit, halves up.
func (s Share) ofNew(minor int64) int64 { return (minor*int64(s.Percent) + 50) / 100 }

// holed downgrades a length with more screw holes a metre than its kind takes: it is looked at before it carries.
func (s *spoil) holed(e *domain.Element, m domain.Material) {
	k, ok := catalogue.KeepingOf(m)
	if !ok || k.ScrewsPerM == 0 || s.lost || smallPart(e.Kind) {
		return
	}
	if float64(s.holes)*1000 > k.ScrewsPerM*float64(e.LengthMm) {
		s.pierced(fmt.Sprintf("%d screw holes, more than %g a metre: looked at before it carries again", s.holes, k.ScrewsPerM))
	}
}

// notAgain loses what is never used again.
func (s *spoil) notAgain(m domain.Material) {
	if k, ok := catalogue.KeepingOf(m); ok && k.Again == catalogue.Never && !s.lost {
		s.lose(k.Reason)
	}
}

// small loses a piece whose usable part is under the least worth keeping of its kind. Both ways of lying are tried:
// a sheet's length is how it was laid, not its longer side.
func (s *spoil) small(e *domain.Element, m domain.Material, usableMm int) {
	k, ok := catalogue.KeepingOf(m)
	if !ok || s.lost || smallPart(e.Kind) {
		return
	}
	if k.LeastWidthMm == 0 {
		if usableMm < k.LeastLengthMm {
			s.lose(fmt.Sprintf("%d long: under the %d worth keeping of %s", usableMm, k.LeastLengthMm, m.Kind))
		}
		return
	}
	long, short := max(usableMm, e.WidthMm), min(usableMm, e.WidthMm)
	if long < k.LeastLengthMm || short < k.LeastWidthMm {
		s.lose(fmt.Sprintf("%d x %d: under the %d x %d worth keeping of %s", long, short, k.LeastLengthMm, k.LeastWidthMm, m.Kind))
	}
}

// smallPart reports whether pieces of a kind are small as they are made and bagged with their like.
func smallPart(k domain.ElementKind) bool {
	return k == domain.Packer || k == domain.Bracket || k == domain.Hanger
}
