package domain

// Register is everything known about one fit-out, read-only while a planner runs. Slices are in order of code
// within the database and in the order given within a file; planners do not depend on either.
type Register struct {
	FitOut     FitOut
	Zones      []Zone
	Hosts      []HostSurface // those in force: no planner and no drawing ever sees a struck one
	Assemblies []Assembly
	Elements   []Element
	Fixings    []Fixing
	Holes      []Hole
	Relations  []Relation
	Prices     []Price
	SignOffs   []SignOff  // in the order in which they were given
	Catalogue  *Catalogue // the trade's tables with the firm's own work rates; never nil

	StruckHosts []HostSurface // kept for the log and for what was struck out of them

	Only []string // assemblies that alone come out; empty is everything. A question, never stored: see Part

	// Entered is, by surface, when each of its condition records was entered. It is the log's to say and filled in by who has
	// one; a file has none.
	Entered map[string][]Entered
}

// Index finds records by code. It is built once for a register and holds for as long as nothing changes it.
type Index struct {
	Hosts      map[string]int
	Assemblies map[string]int
	Elements   map[string]int
	Fixings    map[string]int
	Holes      map[string]int
	Zones      map[string]int
}

// Index maps every code to its place in the register's slices.
func (r *Register) Index() *Index {
	return &Index{
		Hosts:      places(r.Hosts, func(h *HostSurface) string { return h.Code }),
		Assemblies: places(r.Assemblies, func(a *Assembly) string { return a.Code }),
		Elements:   places(r.Elements, func(e *Element) string { return e.Code }),
		Fixings:    places(r.Fixings, func(f *Fixing) string { return f.Code }),
		Holes:      places(r.Holes, func(h *Hole) string { return h.Code }),
		Zones:      places(r.Zones, func(z *Zone) string { return z.Code }),
	}
}

func places[T any](records []T, code func(*T) string) map[string]int {
	m := make(map[string]int, len(records))
	for i := range records {
		m[code(&records[i])] = i
	}
	return m
}

// LastBuilt is the highest build order in the register, 0 when nothing is built.
func (r *Register) LastBuilt() int {
	last := 0
	for _, e := range r.Elements {
		last = max(last, e.BuiltOrder)
	}
	for _, f := range r.Fixings {
		last = max(last, f.BuiltOrder)
	}
	return last
}

// PriceList is the newest price for each key: the later date, and of two on one date the later in the list. Where the
// terms say at which day's prices the figures are, prices that hold from a later day wait.
func (r *Register) PriceList() map[string]Price {
	on := r.FitOut.Terms.PricedOn
	out := make(map[string]Price, len(r.Prices))
	for _, p := range r.Prices {
		if on != "" && p.Since > on {
			continue
		}
		if older, ok := out[p.Key]; !ok || p.Since >= older.Since {
			out[p.Key] = p
		}
	}
	return out
}

// PricesWaiting are the prices that hold from a later day than the terms' day of the prices, and that no figure uses yet, in the
// order in which they were added.
func (r *Register) PricesWaiting() []Price {
	var out []Price
	for _, p := range r.Prices {
		if on := r.FitOut.Terms.PricedOn; on != "" && p.Since > on {
			out = append(out, p)
		}
	}
	return out
}

// Records are parts of a register: what a recipe makes, what a change adds.
type Records struct {
	Zones      []Zone        `json:"zones,omitempty"`
	Hosts      []HostSurface `json:"hosts,omitempty"`
	Assemblies []Assembly    `json:"assemblies,omitempty"`
	Elements   []Element     `json:"elements,omitempty"`
	Fixings    []Fixing      `json:"fixings,omitempty"`
	Holes      []Hole        `json:"holes,omitempty"`
	Relations  []Relation    `json:"relations,omitempty"`
	Prices     []Price       `json:"prices,omitempty"`
	SignOffs   []SignOff     `json:"sign_offs,omitempty"`
}

// Records are everything in the register but the fit-out itself and the catalogue.
func (r *Register) Records() Records {
	return Records{r.Zones, join(r.Hosts, r.StruckHosts), r.Assemblies, r.Elements, r.Fixings, r.Holes, r.Relations, r.Prices, r.SignOffs}
}

// Append puts more behind r.
func (r *Records) Append(more Records) {
	r.Zones = append(r.Zones, more.Zones...)
	r.Hosts = append(r.Hosts, more.Hosts...)
	r.Assemblies = append(r.Assemblies, more.Assemblies...)
	r.Elements = append(r.Elements, more.Elements...)
	r.Fixings = append(r.Fixings, more.Fixings...)
	r.Holes = append(r.Holes, more.Holes...)
	r.Relations = append(r.Relations, more.Relations...)
	r.Prices = append(r.Prices, more.Prices...)
	r.SignOffs = append(r.SignOffs, more.SignOffs...)
}

// With is a new register with more records behind those of r; r itself is not touched.
func (r *Register) With(more Records) *Register {
	out := *r
	out.Zones = join(r.Zones, more.Zones)
	out.SetHosts(join(join(r.Hosts, r.StruckHosts), more.Hosts))
	out.Assemblies = join(r.Assemblies, more.Assemblies)
	out.Elements = join(r.Elements, more.Elements)
	out.Fixings = join(r.Fixings, more.Fixings)
	out.Holes = join(r.Holes, more.Holes)
	out.Relations = join(r.Relations, more.Relations)
	out.Prices = join(r.Prices, more.Prices)
	out.SignOffs = join(r.SignOffs, more.SignOffs)
	return &out
}

// Without is r without the records that others are put in place of, by their codes, and those records as they were. Host
// surfaces stay: what was built is looked at beside them.
func (r *Register) Without(put Records) (rest *Register, was Records) {
	out := *r
	out.Assemblies, was.Assemblies = parted(r.Assemblies, put.Assemblies, func(a *Assembly) string { return a.Code })
	out.Elements, was.Elements = parted(r.Elements, put.Elements, func(e *Element) string { return e.Code })
	out.Fixings, was.Fixings = parted(r.Fixings, put.Fixings, func(f *Fixing) string { return f.Code })
	out.Holes, was.Holes = parted(r.Holes, put.Holes, func(h *Hole) string { return h.Code })
	out.Relations, was.Relations = parted(r.Relations, put.Relations, func(rel *Relation) string { return rel.Code })
	return &out, was
}

// parted parts records into those whose code is not among others, and those whose code is.
func parted[T any](records, others []T, codeOf func(*T) string) (rest, named []T) {
	if len(others) == 0 {
		return records, nil
	}
	gone := make(map[string]bool, len(others))
	for i := range others {
		gone[codeOf(&others[i])] = true
	}
	for i := range records {
		if gone[codeOf(&records[i])] {
			named = append(named, records[i])
		} else {
			rest = append(rest, records[i])
		}
	}
	return rest, named
}

// SetHosts gives r its host surfaces: those in force and, apart from them, those that were struck out.
func (r *Register) SetHosts(all []HostSurface) {
	r.Hosts, r.StruckHosts = make([]HostSurface, 0, len(all)), nil
	for _, h := range all {
		if h.Struck {
			r.StruckHosts = append(r.StruckHosts, h)
		} else {
			r.Hosts = append(r.Hosts, h)
		}
	}
}

// OnHost are the codes of everything on a host surface that is not struck out: fixings into it, holes in it, and what bears
// on it, each once.
func (r *Register) OnHost(code string) []string {
	var out []string
	for i := range r.Fixings {
		if f := &r.Fixings[i]; f.IntoHost == code && f.State != FixingStruck {
			out = append(out, f.Code)
		}
	}
	for i := range r.Holes {
		if h := &r.Holes[i]; h.Host == code && h.State != HoleStruck {
			out = append(out, h.Code)
		}
	}
	for i := range r.Relations {
		if rel := &r.Relations[i]; rel.To == code && !rel.Struck {
			out = append(out, rel.From)
		}
	}
	return out
}

func join[T any](a, b []T) []T {
	out := make([]T, 0, len(a)+len(b))
	return append(append(out, a...), b...)
}
