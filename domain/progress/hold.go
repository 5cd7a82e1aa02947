package progress

import (
	"fmt"
	"slices"
	"strings"

	"unpick/domain"
	"unpick/domain/strip"
)

// The holds that are met once for the whole strip-out, whichever step shows them.
var once = []string{"written-plan", "asbestos", "asbestos-surface", "waste-carrier", "impairment", "fire-plan", "hot-work"}

// ofPieces are the holds that are met for the pieces that they are signed for, and for no others.
var ofPieces = []string{ServicesDead, temporarySupport, PropsStruck, EdgeGuarded, "exclusion-zone", "keep-off"}

// evidenced are the holds that somebody signs with a paper at hand.
var evidenced = []string{ServicesDead, "asbestos", "asbestos-surface", "waste-carrier"}

// byStanding are the holds that somebody signs for what he is, and not for who he works for: a false one can kill.
var byStanding = []string{ServicesDead, temporarySupport}

// ByStanding reports whether only who is what the hold names may sign it: then nobody is offered the words to sign with.
func ByStanding(h strip.Hold) bool {
	return slices.Contains(byStanding, h.Kind) && h.Who != "foreman" && h.Who != "contractor"
}

// of names what a hold is about, the first few.
func of(about []string) string {
	const most = 6
	switch {
	case len(about) == 0:
		return ""
	case len(about) > most:
		return fmt.Sprintf(" (%s and %d more)", strings.Join(about[:most], ", "), len(about)-most)
	}
	return " (" + strings.Join(about, ", ") + ")"
}

// ServicesDead is the kind of hold that says that services are dead and proved dead.
const ServicesDead = "services-dead"

// Met is a hold that somebody signs.
type Met struct {
	Hold     strip.Hold
	About    []string // the pieces of the step that waits for it
	By, Role string
	On       string // ISO 8601
	Note     string
}

// Sign is the change that signs a hold. A name is wanted: nobody signs for another.
func Sign(r *domain.Register, m Met) (domain.Change, error) {
	if err := built(r); err != nil {
		return domain.Change{}, err
	}
	var faults domain.Errors
	if m.By == "" {
		faults.Addf(domain.Invalid, "/by", "a hold is signed by name: type the name of who signs")
	}
	if slices.Contains(evidenced, m.Hold.Kind) && strings.TrimSpace(m.Note) == "" {
		faults.Addf(domain.Invalid, "/note", "this is not signed without its paper: give the reference of the certificate, survey or licence")
	}
	switch role := strings.TrimSpace(m.Role); {
	case !ByStanding(m.Hold):
	case m.Hold.Who == "" && role == "":
		faults.Addf(domain.Invalid, "/role", "this is signed by who is licensed or competent for it: write what the one who signs is")
	case m.Hold.Who != "" && !strings.EqualFold(role, m.Hold.Who):
		faults.Addf(domain.Invalid, "/role", "this is signed by a %s and nobody else: say so if that is what the one who signs is, else have it signed by one", m.Hold.Who)
	}
	switch ofSome := slices.Contains(ofPieces, m.Hold.Kind); {
	case m.Hold.Kind == "" || m.Hold.Text == "":
		faults.Addf(domain.Invalid, "/hold", "which hold is signed is not said: load the page again")
	case !ofSome && !slices.Contains(once, m.Hold.Kind):
		faults.Addf(domain.Invalid, "/kind", "there is no hold of the kind %.60q: give one that a step has", m.Hold.Kind)
	case ofSome && len(m.About) == 0:
		faults.Addf(domain.Invalid, "/about", "what it is signed for is not said: give the pieces of the step, else it meets no hold and reads as if it did")
	}
	if len(faults) > 0 {
		return domain.Change{}, faults
	}
	if still := inPlace(r, m.About); m.Hold.Kind == PropsStruck && len(still) > 0 {
		return domain.Change{}, domain.Errorf(domain.Refused, "the support stays: %s still in place above or beside it; take it out first, or withdraw the signature that says the support is in, if it never was", isOrAre(still))
	}
	if m.Hold.Kind == PropsStruck && firstOf(m.About, supported(Supports(r))) == "" {
		return domain.Change{}, domain.Errorf(domain.Refused, "nobody has signed that support of %s is in, so none is signed out: sign that it is in first, if it was", strings.Join(m.About, ", "))
	}
	signed := domain.SignOff{Code: NextCode(r), Kind: domain.HoldMet, What: m.Hold.Text, Hold: m.Hold.Kind, About: m.About, By: m.By, Role: m.Role, On: m.On, Note: m.Note}
	return domain.Change{Kind: domain.Append, What: "signed by " + m.By + ": " + m.Hold.Text + of(m.About), Add: domain.Records{SignOffs: []domain.SignOff{signed}}}, nil
}

// Withdraw is the change that takes back a signature that no longer holds, whatever it was for. Work that was ticked off is
// taken back by TakeBack, since what it did to the register goes back with it. A hold may be withdrawn at any time, since a
// false signature is a danger; what was ticked off on the strength of it is advice on the change.
func Withdraw(r *domain.Register, w Withdrawal) (domain.Change, error) {
	o := inForce(r, w.Code)
	if o == nil || !slices.Contains([]domain.SignOffKind{domain.HoldMet, domain.ClosedUp, domain.Photographed, domain.MadeGood, domain.PieceFound, domain.WasteAssessed, domain.NoticeGiven}, o.Kind) {
		return domain.Change{}, notSigned(w.Code)
	}
	if faults := w.faults(); len(faults) > 0 {
		return domain.Change{}, faults
	}
	c := domain.Change{Kind: domain.Append, What: w.Code + " withdrawn by " + w.By + ": " + w.Why, Add: domain.Records{SignOffs: []domain.SignOff{w.signOff(r, *o)}}}
	if o.Kind == domain.MadeGood {
		if c.Put = spoilt(r, *o); len(c.Put.Holes) > 0 {
			c.Kind = domain.Amend
		}
	}
	for _, rest := range RestOnHold(r, *o) {
		c.Advice = append(c.Advice, domain.Advice{Kind: "rests-on-it", Severity: domain.Stop, Codes: o.About, Text: rest.Text, Mend: "take that back first if it was not done either"})
	}
	return c, nil
}

// signature is the sign-off that meets a hold of a step about these pieces: one for the whole strip-out, or one given
// for all of them.
func signature(signed []domain.SignOff, h strip.Hold, about []string) *domain.SignOff {
	for i := range signed {
		o := &signed[i]
		if o.Hold != h.Kind {
			continue
		}
		if slices.Contains(once, h.Kind) || covers(o.About, about) {
			return o
		}
	}
	return nil
}

func covers(all, some []string) bool {
	for _, code := range some {
		if !slices.Contains(all, code) {
			return false
		}
	}
	return true
}

// EdgeGuarded is the kind of hold that says that an open edge or hole of a deck is guarded or planked over.
const EdgeGuarded = "open-edge"

// guardedByHand are the deck boards in place once it was signed that their open edges are guarded, none before.
func guardedByHand(r *domain.Register) []string {
	if !slices.ContainsFunc(r.Signed(domain.HoldMet), func(o domain.SignOff) bool { return o.Hold == EdgeGuarded }) {
		return nil
	}
	var out []string
	for i := range r.Elements {
		if e := &r.Elements[i]; e.IsInPlace() && e.Kind == domain.DeckBoard {
			out = append(out, e.Code)
		}
	}
	return out
}

// dead reports whether every service in place was signed as dead.
func dead(r *domain.Register) bool {
	proved := map[string]bool{}
	for _, o := range r.Signed(domain.HoldMet) {
		if o.Hold == ServicesDead {
			for _, code := range o.About {
				proved[code] = true
			}
		}
	}
	for _, code := range live(r) {
		if !proved[code] {
			return false
		}
	}
	return true
}

// WhoSigns is who signs a hold of a kind about some pieces, as the plan has it; "" where no step has such a hold now.
func WhoSigns(states []StepState, kind string, about []string) string {
	for _, s := range states {
		for _, h := range s.Holds {
			if h.Kind == kind && (len(about) == 0 || slices.Contains(once, kind) || slices.ContainsFunc(about, func(code string) bool { return slices.Contains(s.Step.Elements, code) })) {
				return h.Who
			}
		}
	}
	return ""
}

// built refuses a layout of which nothing is built yet: there is nothing to sign for and nothing to take out.
func built(r *domain.Register) error {
	if !r.FitOut.NotBuilt {
		return nil
	}
	return domain.Errorf(domain.Refused, "nothing of %s is built yet, so nothing is signed or ticked off there: say under Settings that it stands, once it does", r.FitOut.Code)
}
