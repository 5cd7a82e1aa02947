package fitoutfile

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"unpick/domain"
)

// MostBytes is the largest file that is read. Above it a file costs more memory than a phone call about it.
const MostBytes = 64 << 20

// readText reads all of a file that may be JSON in UTF-8, and refuses by name what is not.
func readText(rd io.Reader) ([]byte, error) {
	data, err := io.ReadAll(io.LimitReader(rd, MostBytes+1))
	if err != nil {
		return nil, fmt.Errorf("reading a fit-out file: %w", err)
	}
	if len(data) > MostBytes {
		return nil, domain.Errorf(domain.TooLarge,
			"the file is larger than %d MiB: give assemblies as recipes instead of piece by piece, or split the premises into several fit-outs", MostBytes>>20)
	}
	// Some editors put a byte order mark before UTF-8. It says nothing and harms nothing.
	data = bytes.TrimPrefix(data, []byte("\xEF\xBB\xBF"))
	if what := otherThanJSON(data); what != "" {
		return nil, domain.Errorf(domain.Invalid, "%s", what)
	}
	if at := notUTF8(data); at >= 0 {
		return nil, domain.Errorf(domain.Invalid, "%s: byte %d of the file (0x%02X) is not UTF-8: save the file as UTF-8", placeOf(data, at), at, data[at])
	}
	if !json.Valid(data) {
		return nil, brokenSyntax(data)
	}
	return data, nil
}

// otherThanJSON says what a file is that cannot be JSON, "" where it may be.
func otherThanJSON(data []byte) string {
	start := data[:min(len(data), 4096)]
	starts := func(prefix string) bool { return bytes.HasPrefix(start, []byte(prefix)) }
	has := func(word string) bool { return bytes.Contains(start, []byte(word)) }
	const mend = "give the fit-out file itself, which is JSON"
	switch {
	case len(bytes.TrimSpace(data)) == 0:
		return "the file is empty: " + mend
	case starts("PK\x03\x04") && (has("xl/") || has("[Content_Types].xml") || has("opendocument.spreadsheet")):
		return "this is a spreadsheet, whatever its name ends in: " + mend
	case starts("PK\x03\x04"):
		return "this is a zip, perhaps a spreadsheet or other office document: " + mend
	case starts("\xD0\xCF\x11\xE0"):
		return "this is a spreadsheet or other office document of the older sort: " + mend
	case starts("\x1F\x8B"):
		return "this file is compressed with gzip: unpack it first"
	case starts("%PDF"):
		return "this is a PDF: " + mend
	// A JSON text begins with a plain character, so that a zero among the first two bytes is half of one.
	case starts("\xFF\xFE"), starts("\xFE\xFF"), len(data) > 1 && (data[0] == 0) != (data[1] == 0):
		return "the file is written in UTF-16: save it as UTF-8"
	case bytes.HasPrefix(bytes.TrimSpace(start), []byte("<")):
		return "this is XML or a web page: " + mend
	}
	return ""
}

// notUTF8 is the place of the first byte that is not UTF-8, -1 where there is none.
func notUTF8(data []byte) int {
	if utf8.Valid(data) {
		return -1
	}
	for at := 0; at < len(data); {
		r, size := utf8.DecodeRune(data[at:])
		if r == utf8.RuneError && size <= 1 {
			return at
		}
		at += size
	}
	return -1
}

// brokenSyntax says where a text stops being JSON and what is most often wrong there.
func brokenSyntax(data []byte) error {
	var nothing json.RawMessage
	err := json.Unmarshal(data, &nothing)
	syntax, ok := errors.AsType[*json.SyntaxError](err)
	if !ok {
		return domain.Errorf(domain.Invalid, "the file is not JSON: %v", err)
	}
	at := max(int(syntax.Offset)-1, 0)
	return domain.Errorf(domain.Invalid, "%s: %s", placeOf(data, at), syntaxHint(syntax.Error()))
}

// syntaxHint adds to the JSON reader's own words what a person most likely did.
func syntaxHint(words string) string {
	for _, hint := range []struct{ part, text string }{
		{"unexpected end", "the file ends in the middle of its JSON: it was cut off, save or send it again"},
		{"after top-level value", "something follows after the end of the fit-out: take it away, a file holds one"},
		{"exceeded max depth", "groups stand inside groups too deeply for a fit-out: this is another program's JSON"},
		{"looking for beginning of object key", "%s: a name in double quotes belongs here; is there a comma too many before it?"},
		{"looking for beginning of value", "%s: a value belongs here; is there a comma too many, or a word without its double quotes?"},
		{"after object key:value pair", "%s: a comma or a closing brace is missing before this"},
		{"after array element", "%s: a comma or a closing bracket is missing before this"},
		{"after object key", "%s: a colon is missing between the name and its value"},
		{"in string literal", "%s: a line break or tab stands inside a text; write \\n or \\t, and look for a missing closing quote"},
		{"in string escape", "%s: write a backslash twice (\\\\)"},
	} {
		if strings.Contains(words, hint.part) {
			return strings.ReplaceAll(hint.text, "%s", words)
		}
	}
	return words + ": mend the JSON there"
}

// placeOf is a place in the text in words: lines and columns count from one, columns in characters.
func placeOf(data []byte, at int) string {
	at = min(at, len(data))
	line := bytes.LastIndexByte(data[:at], '\n') + 1
	return fmt.Sprintf("line %d, column %d", lineOf(data, at), utf8.RuneCount(data[line:at])+1)
}

func lineOf(data []byte, at int) int { return 1 + bytes.Count(data[:min(at, len(data))], []byte("\n")) }
