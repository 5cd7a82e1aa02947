package rest

import (
	"testing"

	"pgregory.net/rapid"

	"unpick/domain"
)

// TestCursorRoundTrip: every key comes back from its cursor.
func TestCursorRoundTrip(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		key := rapid.StringN(1, -1, 200).Draw(t, "key")
		cursor := writeCursor(key)
		if got, err := readCursor(&cursor); err != nil || got != key {
			t.Errorf("readCursor(writeCursor(%q)) = %q, %v", key, got, err)
		}
	})
}

// FuzzCursor: a cursor that is taken is one that we write.
func FuzzCursor(f *testing.F) {
	for _, seed := range []string{"", "!", "VzE", "VzF", "====", "VzE="} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, cursor string) {
		key, err := readCursor(&cursor)
		if err != nil {
			if domain.CodeOf(err) != domain.Invalid {
				t.Errorf("readCursor(%q): %v, want it invalid", cursor, err)
			}
			return
		}
		if writeCursor(key) != cursor {
			t.Errorf("readCursor(%q) = %q, whose cursor is %q", cursor, key, writeCursor(key))
		}
	})
}

func TestVersionIn(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		match string
		want  int // 0 is stale
	}{
		{`"3"`, 3},
		{`"12"`, 12},
		{`3`, 0},
		{`W/"3"`, 0}, // RFC 9110, 13.1.1: If-Match compares strongly, and a weak tag never matches
		{`*`, 0},     // would overwrite whatever is there
		{`"0"`, 0},
		{`"-1"`, 0},
		{`"3", "4"`, 0},
		{``, 0},
	} {
		got, err := versionIn(&tt.match)
		if got != tt.want || (tt.want == 0) != (domain.CodeOf(err) == domain.Stale) {
			t.Errorf("versionIn(%s) = %d, %v, want %d", tt.match, got, err, tt.want)
		}
	}
}
