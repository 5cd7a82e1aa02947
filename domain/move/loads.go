package move

import (
	"cmp"
	"slices"

	"unpick/domain"
	"unpick/domain/salvage"
)

// Load is one trip, packed from the front of the bed to the back: what is listed last goes in last and comes off first.
type Load struct {
	Number   int      `json:"number"`
	Pieces   []string `json:"pieces" jsonschema_description:"in the order of loading"`
	MassKg   float64  `json:"mass_kg"`
	VolumeM3 float64  `json:"stacked_m3"`
	Dry      bool     `json:"keep_dry,omitempty" jsonschema_description:"boards, insulation or doors are among it"`
	Flat     bool     `json:"carry_flat,omitempty" jsonschema_description:"boards or doors: flat or on edge on a rack, never bent over the wheel arches"`
}

// stop is a salvaged piece on its way, or what is carried as one, with its turn in putting up.
type stop struct {
	pieces     []*salvage.Piece
	turn       int
	lengthMm   int
	mass, room float64
}

// stopOf is a stop of one piece.
func stopOf(q *salvage.Piece, turn int) stop {
	return stop{[]*salvage.Piece{q}, turn, q.LengthMm, q.MassKg, max(q.StackedM3, q.VolumeM3)}
}

// join adds a piece to what is carried as one, which takes the room of the box round it.
func (s *stop) join(q *salvage.Piece, turn int) {
	one := stopOf(q, turn)
	s.pieces, s.turn, s.mass, s.room = append(s.pieces, q), min(s.turn, turn), s.mass+one.mass, s.room+one.room
}

// load fills trips in the order of putting up, each within payload, bed and stacking height. Within a trip the pieces
// that go up first are loaded last. Pieces that are larger than the bed, or heavier than may be loaded, are told apart.
func (p *Plan) load(from Source) {
	if from.Register == nil {
		return
	}
	used, turns, index := p.used(), p.turns(), p.register.Index()
	var stops []stop
	one, at := p.asOne(), map[string]int{} // stop of each that is carried as one
	for i := range p.inventory.Pieces {
		q := &p.inventory.Pieces[i]
		b, ok := used[q.Code]
		if !ok {
			continue
		}
		c := one[q.Code]
		if c == nil && !p.Terms.Vehicle.takes(q.LengthMm, q.WidthMm, q.ThicknessMm) {
			if !p.fitsCut(b, index) {
				p.TooBig = append(p.TooBig, q.Code)
				continue
			}
			p.CutFirst = append(p.CutFirst, q.Code)
		}
		if q.MassKg > p.Terms.Vehicle.mayLoadKg() {
			p.TooHeavy = append(p.TooHeavy, q.Code)
			continue
		}
		turn := 1 << 30
		for _, code := range b.Makes {
			turn = min(turn, turns[code])
		}
		if c == nil {
			stops = append(stops, stopOf(q, turn))
			continue
		}
		k, ok := at[c.Code]
		if !ok {
			k = len(stops)
			at[c.Code] = k
			stops = append(stops, stop{turn: turn, lengthMm: c.LengthMm})
		}
		stops[k].join(q, turn)
	}
	for _, c := range one {
		s := &stops[at[c.Code]]
		s.room = max(s.room, float64(c.LengthMm)*float64(c.WidthMm)*float64(c.ThickMm)/1e9)
	}
	slices.SortFunc(stops, func(a, b stop) int {
		return cmp.Or(cmp.Compare(a.turn, b.turn), cmp.Compare(b.lengthMm, a.lengthMm), cmp.Compare(a.pieces[0].Code, b.pieces[0].Code))
	})
	v := p.Terms.Vehicle
	room := float64(v.BedLengthMm) * float64(v.BedWidthMm) * float64(v.BedHeightMm) / 1e9
	var now Load
	moved := 0.0
	flush := func() {
		if len(now.Pieces) == 0 {
			return
		}
		slices.Reverse(now.Pieces) // first up comes off first
		now.Number, now.MassKg, now.VolumeM3 = len(p.Loads)+1, tenth(now.MassKg), hundredth(now.VolumeM3)
		p.Loads = append(p.Loads, now)
		now = Load{}
	}
	for _, s := range stops {
		if now.MassKg+s.mass > v.mayLoadKg() || now.VolumeM3+s.room > room {
			flush()
		}
		now.MassKg, now.VolumeM3 = now.MassKg+s.mass, now.VolumeM3+s.room
		moved += s.mass
		for _, q := range s.pieces {
			now.Pieces = append(now.Pieces, q.Code)
			switch q.Kind {
			case domain.Board, domain.DeckBoard, domain.DoorLeaf:
				now.Dry, now.Flat = true, true
			case domain.Insulation:
				now.Dry = true
			}
		}
	}
	flush()
	p.Total.MovedKg = tenth(moved)
	slices.Sort(p.TooBig)
	slices.Sort(p.TooHeavy)
	slices.Sort(p.CutFirst)
}

// asOne are the pieces of what is carried in one piece.
func (p *Plan) asOne() map[string]*Carried {
	out := map[string]*Carried{}
	for i := range p.Wholes {
		for k := range p.Wholes[i].Carried {
			if c := &p.Wholes[i].Carried[k]; c.AsOne() {
				for _, code := range c.Pieces {
					out[code] = c
				}
			}
		}
	}
	return out
}

// mayLoadKg is what of the payload is left for a load.
func (v Vehicle) mayLoadKg() float64 { return float64(v.PayloadKg - v.RidersKg) }

// takes reports whether a piece lies on the bed, along it: flat or on edge.
func (v Vehicle) takes(length, width, thick int) bool {
	return max(length, width, thick) <= v.BedLengthMm && median(length, width, thick) <= max(v.BedWidthMm, v.BedHeightMm) &&
		min(length, width, thick) <= min(v.BedWidthMm, v.BedHeightMm)
}

// Loaded are pieces of a load as they come out, in the order given.
func (p *Plan) Loaded(codes []string) []salvage.Piece {
	of := make(map[string]*salvage.Piece, len(p.inventory.Pieces))
	for i := range p.inventory.Pieces {
		of[p.inventory.Pieces[i].Code] = &p.inventory.Pieces[i]
	}
	out := make([]salvage.Piece, 0, len(codes))
	for _, code := range codes {
		out = append(out, *of[code])
	}
	return out
}

// Stranded are the salvaged pieces in use that this vehicle cannot bring.
func (p *Plan) Stranded() []string { return slices.Concat(p.TooBig, p.TooHeavy) }

// fitsCut reports whether a length that is too long for the bed fits once it is cut to what it becomes.
func (p *Plan) fitsCut(b Become, index *domain.Index) bool {
	for _, code := range b.Makes {
		e := &p.register.Elements[index.Elements[code]]
		if !p.Terms.Vehicle.takes(e.LengthMm, e.WidthMm, e.ThicknessMm) {
			return false
		}
	}
	return b.OffcutMm <= p.Terms.Vehicle.BedLengthMm && b.WidthMm == 0 && len(b.Makes) > 0
}

// median is the middle of three sizes: what has to pass between the sides of the bed.
func median(a, b, c int) int { return a + b + c - max(a, b, c) - min(a, b, c) }

func hundredth(x float64) float64 { return float64(int(x*100+0.5)) / 100 }
