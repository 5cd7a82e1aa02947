// Package survey says what a register's figures rest on: what was seen or measured, what is assumed, and what nobody knows
// until it is opened up. A fit-out that was built before anyone logged it is entered on a walk round, room by room, and
// stays provisional, piece by piece, until somebody has seen it.
//
// The idea: how known is said with each record; this only counts it, so that a page and a sheet that show a figure can say
// how much of it is assumed. A record that says nothing was logged as it was built, and counts as seen.
//
// Looking for
//
//   - the counts, in all and by room: survey.go
package survey

import (
	"fmt"
	"strconv"
	"strings"

	"unpick/domain"
)

// KnownCount is how many of something are known how.
type KnownCount struct {
	Seen     int `json:"seen" jsonschema_description:"as built, or seen since"`
	Measured int `json:"measured"`
	Assumed  int `json:"assumed"`
	Unknown  int `json:"unknown" jsonschema_description:"until opened"`
}

func (c *KnownCount) add(k domain.Known, n int) {
	switch k {
	case domain.Measured:
		c.Measured += n
	case domain.Assumed:
		c.Assumed += n
	case domain.Unknown:
		c.Unknown += n
	default:
		c.Seen += n
	}
}

// All is how many there are; Provisional those that are planned as the worst case.
func (c KnownCount) All() int         { return c.Seen + c.Measured + c.Assumed + c.Unknown }
func (c KnownCount) Provisional() int { return c.Assumed + c.Unknown }

// Basis is what the figures of a fit-out rest on: pieces that come out, single fixings in place, holes that are owed, and
// the landlord's surfaces.
type Basis struct {
	Pieces   KnownCount    `json:"pieces"`
	Fixings  KnownCount    `json:"fixings"`
	Holes    KnownCount    `json:"holes"`
	Surfaces KnownCount    `json:"surfaces"`
	Rooms    []KnownInRoom `json:"rooms" jsonschema_description:"in the order of the register; the last one, without a code, for what is in no room"`
}

// KnownInRoom is what is known of one zone: its pieces and the fixings that hold them.
type KnownInRoom struct {
	Zone    string     `json:"zone,omitempty"`
	Name    string     `json:"name"`
	Pieces  KnownCount `json:"pieces"`
	Fixings KnownCount `json:"fixings"`
}

// Of counts what a register rests on. Linear.
func Of(r *domain.Register) Basis {
	b := Basis{Rooms: []KnownInRoom{}}
	room, at := map[string]int{}, map[string]int{}
	for i, z := range r.Zones {
		room[z.Code] = i
		b.Rooms = append(b.Rooms, KnownInRoom{Zone: z.Code, Name: z.Name})
	}
	b.Rooms = append(b.Rooms, KnownInRoom{Name: "in no room"})
	for i := range r.Elements {
		e := &r.Elements[i]
		in, ok := room[e.Zone]
		if !ok {
			in = len(r.Zones)
		}
		at[e.Code] = in
		if e.ComesOut() {
			b.Pieces.add(e.Known, 1)
			b.Rooms[in].Pieces.add(e.Known, 1)
		}
	}
	for i := range r.Fixings {
		if f := &r.Fixings[i]; f.InPlace() {
			b.Fixings.add(f.Known, f.Count)
			b.Rooms[at[f.Holds]].Fixings.add(f.Known, f.Count)
		}
	}
	hosts := r.Index().Hosts
	for i := range r.Holes {
		if h := &r.Holes[i]; h.Charged() {
			b.Holes.add(h.Known, r.Hosts[hosts[h.Host]].Owed(h))
		}
	}
	for i := range r.Hosts {
		b.Surfaces.add(r.Hosts[i].Known, 1)
	}
	if last := b.Rooms[len(r.Zones)]; last.Pieces.All()+last.Fixings.All() == 0 {
		b.Rooms = b.Rooms[:len(r.Zones)]
	}
	return b
}

// Provisional reports whether anything is planned as the worst case.
func (b Basis) Provisional() bool {
	return b.Pieces.Provisional()+b.Fixings.Provisional()+b.Holes.Provisional()+b.Surfaces.Provisional() > 0
}

// Says is what the figures rest on, in one sentence: "of 1,440 pieces 12 assumed; of 102 holes 20 assumed, 3 unknown
// until opened"; "all of it seen or measured" where nothing is assumed.
func (b Basis) Says() string {
	var parts []string
	for _, of := range []struct {
		count KnownCount
		what  string
	}{{b.Pieces, "pieces"}, {b.Fixings, "fixings"}, {b.Holes, "holes"}, {b.Surfaces, "surfaces"}} {
		if of.count.Provisional() == 0 {
			continue
		}
		var how []string
		if of.count.Assumed > 0 {
			how = append(how, thousands(of.count.Assumed)+" assumed")
		}
		if of.count.Unknown > 0 {
			how = append(how, thousands(of.count.Unknown)+" unknown until opened")
		}
		parts = append(parts, fmt.Sprintf("of %s %s %s", thousands(of.count.All()), of.what, strings.Join(how, ", ")))
	}
	if len(parts) == 0 {
		return "all of it seen or measured"
	}
	return strings.Join(parts, "; ") + ". What is not seen is planned as the worst case"
}

// thousands writes 5488 as "5,488".
func thousands(n int) string {
	if n < 1000 {
		return strconv.Itoa(n)
	}
	return thousands(n/1000) + fmt.Sprintf(",%03d", n%1000)
}
