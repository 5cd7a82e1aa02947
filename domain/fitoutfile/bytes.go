package fitoutfile

import (
	"bytes"
	"encoding/json"
	"unicode/utf8"

	"unpick/domain"
)

// looksLikeJSON refuses what is no JSON text, and says what it seems to be.
func looksLikeJSON(data []byte) error {
	switch {
	case len(data) > MostBytes:
		return domain.Errorf(domain.TooLarge, "the file is larger than %d MiB: split the works into several fit-outs", MostBytes>>20)
	case len(bytes.TrimSpace(data)) == 0:
		return domain.Errorf(domain.Invalid, "the file is empty")
	case bytes.HasPrefix(data, []byte("PK\x03\x04")):
		return domain.Errorf(domain.Invalid, "this is a spreadsheet or a zip, not JSON: give the fit-out file itself (see: unpick schema)")
	case bytes.HasPrefix(data, []byte{0xFE, 0xFF}), bytes.HasPrefix(data, []byte{0xFF, 0xFE}):
		return domain.Errorf(domain.Invalid, "the file is written in UTF-16: save it as UTF-8")
	case bytes.HasPrefix(data, []byte{0xEF, 0xBB, 0xBF}):
		return domain.Errorf(domain.Invalid, "the file begins with a byte order mark: save it as UTF-8 without one")
	}
	for at := 0; at < len(data); {
		r, size := utf8.DecodeRune(data[at:])
		if r == utf8.RuneError && size <= 1 {
			return domain.Errorf(domain.Invalid, "line %d: byte %d is not UTF-8: save the file as UTF-8", lineOf(data, int64(at)), at)
		}
		at += size
	}
	return nil
}

// noDoubledKeys refuses a name that stands twice in one group: the later one would win without a word.
func noDoubledKeys(data []byte) error {
	decoder := json.NewDecoder(bytes.NewReader(data))
	type group struct {
		object bool
		key    bool // the next text is a key
		seen   map[string]bool
	}
	var open []group
	for {
		token, err := decoder.Token()
		if err != nil {
			return nil // broken syntax is told by the reader, with its line
		}
		top := len(open) - 1
		switch t := token.(type) {
		case json.Delim:
			switch t {
			case '{':
				open = append(open, group{object: true, key: true, seen: map[string]bool{}})
				continue
			case '[':
				open = append(open, group{})
				continue
			}
			if open = open[:top]; len(open) == 0 {
				return nil
			}
			top--
		case string:
			if open[max(top, 0)].object && open[top].key {
				if open[top].seen[t] {
					return domain.Errorf(domain.Invalid, "line %d: %q stands twice in one group: keep one of them", lineOf(data, decoder.InputOffset()), t)
				}
				open[top].seen[t], open[top].key = true, false
				continue
			}
		}
		if top >= 0 && open[top].object {
			open[top].key = true
		}
		if len(open) == 0 {
			return nil
		}
	}
}
