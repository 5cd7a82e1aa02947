package progress

import (
	"fmt"
	"slices"
	"strings"

	"unpick/domain"
	"unpick/domain/replay"
	"unpick/domain/strip"
)

// rests finds the later signatures that rest on a tick-off: work that could not have been done with its pieces up, and what
// was said of things that are out or of holes that are empty.
func (b *goingBack) rests() {
	var work []domain.SignOff
	for _, o := range b.later {
		if o.Kind == domain.WorkDone {
			work = append(work, o)
		}
	}
	needed := b.needed(work)
	for _, o := range slices.Backward(b.later) {
		because := ""
		switch o.Kind {
		case domain.WorkDone:
			if because = b.shared(o); because == "" {
				because = needed[o.Code]
			}
		case domain.PieceFound:
			if code := firstOf(o.About, b.Signed.About); code != "" {
				because = "it was in hand: " + code
			}
		case domain.MadeGood:
			because = b.filled(o)
		case domain.HoldMet:
			if code := firstOf(o.About, b.Signed.About); code != "" && o.Hold == PropsStruck {
				because = "the props under " + code + " are out"
			}
		}
		if because != "" {
			b.First = append(b.First, Rest{SignOff: o.Code, Text: fmt.Sprintf("%s, %s %s later by %s (%s): %s", o.Code, o.What, signedAs(o.Kind), o.By, o.On, because)})
		}
	}
}

// signedAs says what a signature did to what it was about.
func signedAs(kind domain.SignOffKind) string {
	if kind == domain.WorkDone {
		return "ticked off"
	}
	return "signed"
}

// shared says what later work took of the same: a piece that was put back by hand, or the other end of a fixing.
func (b *goingBack) shared(o domain.SignOff) string {
	if code := firstOf(o.About, b.Signed.About); code != "" {
		return "it took out " + code + " again"
	}
	for i := range b.Put.Fixings {
		f := &b.Put.Fixings[i]
		if code := firstOf(o.About, joined(f)); code != "" {
			return fmt.Sprintf("%s, which it took out, was held by %s", code, f.Code)
		}
	}
	return ""
}

// filled says what a later signature for a repair closed of what goes back.
func (b *goingBack) filled(o domain.SignOff) string {
	for _, code := range o.About {
		_, hole := b.index.Holes[code]
		at, fixing := b.index.Fixings[code]
		switch {
		case hole && b.uses(b.r.Holes[b.index.Holes[code]].Fixing):
			return code + " was filled"
		case fixing && b.uses(b.r.Fixings[at].Code):
			return "what " + code + " left was cleaned off"
		}
	}
	return ""
}

// uses reports whether a fixing goes back in.
func (b *goingBack) uses(fixing string) bool {
	return slices.ContainsFunc(b.Put.Fixings, func(f domain.Fixing) bool { return f.Code == fixing })
}

// firstOf is the first of some that is among others, "" where none is.
func firstOf(some, others []string) string {
	for _, code := range some {
		if slices.Contains(others, code) {
			return code
		}
	}
	return ""
}

// needed says of later work, by its code, why it could not have been done with the pieces up that go back. The replay is
// the judge: the later work is done again in a register with them and in one without, and what is at fault only with them
// is their doing.
func (b *goingBack) needed(work []domain.SignOff) map[string]string {
	if len(work) == 0 || len(b.up) == 0 {
		return nil
	}
	up := map[string]bool{}
	for _, o := range work {
		for _, code := range o.About {
			up[code] = true
		}
	}
	type breach struct{ step, code, because string }
	had := map[breach]bool{}
	for _, f := range again(standing(b.r, up), work) {
		had[breach{f.Step, f.Code, f.Because}] = true
	}
	for code := range b.up {
		up[code] = true
	}
	out := map[string]string{}
	for _, f := range again(standing(b.r, up), work) {
		if _, said := out[f.Step]; !said && !had[breach{f.Step, f.Code, f.Because}] {
			out[f.Step], _, _ = strings.Cut(f.Because, ": ")
		}
	}
	return out
}

// standing is a register with some pieces up again, and what held them to anything that stands.
func standing(r *domain.Register, up map[string]bool) *domain.Register {
	out := *r
	out.Elements, out.Fixings = slices.Clone(r.Elements), slices.Clone(r.Fixings)
	in := map[string]bool{}
	for i := range out.Elements {
		e := &out.Elements[i]
		if up[e.Code] && e.State != domain.Struck {
			e.State = domain.InPlace
		}
		in[e.Code] = e.IsInPlace()
	}
	for i := range out.Fixings {
		f := &out.Fixings[i]
		with := joined(f)
		if f.State == domain.FixingUndone && slices.ContainsFunc(with, func(code string) bool { return up[code] }) &&
			!slices.ContainsFunc(with, func(code string) bool { return !in[code] }) {
			f.State = domain.FixingIn
		}
	}
	return &out
}

// again does work once more in a register in which its pieces are up.
func again(r *domain.Register, work []domain.SignOff) []replay.Fault {
	steps := make([]replay.Step, len(work))
	undone := map[string]bool{}
	for i, o := range work {
		taken := map[string]bool{}
		for _, code := range o.About {
			taken[code] = true
		}
		steps[i] = replay.Step{Code: o.Code, Kind: replay.Remove, Elements: o.About, OpenEdges: guardedByHand(r)}
		parts := parting(r, taken)
		for k := range r.Fixings {
			if f := &r.Fixings[k]; f.InPlace() && !undone[f.Code] && parts(f) {
				undone[f.Code] = true
				steps[i].Fixings = append(steps[i].Fixings, f.Code)
			}
		}
	}
	return replay.CheckPartial(r, steps)
}

// RestOnHold is the work in force that was ticked off while only this signature met a hold of it, the newest first. On support
// that is in rests what took out the pieces that held or tied what is on it, as well as that itself.
func RestOnHold(r *domain.Register, o domain.SignOff) []Rest {
	if o.Kind != domain.HoldMet {
		return nil
	}
	everything := slices.Contains(once, o.Hold)
	var met []domain.SignOff // signatures of the same hold that were there as well
	for _, s := range r.Signed(domain.HoldMet) {
		if s.Hold == o.Hold && s.Code != o.Code {
			met = append(met, s)
		}
	}
	place := map[string]int{}
	for i, s := range r.SignOffs {
		place[s.Code] = i
	}
	later := since(r, o.Code)
	ties := tiedBefore(r, o, later)
	var out []Rest
	for _, d := range slices.Backward(later) {
		if d.Kind != domain.WorkDone {
			continue
		}
		for _, x := range leans(d, o, ties) {
			if slices.ContainsFunc(met, func(s domain.SignOff) bool {
				return place[s.Code] < place[d.Code] && (everything || slices.Contains(s.About, x.about))
			}) {
				continue
			}
			text := fmt.Sprintf("%s, %s, was ticked off on the strength of it by %s (%s)", d.Code, d.What, d.By, d.On)
			if x.by != "" {
				text += fmt.Sprintf(": %s was not to go before %s was propped", x.by, x.about)
			}
			out = append(out, Rest{SignOff: d.Code, Text: text})
			break
		}
	}
	return out
}

// lean is how work leans on a signature: about is what the signature is about, by the piece taken out that held or tied it.
type lean struct{ about, by string }

// leans lists how work leans on a signature, none where it does not.
func leans(d, o domain.SignOff, ties map[string][]string) []lean {
	var out []lean
	for _, code := range d.About {
		if slices.Contains(o.About, code) {
			out = append(out, lean{about: code})
		}
	}
	for _, code := range d.About {
		for _, held := range ties[code] {
			if held != code {
				out = append(out, lean{held, code})
			}
		}
	}
	if len(out) == 0 && slices.Contains(once, o.Hold) {
		out = append(out, lean{})
	}
	return out
}

// tiedBefore is what held or tied what support is put to, in the register as it was when that was signed: with what later work
// took out up again.
func tiedBefore(r *domain.Register, o domain.SignOff, later []domain.SignOff) map[string][]string {
	if o.Hold != temporarySupport {
		return nil
	}
	up := map[string]bool{}
	for _, d := range later {
		for _, code := range d.About {
			up[code] = up[code] || d.Kind == domain.WorkDone
		}
	}
	return strip.Ties(standing(r, up), o.About)
}
