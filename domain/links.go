package domain

// Nowhere is the place of a record that is not named, or whose code nobody knows.
const Nowhere int32 = -1

// Links is a register with every code that its pieces and fixings name looked up once, as places in the register's
// slices. A place costs an array read where a code costs a search. It is read-only and holds for as long as nothing
// changes the register, so that planners which share nothing else may share it.
type Links struct {
	*Index
	Register *Register

	Holds       []int32 // by fixing: the element that it holds
	IntoElement []int32 // by fixing
	IntoHost    []int32 // by fixing
	AssemblyOf  []int32 // by element

	throughFirst []int32 // by fixing: where its part of through starts
	through      []int32
}

// Link looks up what a register's records name.
func (r *Register) Link() *Links {
	l := &Links{
		Index: r.Index(), Register: r,
		Holds: make([]int32, len(r.Fixings)), IntoElement: make([]int32, len(r.Fixings)), IntoHost: make([]int32, len(r.Fixings)),
		AssemblyOf: make([]int32, len(r.Elements)), throughFirst: make([]int32, len(r.Fixings)+1),
	}
	assembly := finder(l.Assemblies)
	for i := range r.Elements {
		l.AssemblyOf[i] = assembly(r.Elements[i].Assembly)
	}
	holds, into, host, through := finder(l.Elements), finder(l.Elements), finder(l.Hosts), finder(l.Elements)
	for i := range r.Fixings {
		f := &r.Fixings[i]
		l.Holds[i], l.IntoElement[i], l.IntoHost[i] = holds(f.Holds), into(f.IntoElement), host(f.IntoHost)
		for _, code := range f.Through {
			if e := through(code); e != Nowhere {
				l.through = append(l.through, e)
			}
		}
		l.throughFirst[i+1] = int32(len(l.through))
	}
	return l
}

// Through lists the elements that a fixing passes through, those that the register knows, in the order logged.
func (l *Links) Through(fixing int32) []int32 {
	return l.through[l.throughFirst[fixing]:l.throughFirst[fixing+1]]
}

// Place is where a code stands in one of the index's maps, Nowhere where it does not.
func Place(places map[string]int, code string) int32 {
	if i, ok := places[code]; ok {
		return int32(i)
	}
	return Nowhere
}

// finder looks codes up and remembers the last one: records that follow each other mostly name the same thing.
func finder(places map[string]int) func(code string) int32 {
	lastCode, last := "", Place(places, "")
	return func(code string) int32 {
		if code != lastCode {
			lastCode, last = code, Place(places, code)
		}
		return last
	}
}
