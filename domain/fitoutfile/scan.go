package fitoutfile

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strconv"

	"unpick/domain"
)

// deepest is how many groups may stand inside each other. A fit-out needs a dozen.
const deepest = 40

// span is a piece of the text, from a byte up to before another.
type span struct{ from, to int }

// scanner walks a text that is known to be JSON, and refuses what the JSON reader would take in silence: a name
// twice in one group (the later would win), half characters and NULs in texts, numbers of absurd length.
type scanner struct {
	data  []byte
	at    int
	depth int
	names [][]byte // of the groups that are open, one after another
}

// scanFault is what is wrong at a place, with the way to it, innermost name first.
type scanFault struct {
	at   int
	way  []string
	text string
}

func (f *scanFault) Error() string { return f.text }

// told is the fault as it is told to a person.
func (f *scanFault) told(data []byte) error {
	way := slices.Clone(f.way)
	slices.Reverse(way)
	return domain.FieldErrorf(domain.Invalid, pointer(way...), "%s: %s", placeOf(data, f.at), f.text)
}

func (s *scanner) fault(at int, format string, args ...any) error {
	return &scanFault{at: at, text: fmt.Sprintf(format, args...)}
}

// value takes one value.
func (s *scanner) value() error {
	switch s.data[s.at] {
	case '{', '[':
		return s.each(func([]byte, int) error { return s.value() })
	case '"':
		_, err := s.text()
		return err
	case 't', 'n':
		s.at += len("true")
	case 'f':
		s.at += len("false")
	default:
		return s.number()
	}
	return nil
}

// each takes a group or a list, and calls child at the start of each value in it, which child has to take, with the
// value's name (decoded; nil in a list) and its place.
func (s *scanner) each(child func(name []byte, i int) error) error {
	if s.depth++; s.depth > deepest {
		return s.fault(s.at, "groups stand inside groups more than %d deep: this is no fit-out", deepest)
	}
	isGroup, open := s.data[s.at] == '{', len(s.names)
	var many map[string]bool // beyond a few names, so that a hostile group does not cost its square
	s.at++
	for i := 0; ; i++ {
		s.space()
		switch s.data[s.at] {
		case '}', ']':
			s.at++
			s.names = s.names[:open]
			s.depth--
			return nil
		case ',':
			s.at++
			s.space()
		}
		var name []byte
		if isGroup {
			var err error
			if name, many, err = s.name(open, many); err != nil {
				return err
			}
		}
		if err := child(name, i); err != nil {
			if f, ok := errors.AsType[*scanFault](err); ok {
				f.way = append(f.way, part(name, i))
			}
			return err
		}
	}
}

// name takes the name before a value and the colon after it, and refuses one that the group has already.
func (s *scanner) name(open int, many map[string]bool) ([]byte, map[string]bool, error) {
	start := s.at
	name, err := s.text()
	if err != nil {
		return nil, many, err
	}
	if many, err = s.newName(name, open, start, many); err != nil {
		return nil, many, err
	}
	s.space()
	s.at++ // the colon
	s.space()
	return name, many, nil
}

// newName refuses a name that the open group has already.
func (s *scanner) newName(name []byte, open, at int, many map[string]bool) (map[string]bool, error) {
	const few = 40
	taken := false
	if many != nil {
		taken = many[string(name)]
	} else {
		taken = slices.ContainsFunc(s.names[open:], func(other []byte) bool { return bytes.Equal(name, other) })
	}
	if taken {
		return many, s.fault(at, "%.60q stands twice in one group: keep one of them", name)
	}
	s.names = append(s.names, name)
	switch {
	case many != nil:
		many[string(name)] = true
	case len(s.names)-open > few:
		many = map[string]bool{}
		for _, other := range s.names[open:] {
			many[string(other)] = true
		}
	}
	return many, nil
}

// text takes a text and gives it decoded.
func (s *scanner) text() ([]byte, error) {
	start, escaped := s.at, false
	for s.at++; s.data[s.at] != '"'; s.at++ {
		if s.data[s.at] == '\\' {
			escaped = true
			s.at++
		}
	}
	s.at++
	quoted := s.data[start:s.at]
	if !escaped {
		return quoted[1 : len(quoted)-1], nil
	}
	if bytes.Contains(quoted, []byte(`\u`)) {
		if err := s.escapes(start); err != nil {
			return nil, err
		}
	}
	var text string
	if err := json.Unmarshal(quoted, &text); err != nil {
		return nil, s.fault(start, "the text cannot be read: %v", err)
	}
	return []byte(text), nil
}

// escapes refuses NUL, which no database takes, and one half of a surrogate pair, which would be replaced.
func (s *scanner) escapes(start int) error {
	unit := func(at int) int {
		if at+6 > s.at || s.data[at] != '\\' || s.data[at+1] != 'u' {
			return -1
		}
		n, _ := strconv.ParseUint(string(s.data[at+2:at+6]), 16, 16) // known to be JSON
		return int(n)
	}
	for at := start; at < s.at; at++ {
		if s.data[at] != '\\' {
			continue
		}
		switch u := unit(at); {
		case u == 0:
			return s.fault(at, "a NUL character (\\u0000) stands in a text: take it out")
		case u >= 0xD800 && u < 0xDC00:
			if low := unit(at + 6); low < 0xDC00 || low > 0xDFFF {
				return s.fault(at, "half a character (\\u%04x) stands in a text: type it again", u)
			}
			at += 11
		case u >= 0xDC00 && u < 0xE000:
			return s.fault(at, "half a character (\\u%04x) stands in a text: type it again", u)
		default:
			at++ // what is escaped may be a backslash
		}
	}
	return nil
}

// number takes a number. Its size is limited before anything computes with it: 1e999999999 is ten bytes.
func (s *scanner) number() error {
	start, exponent := s.at, -1
	for ; s.at < len(s.data) && bytes.IndexByte([]byte("+-.0123456789eE"), s.data[s.at]) >= 0; s.at++ {
		if s.data[s.at]|0x20 == 'e' {
			exponent = s.at
		}
	}
	if s.at-start > 40 || exponent >= 0 && len(bytes.TrimLeft(s.data[exponent:s.at], "eE+-0")) > 3 {
		return s.fault(start, "the number %.20s... is absurd: nothing in a fit-out is that large or that exact", s.data[start:s.at])
	}
	return nil
}

func (s *scanner) space() {
	for s.at < len(s.data) && (s.data[s.at] == ' ' || s.data[s.at] == '\n' || s.data[s.at] == '\t' || s.data[s.at] == '\r') {
		s.at++
	}
}
