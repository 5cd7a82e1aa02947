package drawing

import "unpick/domain/strip"

// After is the moment after so many steps of a strip-out: their pieces and fixings gone, props that were put in and
// not yet struck holding, and the pieces of the next step standing out. 0 is before the first.
func After(steps []strip.Step, done int) State {
	s := State{Gone: map[string]bool{}, Held: map[string]bool{}, Highlight: map[string]Emphasis{}}
	for i, step := range steps {
		if i == done {
			for _, code := range step.Elements {
				s.Highlight[code] = Out
			}
		}
		if i >= done {
			break
		}
		for _, code := range step.Elements {
			switch step.Kind {
			case strip.Prop:
				s.Held[code] = true
			case strip.StrikeProp:
				delete(s.Held, code)
			case strip.Remove:
				s.Gone[code] = true
				delete(s.Held, code)
			}
		}
		for _, f := range step.Fixings {
			for _, code := range f.Codes {
				s.Gone[code] = true
			}
		}
	}
	return s
}
