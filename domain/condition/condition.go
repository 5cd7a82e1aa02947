// Package condition lays the condition records of each surface side by side: how it was found at the start, in between,
// and at the end, with every defect, and which holes lie in a defect that was there before.
//
// The idea: the record of the start decides what is owed. A defect that is in it is shown with the holes that lie in it,
// and neither is charged; one that is first recorded later is new. A record that was withdrawn is left out here and stays
// in the log.
//
// Looking for
//
//   - the report, and adding a record: condition.go
package condition

import (
	"fmt"

	"unpick/domain"
)

// Report is every host surface, in the order of the register.
type Report struct {
	Surfaces     []Surface `json:"surfaces"`
	WithoutStart int       `json:"without_start" jsonschema_description:"surfaces that nobody recorded at the start"`
	WithoutEnd   int       `json:"without_end"`
}

// Surface is one surface at the start, in between and at the end.
type Surface struct {
	Host      string   `json:"host"`
	Name      string   `json:"name"`
	Start     []Record `json:"start"`
	During    []Record `json:"during"`
	End       []Record `json:"end"`
	Defects   []Defect `json:"defects"`
	AtDefects int      `json:"holes_at_defects"`
}

// Record is one condition record with its number on its surface.
type Record struct {
	Number int      `json:"number"`
	On     string   `json:"on"`
	By     string   `json:"by,omitempty"`
	Text   string   `json:"text"`
	Photos []string `json:"photos,omitempty"`

	EnteredOn string `json:"entered_on,omitempty" jsonschema_description:"the day on which the log has it; empty without a log"`
	Entered   string `json:"entered,omitempty" jsonschema_description:"in words, where that is another day than it says, or later than it should be"`
	Flagged   bool   `json:"flagged,omitempty" jsonschema_description:"of the start, and entered after holes were logged in the surface or an issue went out"`
}

// Defect is one defect, and the numbers of the holes that lie in it.
type Defect struct {
	Name       string            `json:"name"`
	Kind       domain.DefectKind `json:"kind"`
	Stage      domain.Stage      `json:"stage"`
	UMm        int               `json:"u_mm"`
	VMm        int               `json:"v_mm"`
	Size       string            `json:"size"`
	Text       string            `json:"text,omitempty"`
	Record     int               `json:"record"`
	Holes      []int             `json:"holes"`
	OwedBefore bool              `json:"owed_before" jsonschema_description:"the surface owed this repair at the start: holes in it are not charged"`
}

// Of reports the condition of every surface. A record without a stage stands at the start where its date is no later than
// the tenancy's start, else in between.
func Of(r *domain.Register) Report {
	out := Report{Surfaces: []Surface{}}
	holes := map[string][]*domain.Hole{}
	for i := range r.Holes {
		holes[r.Holes[i].Host] = append(holes[r.Holes[i].Host], &r.Holes[i])
	}
	for i := range r.Hosts {
		s := surface(r, &r.Hosts[i], holes[r.Hosts[i].Code])
		out.Surfaces = append(out.Surfaces, s)
		if len(s.Start) == 0 {
			out.WithoutStart++
		}
		if len(s.End) == 0 {
			out.WithoutEnd++
		}
	}
	return out
}

func surface(r *domain.Register, h *domain.HostSurface, holes []*domain.Hole) Surface {
	s := Surface{Host: h.Code, Name: h.Name, Start: []Record{}, During: []Record{}, End: []Record{}, Defects: []Defect{}}
	records, numbers := h.Standing()
	for i, c := range records {
		start := c.OfStart(r.FitOut.Tenancy.Start)
		record := Record{Number: numbers[i], On: c.On, By: c.By, Text: c.Text, Photos: c.Photos}
		if e, ok := r.EnteredOf(h.Code, numbers[i]); ok {
			record.EnteredOn, record.Entered, record.Flagged = e.On, e.Words(c.On, start), start && e.Flagged()
		}
		switch {
		case start:
			s.Start = append(s.Start, record)
		case c.Stage == domain.AtEnd:
			s.End = append(s.End, record)
		default:
			s.During = append(s.During, record)
		}
	}
	in := map[int][]int{}
	for _, hole := range holes {
		for i, d := range h.AtDefects(hole) {
			if d > 0 && i < len(hole.Numbers) {
				in[d] = append(in[d], hole.Numbers[i])
				s.AtDefects++
			}
		}
	}
	for _, d := range h.Defects() {
		defect := Defect{Name: d.Name(h.Code), Kind: d.Kind, Stage: d.Stage, UMm: d.UMm, VMm: d.VMm, Size: d.Size(), Text: d.Text, Record: d.Record,
			Holes: in[d.Number], OwedBefore: d.Stage == domain.AtStart && d.OwesRepair()}
		if defect.Holes == nil {
			defect.Holes = []int{}
		}
		s.Defects = append(s.Defects, defect)
	}
	return s
}

// Add is the change that adds a record to a surface at any version: it never conflicts with another record.
func Add(r *domain.Register, host string, found domain.Condition) (domain.Change, error) {
	at, ok := r.Index().Hosts[host]
	if !ok {
		return domain.Change{}, domain.Errorf(domain.NotFound, "there is no host surface %.60q in this fit-out", host)
	}
	h := r.Hosts[at]
	h.Conditions = append(h.Conditions[:len(h.Conditions):len(h.Conditions)], found)
	what := fmt.Sprintf("condition of %s on %s: %s", host, found.On, found.Text)
	if found.Withdraws > 0 {
		what = fmt.Sprintf("condition record %d of %s withdrawn: %s", found.Withdraws, host, found.Text)
	}
	return domain.Change{Kind: domain.Append, What: what, Put: domain.Records{Hosts: []domain.HostSurface{h}}}, nil
}

// KindWords is what a defect of a kind is called.
func KindWords(k domain.DefectKind) string {
	switch k {
	case domain.OldHole:
		return "hole"
	case domain.OldPlug:
		return "plugged hole"
	case domain.Spall:
		return "broken out"
	case domain.OldPatch:
		return "old repair"
	case domain.WornPaint:
		return "worn finish"
	case domain.OtherFlaw:
		return "other"
	}
	return string(k)
}
