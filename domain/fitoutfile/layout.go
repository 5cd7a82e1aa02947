package fitoutfile

import (
	"errors"
	"strings"

	"unpick/domain"
)

// layout is where things stand in the text of a file: its members, and the records of those that are lists. It
// lets records be checked one at a time, and gives a pointer its line.
type layout struct {
	data    []byte
	members []member
}

type member struct {
	name    string
	value   span
	records []span // of a list
	isList  bool
}

// layOut scans a whole text, which has to be one group.
func layOut(data []byte) (*layout, error) {
	l := &layout{data: data}
	s := &scanner{data: data}
	s.space()
	if data[s.at] != '{' {
		return nil, domain.Errorf(domain.Invalid, "%s: the file does not start with a group in braces: give the fit-out file itself", placeOf(data, s.at))
	}
	err := s.each(func(name []byte, _ int) error {
		m := member{name: string(name), value: span{from: s.at}, isList: data[s.at] == '['}
		var err error
		if m.isList {
			err = s.each(func([]byte, int) error {
				from := s.at
				err := s.value()
				m.records = append(m.records, span{from, s.at})
				return err
			})
		} else {
			err = s.value()
		}
		m.value.to = s.at
		l.members = append(l.members, m)
		return err
	})
	if f, ok := errors.AsType[*scanFault](err); ok {
		return nil, f.told(data)
	}
	return l, err
}

func (l *layout) member(name string) (member, bool) {
	for _, m := range l.members {
		if m.name == name {
			return m, true
		}
	}
	return member{}, false
}

// line is the line on which the value at a pointer stands, or the nearest group around it that the text has.
func (l *layout) line(at string) int {
	whole := span{0, len(l.data)}
	for _, key := range strings.Split(at, "/")[1:] {
		inner, ok := l.inside(whole, strings.NewReplacer("~1", "/", "~0", "~").Replace(key))
		if !ok {
			break
		}
		whole = inner
	}
	start := whole.from
	if whole.from == 0 {
		s := &scanner{data: l.data}
		s.space()
		start = s.at
	}
	return lineOf(l.data, start)
}

// inside is the value under a name or place of the group or list that a span holds. Records are found from the
// layout, so that a line in a long list does not cost a scan of the list.
func (l *layout) inside(within span, key string) (span, bool) {
	for _, m := range l.members {
		if m.isList && within == m.value {
			if i := place(key, len(m.records)); i >= 0 {
				return m.records[i], true
			}
			return span{}, false
		}
	}
	if within == (span{0, len(l.data)}) {
		m, ok := l.member(key)
		return m.value, ok
	}
	s := &scanner{data: l.data, at: within.from}
	if c := l.data[s.at]; c != '{' && c != '[' {
		return span{}, false
	}
	found, ok := span{}, false
	// Faults were told when the text was laid out.
	_ = s.each(func(name []byte, i int) error {
		from := s.at
		err := s.value()
		if part(name, i) == key {
			found, ok = span{from, s.at}, true
		}
		return err
	})
	return found, ok
}

// pointerAt is the pointer to the value that ends at, or holds, a place in the text.
func (l *layout) pointerAt(place int) string {
	at := ""
	for _, m := range l.members {
		if place < m.value.from || place > m.value.to {
			continue
		}
		at = pointer(m.name)
		s := &scanner{data: l.data, at: m.value.from}
		return at + s.wayTo(place)
	}
	return at
}

// wayTo is the way from the value at the scanner to the innermost one that holds a place.
func (s *scanner) wayTo(place int) string {
	if c := s.data[s.at]; c != '{' && c != '[' {
		return ""
	}
	way := ""
	// Faults were told when the text was laid out.
	_ = s.each(func(name []byte, i int) error {
		from := s.at
		err := s.value()
		if way == "" && place > from && place <= s.at {
			inner := &scanner{data: s.data, at: from}
			way = pointer(part(name, i)) + inner.wayTo(place)
		}
		return err
	})
	return way
}
