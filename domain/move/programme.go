package move

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"unpick/domain"
	"unpick/domain/relocation"
	"unpick/domain/strip"
)

// Lay adds the programme of both ends to a plan: its loads and its putting up beside the strip-out and the making good of
// the old place, as it stands on a day. Errors: what relocation.Make returns.
func (p *Plan) Lay(here relocation.Here, today time.Time) (err error) {
	p.Programme, err = relocation.Make(here, p.There(), p.Terms.Programme, today)
	return err
}

// There is the next premises as the programme of both ends needs them: the trips with what they bring, and packages of
// putting up. Pieces that the vehicle cannot bring come on one trip of another.
func (p *Plan) There() relocation.There {
	out := relocation.There{FitOut: p.register.FitOut}
	mass := map[string]float64{}
	for i := range p.inventory.Pieces {
		mass[p.inventory.Pieces[i].Code] = p.inventory.Pieces[i].MassKg
	}
	load := func(name string, vehicle int, pieces []string) {
		t := relocation.Trip{Name: name, Vehicle: vehicle, Pieces: pieces, People: p.ratesHere.WorkRates[loadingRates[1]].People}
		kg := 0.0
		for _, code := range pieces {
			kg += mass[code]
		}
		t.Loading, _ = byWeight(p.ratesHere, kg, loadingRates)
		t.Unloading, _ = byWeight(p.register.Catalogue, kg, unloadingRates)
		out.Trips = append(out.Trips, t)
	}
	for _, l := range p.Loads {
		load(fmt.Sprint("load ", l.Number), 0, l.Pieces)
	}
	if left := p.Stranded(); len(left) > 0 {
		load("load of another vehicle", 1, left)
	}
	out.Packages = p.packages(out.Trips)
	return out
}

// lot is one piece of the next premises on its way up.
type lot struct {
	element *domain.Element
	trip    int // that brings what it is made of, -1 for what is bought
	minutes float64
}

// packages cuts putting up into runs of pieces of one assembly, in the order of building, that the same trips bring: none
// of a run waits for what comes later. A package comes after the earlier ones of its assembly and after those that one of
// its pieces is fixed to or rests on.
func (p *Plan) packages(trips []relocation.Trip) []relocation.Package {
	lots := p.lots(trips)
	var out []relocation.Package
	minutes := []float64{}
	of := map[string]int{}     // package by piece
	latest := map[string]int{} // of each assembly
	names := map[string]string{"": "loose pieces"}
	for _, a := range p.register.Assemblies {
		names[a.Code] = a.Name
	}
	for i, l := range lots {
		e := l.element
		at, has := latest[e.Assembly]
		goesOn := has && i > 0 && lots[i-1].element.Assembly == e.Assembly && brings(out[at], l)
		if !goesOn {
			next := relocation.Package{Assembly: e.Assembly, Name: names[e.Assembly]}
			if has {
				next.Trips, next.Bought, next.After = slices.Clone(out[at].Trips), out[at].Bought, []int{at}
			}
			if l.trip < 0 {
				next.Bought = true
			} else if !slices.Contains(next.Trips, l.trip) {
				next.Trips = append(next.Trips, l.trip)
			}
			at = len(out)
			latest[e.Assembly] = at
			out, minutes = append(out, next), append(minutes, 0)
		}
		out[at].Pieces = append(out[at].Pieces, e.Code)
		if a, ok := p.from[e.Code]; ok && a != strip.FromFloor && !slices.Contains(out[at].Access, a) {
			out[at].Access = append(out[at].Access, a)
		}
		minutes[at] += l.minutes
		of[e.Code] = at
	}
	p.rests(out, of)
	for i := range out {
		out[i].Minutes = int(minutes[i] + .999)
		slices.Sort(out[i].Access)
		slices.Sort(out[i].After)
		out[i].After = slices.Compact(out[i].After)
	}
	return out
}

// brings reports whether what a package waits for already brings a piece too.
func brings(g relocation.Package, l lot) bool {
	if l.trip < 0 {
		return g.Bought
	}
	return slices.Contains(g.Trips, l.trip)
}

// lots are the pieces of the next premises in the order of putting up, each with what brings it and its work: handling as
// in Build, and the fixings that hold it.
func (p *Plan) lots(trips []relocation.Trip) []lot {
	r := p.register
	trip, from := map[string]int{}, map[string]int{}
	for k, t := range trips {
		for _, code := range t.Pieces {
			trip[code] = k
		}
	}
	for _, b := range p.used() {
		for _, code := range b.Makes {
			if k, ok := trip[b.Stock]; ok {
				from[code] = k
			}
		}
	}
	turns, minutes := p.turns(), putMinutes(r)
	var out []lot
	for i := range r.Elements {
		e := &r.Elements[i]
		if !e.ComesOut() {
			continue
		}
		k, ok := from[e.Code]
		if !ok {
			k = -1
		}
		out = append(out, lot{e, k, minutes[e.Code]})
	}
	slices.SortFunc(out, func(a, b lot) int { return cmp.Compare(turns[a.element.Code], turns[b.element.Code]) })
	return out
}

// rests links packages whose pieces are fixed to each other, pass through each other or have a relation: the one that is
// begun later comes after the other.
func (p *Plan) rests(out []relocation.Package, of map[string]int) {
	link := func(a, b string) {
		x, ok := of[a]
		y, too := of[b]
		if ok && too && x != y {
			out[max(x, y)].After = append(out[max(x, y)].After, min(x, y))
		}
	}
	holds := map[string]string{}
	for i := range p.register.Fixings {
		f := &p.register.Fixings[i]
		if !f.InPlace() {
			continue
		}
		holds[f.Code] = f.Holds
		link(f.Holds, f.IntoElement)
		for _, code := range f.Through {
			link(f.Holds, code)
		}
	}
	for i := range p.register.Relations {
		switch x := &p.register.Relations[i]; {
		case x.Struck:
		case x.Kind == domain.Hides:
			link(x.From, holds[x.To])
		default:
			link(x.From, x.To)
		}
	}
}
