package db

import (
	"cmp"
	"container/list"
	"slices"
	"sync"

	"unpick/domain"
)

// mostKept is how many records all kept snapshots may have together: about 400 MB.
const mostKept = 500_000

// snapshots keeps the registers that were loaded last, each under the hash of the head of its log. The hash covers
// everything that ever changed the register, so a snapshot is right exactly while the head is the same, whichever program
// wrote last. The zero value works.
type snapshots struct {
	mu    sync.Mutex
	kept  map[scope]*list.Element
	order list.List // of snapshot, last used first
	size  int
}

type snapshot struct {
	scope    scope
	head     string
	register *domain.Register
	size     int
}

// at is the register of a fit-out at a head of its log, in slices of the caller's own; nil when it is not kept.
func (k *snapshots) at(s scope, head string) *domain.Register {
	k.mu.Lock()
	defer k.mu.Unlock()
	e, ok := k.kept[s]
	if !ok || e.Value.(snapshot).head != head {
		return nil
	}
	k.order.MoveToFront(e)
	return e.Value.(snapshot).register.With(domain.Records{})
}

// keep takes r, which nobody may write to any more, in place of what was kept for the fit-out.
func (k *snapshots) keep(s scope, head string, r *domain.Register) {
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.kept == nil {
		k.kept = map[scope]*list.Element{}
	}
	if old, ok := k.kept[s]; ok {
		k.forget(old)
	}
	new := snapshot{s, head, r, count(r.Records())}
	k.kept[s] = k.order.PushFront(new)
	k.size += new.size
	for k.size > mostKept {
		k.forget(k.order.Back())
	}
}

func (k *snapshots) forget(e *list.Element) {
	gone := k.order.Remove(e).(snapshot)
	delete(k.kept, gone.scope)
	k.size -= gone.size
}

// after is r once a change is made: the change in order of code, as stored. r itself is not touched.
func after(r *domain.Register, c domain.Change) *domain.Register {
	out := *r
	if c.FitOut != nil {
		out.FitOut = *c.FitOut
	}
	out.Zones = zones.merge(r.Zones, c.Add.Zones, c.Put.Zones)
	out.SetHosts(hosts.merge(everyHost(r), c.Add.Hosts, c.Put.Hosts))
	out.Assemblies = assemblies.merge(r.Assemblies, c.Add.Assemblies, c.Put.Assemblies)
	out.Elements = elements.merge(r.Elements, c.Add.Elements, c.Put.Elements)
	out.Fixings = fixings.merge(r.Fixings, c.Add.Fixings, c.Put.Fixings)
	out.Holes = holes.merge(r.Holes, c.Add.Holes, c.Put.Holes)
	out.Relations = relations.merge(r.Relations, c.Add.Relations, c.Put.Relations)
	out.Prices = slices.Concat(r.Prices, c.Add.Prices)
	out.SignOffs = slices.Concat(r.SignOffs, c.Add.SignOffs)
	return &out
}

// current refuses a change of what has changed since the person read it: see noun.current.
func current(r *domain.Register, c domain.Change) error {
	if c.FitOut != nil && c.FitOut.Version != r.FitOut.Version {
		return staleErrorf("the fit-out "+r.FitOut.Code, r.FitOut.Version, c.FitOut.Version)
	}
	return cmp.Or(
		zones.current(r.Zones, c.Put.Zones), hosts.current(everyHost(r), c.Put.Hosts),
		assemblies.current(r.Assemblies, c.Put.Assemblies), elements.current(r.Elements, c.Put.Elements),
		fixings.current(r.Fixings, c.Put.Fixings), holes.current(r.Holes, c.Put.Holes),
		relations.current(r.Relations, c.Put.Relations))
}

// everyHost is every host surface, struck ones too, in order of code.
func everyHost(r *domain.Register) []domain.HostSurface {
	return hosts.merge(r.Hosts, r.StruckHosts, nil)
}

// merge is old with records added and others put in the place of those with their code, all in order of code. A record
// to put whose code is not there is left out: storing it says so.
func (n *noun[T]) merge(old, add, put []T) []T {
	out := make([]T, 0, len(old)+len(add))
	for len(old) > 0 && len(add) > 0 {
		if n.byCode(old[0], add[0]) <= 0 {
			out, old = append(out, old[0]), old[1:]
		} else {
			out, add = append(out, add[0]), add[1:]
		}
	}
	out = append(append(out, old...), add...)
	for _, t := range put {
		if at, found := slices.BinarySearchFunc(out, t, n.byCode); found {
			out[at] = t
		}
	}
	return out
}

// current refuses to put a record that is not there, that others have changed since it was read, or that comes twice.
func (n *noun[T]) current(now, put []T) error {
	seen := make(map[string]bool, len(put))
	for _, t := range put {
		code := n.code(&t)
		at, found := slices.BinarySearchFunc(now, t, n.byCode)
		switch {
		case !found:
			return domain.Errorf(domain.NotFound, "there is no %s %q in this fit-out", n.called, code)
		case *n.version(&now[at]) != *n.version(&t):
			return staleErrorf(code, *n.version(&now[at]), *n.version(&t))
		case seen[code]:
			return domain.Errorf(domain.Invalid, "%s comes twice in one change: give it once", code)
		}
		seen[code] = true
	}
	return nil
}

func (n *noun[T]) byCode(a, b T) int { return cmp.Compare(n.code(&a), n.code(&b)) }
