package progress

import (
	"fmt"
	"slices"
	"strings"

	"unpick/domain"
)

// Withdrawal is a signature that somebody takes back, and why.
type Withdrawal struct {
	Code     string // of the signature
	By, Role string
	On       string // ISO 8601
	Why      string
}

// faults are what is missing of a withdrawal: nobody takes anything back without a name and a reason.
func (w Withdrawal) faults() domain.Errors {
	faults := named(w.By, "what is taken back")
	if strings.TrimSpace(w.Why) == "" {
		faults.Addf(domain.Invalid, "/reason", "say why it is taken back: the log keeps it")
	}
	return faults
}

// signOff is the signature that takes another one back.
func (w Withdrawal) signOff(r *domain.Register, o domain.SignOff) domain.SignOff {
	return domain.SignOff{Code: NextCode(r), Kind: o.Kind, What: w.Why, Hold: o.Hold, About: o.About, Withdraws: o.Code, By: w.By, Role: w.Role, On: w.On}
}

// Rest is something that came later and rests on a signature: another signature, or a record as it is now.
type Rest struct {
	SignOff string // code of the later signature, "" where it is a record
	Record  string // code of the record, "" where it is a signature
	Text    string // what it is, and what it says of the earlier one
}

// Back is what taking back a tick-off does: the records as they will be, and what has to be taken back before, the newest
// first.
type Back struct {
	Signed domain.SignOff
	Put    domain.Records
	First  []Rest
}

// BackOf works out what taking back a tick-off does. ticked is its change as the log keeps it, so that exactly what it
// changed goes back: a fixing that was undone before it stays undone. Only states go back; what else of a record was amended
// since is kept. A piece that was put back or struck since is left as it is.
func BackOf(r *domain.Register, ticked domain.Change, code string) (Back, error) {
	o := inForce(r, code)
	if o == nil || o.Kind != domain.WorkDone {
		return Back{}, notSigned(code)
	}
	if !slices.ContainsFunc(ticked.Add.SignOffs, func(s domain.SignOff) bool { return s.Code == code }) {
		return Back{}, domain.Errorf(domain.Refused, "%s came in with the file that this fit-out was read from, and the log here does not know which fixings it undid: put its pieces back on their own pages", code)
	}
	b := &goingBack{Back: Back{Signed: *o}, r: r, index: r.Index(), later: since(r, code), up: map[string]bool{}}
	b.pieces(ticked.Put.Elements)
	b.fixings(ticked.Put.Fixings)
	b.holes(ticked.Put.Holes)
	b.rests()
	return b.Back, nil
}

// TakeBack is the change that takes back a tick-off made by mistake. It is refused where something later rests on it, with
// everything that has to be taken back before.
func TakeBack(r *domain.Register, ticked domain.Change, w Withdrawal) (domain.Change, error) {
	b, err := BackOf(r, ticked, w.Code)
	if err != nil {
		return domain.Change{}, err
	}
	faults := w.faults()
	for _, rest := range b.First {
		faults.Addf(domain.Refused, "", "%s: take that back first", rest.Text)
	}
	if len(faults) > 0 {
		return domain.Change{}, faults
	}
	what := fmt.Sprintf("put back by %s: %s (%s, ticked off by %s): %s", w.By, b.Signed.What, w.Code, b.Signed.By, w.Why)
	return domain.Change{Kind: domain.Amend, What: what, Put: b.Put, Add: domain.Records{SignOffs: []domain.SignOff{w.signOff(r, b.Signed)}}}, nil
}

// inForce is the signature of a code that still holds, nil where none does.
func inForce(r *domain.Register, code string) *domain.SignOff {
	var out *domain.SignOff
	for i := range r.SignOffs {
		switch o := &r.SignOffs[i]; {
		case o.Withdraws == code && code != "":
			return nil
		case o.Code == code && o.Withdraws == "":
			out = o
		}
	}
	return out
}

func notSigned(code string) error {
	return domain.FieldErrorf(domain.NotFound, "/withdraws", "there is no signature %.60s that holds: load the page again", code)
}

// since are the signatures in force that were given after one, in order.
func since(r *domain.Register, code string) []domain.SignOff {
	at := slices.IndexFunc(r.SignOffs, func(o domain.SignOff) bool { return o.Code == code })
	withdrawn := map[string]bool{}
	for _, o := range r.SignOffs {
		withdrawn[o.Withdraws] = true
	}
	var out []domain.SignOff
	for _, o := range r.SignOffs[at+1:] {
		if o.Withdraws == "" && !withdrawn[o.Code] {
			out = append(out, o)
		}
	}
	return out
}

// goingBack is a tick-off while it is worked out what taking it back does.
type goingBack struct {
	Back
	r     *domain.Register
	index *domain.Index
	later []domain.SignOff
	up    map[string]bool // pieces that it puts up again
}

// pieces puts those up that are down and nothing more. One that has gone on since (stored, used again, disposed of) is in
// somebody's hands.
func (b *goingBack) pieces(ticked []domain.Element) {
	for i := range ticked {
		e := b.r.Elements[b.index.Elements[ticked[i].Code]]
		switch {
		case e.State == domain.TakenDown:
			e.State = domain.InPlace
			b.Put.Elements = append(b.Put.Elements, e)
			b.up[e.Code] = true
		case !e.IsInPlace() && e.State != domain.Struck:
			b.First = append(b.First, Rest{Record: e.Code, Text: fmt.Sprintf("%s is %s by now, and not just taken down", e.Code, e.State)})
		}
	}
}

// fixings holds again what the tick-off undid. A fixing that joined a piece which was struck out since joins nothing now.
func (b *goingBack) fixings(ticked []domain.Fixing) {
	for i := range ticked {
		f := b.r.Fixings[b.index.Fixings[ticked[i].Code]]
		struck := slices.ContainsFunc(joined(&f), func(code string) bool {
			return b.r.Elements[b.index.Elements[code]].State == domain.Struck
		})
		if f.State == domain.FixingUndone && !struck {
			f.State = domain.FixingIn
			b.Put.Fixings = append(b.Put.Fixings, f)
		}
	}
}

// holes are in use again where their fixing is in again.
func (b *goingBack) holes(ticked []domain.Hole) {
	in := map[string]bool{}
	for _, f := range b.Put.Fixings {
		in[f.Code] = true
	}
	for i := range ticked {
		h := b.r.Holes[b.index.Holes[ticked[i].Code]]
		f, held := b.index.Fixings[h.Fixing]
		switch {
		case !held || !in[h.Fixing] && !b.r.Fixings[f].InPlace():
		case h.State == domain.HoleEmpty:
			h.State = domain.HoleInUse
			b.Put.Holes = append(b.Put.Holes, h)
		case h.State != domain.HoleInUse && h.State != domain.HoleStruck && !b.signedFor(h.Code):
			b.First = append(b.First, Rest{Record: h.Code, Text: fmt.Sprintf("%s is %s by now, and not just empty", h.Code, h.State)})
		}
	}
}

// signedFor reports whether a later signature says that something is made good; it is named by itself.
func (b *goingBack) signedFor(code string) bool {
	return slices.ContainsFunc(b.later, func(o domain.SignOff) bool { return o.Kind == domain.MadeGood && slices.Contains(o.About, code) })
}

// joined are the pieces that a fixing joins.
func joined(f *domain.Fixing) []string {
	out := append([]string{f.Holds}, f.Through...)
	if f.IntoElement != "" {
		out = append(out, f.IntoElement)
	}
	return out
}
