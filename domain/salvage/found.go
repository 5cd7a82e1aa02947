package salvage

import (
	"fmt"
	"slices"

	"unpick/domain"
)

// Found is what a piece turned out to be fit for once it was in somebody's hands. It counts over what was expected.
type Found struct {
	Condition Condition `json:"condition"`
	UsableMm  int       `json:"usable_mm" jsonschema_description:"length that is good; 0 where it is material only"`
	Note      string    `json:"note,omitempty"`
	By        string    `json:"by"`
	On        string    `json:"on"`
	SignOff   string    `json:"sign_off" jsonschema_description:"code of the sign-off that says so"`
}

// IsOut reports whether a piece of the tenant's is out and at hand: taken down or stored. What was used again is another
// fit-out's, and what was disposed of is gone.
func IsOut(e *domain.Element) bool {
	return (e.State == domain.TakenDown || e.State == domain.Stored) && e.Owner != domain.LandlordOwns
}

// Condition is what a piece is fit for: as found, else as expected.
func (p *Piece) Condition() Condition {
	if p.Found != nil {
		return p.Found.Condition
	}
	return p.Expected
}

// Kept reports whether a piece goes to re-use, sale or back to its owner.
func (p *Piece) Kept() bool { return p.Goes == Reuse || p.Goes == Sell || p.Goes == Return }

// Discarded reports whether a piece leaves as material or waste.
func (p *Piece) Discarded() bool { return p.Goes == Recycling || p.Goes == Waste }

// share is how much of a piece's length is good.
func (p *Piece) share() float64 { return float64(p.UsableMm) / float64(max(p.LengthMm, 1)) }

// signed are the newest sign-offs that say what pieces were found as, and what their waste was assessed as, by piece.
type signed struct{ found, assessed map[string]*domain.SignOff }

func signedIn(r *domain.Register) signed {
	newest := func(kind domain.SignOffKind) map[string]*domain.SignOff {
		out := map[string]*domain.SignOff{}
		all := r.Signed(kind)
		for i := range all {
			for _, code := range all[i].About {
				out[code] = &all[i]
			}
		}
		return out
	}
	return signed{newest(domain.PieceFound), newest(domain.WasteAssessed)}
}

// find puts what was found over what was expected. A length found longer than the piece is the whole piece.
func (p *Piece) find(o *domain.SignOff) {
	f := Found{Condition: o.Found, Note: o.Note, By: o.By, On: o.On, SignOff: o.Code, UsableMm: p.LengthMm}
	switch {
	case o.Found == Recycle || o.Found == Spent:
		f.UsableMm = 0
	case o.UsableMm > 0:
		f.UsableMm = min(o.UsableMm, p.LengthMm)
	}
	p.Found, p.UsableMm, p.Provisional = &f, f.UsableMm, false
}

// assess settles the List of Waste entry of a piece that had two.
func (p *Piece) assess(c *domain.Catalogue, o *domain.SignOff) {
	w, ok := c.WasteCodes[o.WasteCode]
	if !ok || !p.ConditionalWaste || !slices.Contains(p.WasteChoice, w.Code) {
		return // about another material than it is made of now
	}
	p.ConditionalWaste, p.WasteCode = false, w.Code
	p.WasteCaution = fmt.Sprintf("assessed by %s on %s", o.By, o.On)
	if o.Note != "" {
		p.WasteCaution += ": " + o.Note
	}
	if w.Caution != "" && w.IsHazardous() {
		p.WasteCaution += "; " + w.Caution
	}
}
