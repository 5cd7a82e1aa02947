package progress

import (
	"slices"
	"strings"

	"unpick/domain"
	"unpick/domain/strip"
)

// temporarySupport is the kind of hold that says that props or battens are in.
const temporarySupport = "temporary-support"

// Support is temporary support that stands: signed as in, and not as out again. The plan is made anew from what is left, so
// it no longer has the step that strikes what stands by an earlier signature: this list has it.
type Support struct {
	Signed domain.SignOff
	Pieces []string // that it holds
	Still  []string // of these, what is in place: the support stays until nothing is
}

// Struck is the hold that says that the support is out again.
func (s Support) Struck() strip.Hold {
	return strip.Hold{Kind: PropsStruck, Text: "the support of " + strings.Join(s.Pieces, ", ") + " is out again, and nothing moved", Who: "foreman"}
}

// Supports is the temporary support that stands, in the order in which it was signed.
func Supports(r *domain.Register) []Support {
	var out []Support
	for _, o := range r.Signed(domain.HoldMet) {
		switch o.Hold {
		case temporarySupport:
			out = append(out, Support{Signed: o, Pieces: slices.Clone(o.About)})
		case PropsStruck:
			for i := range out {
				out[i].Pieces = slices.DeleteFunc(out[i].Pieces, func(code string) bool { return slices.Contains(o.About, code) })
			}
		}
	}
	out = slices.DeleteFunc(out, func(s Support) bool { return len(s.Pieces) == 0 })
	for i := range out {
		out[i].Still = inPlace(r, out[i].Pieces)
	}
	return out
}

// supported are the pieces that stand on support.
func supported(all []Support) []string {
	var out []string
	for _, s := range all {
		out = append(out, s.Pieces...)
	}
	return out
}

// holding is the signature by which support stands under every one of these pieces, the last where there are several; nil
// while one of them is without.
func holding(all []Support, pieces []string) *domain.SignOff {
	if !covers(supported(all), pieces) {
		return nil
	}
	for i := range slices.Backward(all) {
		if firstOf(pieces, all[i].Pieces) != "" {
			return &all[i].Signed
		}
	}
	return nil
}

// inPlace is which of some pieces are in place.
func inPlace(r *domain.Register, codes []string) []string {
	var out []string
	for i := range r.Elements {
		if e := &r.Elements[i]; e.IsInPlace() && slices.Contains(codes, e.Code) {
			out = append(out, e.Code)
		}
	}
	return out
}

// isOrAre names pieces as the beginning of a sentence about them.
func isOrAre(codes []string) string {
	if len(codes) == 1 {
		return codes[0] + " is"
	}
	return strings.Join(codes, ", ") + " are"
}
