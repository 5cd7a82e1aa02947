package strip

import (
	"crypto/sha256"
	"encoding/hex"
	"io"
	"slices"

	"unpick/domain"
)

// History are the orders that a crew has had in its hands, the newest last, each with what was left to take out while it
// held. A tick-off out of turn may part steps and move others; when it is taken back, the same is left as before, and the
// crew gets the order that it had then.
type History []Kept

// Kept is one order of a history.
type Kept struct {
	Left  []string `json:"left"` // each a Left
	Order Order    `json:"order"`
}

// mostKept is how many orders are kept: mistakes are taken back soon.
const mostKept = 8

// Left stands for what is left to take out of a register: the same pieces, the same sum.
func Left(r *domain.Register) string {
	h := sha256.New()
	for i := range r.Elements {
		if e := &r.Elements[i]; e.ComesOut() {
			io.WriteString(h, e.Code+"\n") // never fails
		}
	}
	return hex.EncodeToString(h.Sum(nil)[:8])
}

// From is the order to plan from while this is left: the one that held while the same was left, else the newest; back says
// that it is another one than the newest. Numbers that were given since are not given again.
func (h History) From(left string) (earlier Order, back bool) {
	if len(h) == 0 {
		return nil, false
	}
	newest := h[len(h)-1].Order
	if at := h.at(left); at >= 0 {
		return h[at].Order.without(newest), !h[at].Order.same(newest)
	}
	return newest, false
}

// Keep is the history once an order was planned for what is left. Where another order held for the same, a fact has changed
// since: then none of the older orders is one to go back to.
func (h History) Keep(left string, o Order) History {
	kept := Kept{[]string{left}, o}
	at := h.at(left)
	switch {
	case at >= 0 && !h[at].Order.same(o):
		return History{kept}
	case at < 0 && len(h) > 0 && h[len(h)-1].Order.same(o):
		at = len(h) - 1
		kept.Left = append(slices.Clone(h[at].Left), left)
	case at >= 0:
		kept.Left = h[at].Left
	}
	out := slices.Clone(h)
	if at >= 0 {
		out = slices.Delete(out, at, at+1)
	}
	out = append(out, kept)
	return out[max(0, len(out)-mostKept):]
}

// at is the place of the order that held while this was left, -1 where none did.
func (h History) at(left string) int {
	return slices.IndexFunc(h, func(k Kept) bool { return slices.Contains(k.Left, left) })
}

// without is an order that does without the steps of a later one. Their numbers stay taken, by steps that take nothing.
func (o Order) without(later Order) Order {
	has := map[int]bool{}
	for _, p := range o {
		has[p.Number] = true
	}
	out := slices.Clone(o)
	for _, p := range later {
		if !has[p.Number] {
			out = append(out, Placed{p.Number, p.Kind, []string{}, p.Access})
		}
	}
	return out
}

// same reports whether two orders are the same sheet, whatever numbers are taken besides.
func (o Order) same(other Order) bool {
	takes := func(o Order) Order {
		return slices.DeleteFunc(slices.Clone(o), func(p Placed) bool { return len(p.Elements) == 0 })
	}
	return slices.EqualFunc(takes(o), takes(other), func(a, b Placed) bool {
		return a.Number == b.Number && a.Kind == b.Kind && slices.Equal(a.Elements, b.Elements)
	})
}
