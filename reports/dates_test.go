package reports_test

import (
	"bytes"
	"fmt"
	"os"
	"regexp"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"
	"pgregory.net/rapid"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/fitoutfile"
	"unpick/domain/lease"
	"unpick/domain/plan"
	"unpick/domain/recipe"
	"unpick/reports"
)

var stamp = time.Date(2026, 11, 25, 14, 30, 5, 0, time.UTC)

// property is one content line, unfolded.
type property struct{ name, params, value string }

// contentLine is RFC 5545, 3.1, for the properties that we write: a name, parameters without quotes, a value without
// control characters but the tab.
var contentLine = regexp.MustCompile(`^([A-Z][A-Z0-9-]*)((?:;[A-Z0-9-]+=[^\x00-\x08\x0a-\x1f\x7f";:,]*)*):([^\x00-\x08\x0a-\x1f\x7f]*)$`)

// parsed reads an iCalendar file strictly: every line ends in CRLF, is at most 75 octets, is whole UTF-8 by itself, and
// follows the grammar once unfolded.
func parsed(text string) ([]property, error) {
	if !strings.HasSuffix(text, "\r\n") {
		return nil, fmt.Errorf("the last line does not end in CRLF")
	}
	var lines []string
	for l := range strings.SplitSeq(strings.TrimSuffix(text, "\r\n"), "\r\n") {
		switch {
		case len(l) > 75:
			return nil, fmt.Errorf("%d octets in %q", len(l), l)
		case strings.ContainsAny(l, "\r\n"):
			return nil, fmt.Errorf("half a line ending in %q", l)
		case !utf8.ValidString(l):
			return nil, fmt.Errorf("a character is cut in two in %q", l)
		case strings.HasPrefix(l, " ") && len(lines) > 0:
			lines[len(lines)-1] += l[1:]
		default:
			lines = append(lines, l)
		}
	}
	var out []property
	for _, l := range lines {
		m := contentLine.FindStringSubmatch(l)
		if m == nil {
			return nil, fmt.Errorf("%q is no content line", l)
		}
		out = append(out, property{m[1], m[2], m[3]})
	}
	return out, nil
}

// text undoes the escapes of a TEXT value (RFC 5545, 3.3.11), and refuses any other backslash and a bare comma or semicolon.
func text(value string) (string, error) {
	var out strings.Builder
	for i := 0; i < len(value); i++ {
		switch c := value[i]; c {
		case '\\':
			i++
			if i == len(value) {
				return "", fmt.Errorf("a backslash at the end of %q", value)
			}
			switch value[i] {
			case 'n', 'N':
				out.WriteByte('\n')
			case '\\', ';', ',':
				out.WriteByte(value[i])
			default:
				return "", fmt.Errorf(`\%c in %q`, value[i], value)
			}
		case ',', ';':
			return "", fmt.Errorf("a bare %c in %q", c, value)
		default:
			out.WriteByte(c)
		}
	}
	return out.String(), nil
}

func demo(tb testing.TB) (*domain.Register, *plan.Plan) {
	tb.Helper()
	file, err := os.Open("../testdata/demo.json")
	if err != nil {
		tb.Fatal(err)
	}
	defer file.Close()
	r, err := fitoutfile.Read(file, catalogue.Default(), recipe.Expand)
	if err != nil {
		tb.Fatal(err)
	}
	p, err := plan.Make(r)
	if err != nil {
		tb.Fatal(err)
	}
	return r, p
}

func written(tb testing.TB, f domain.FitOut, dates []lease.Date) []property {
	tb.Helper()
	var out bytes.Buffer
	if err := reports.Dates(&out, f, dates, stamp); err != nil {
		tb.Fatal(err)
	}
	lines, err := parsed(out.String())
	if err != nil {
		tb.Fatalf("%v in\n%s", err, out.String())
	}
	return lines
}

// TestDates: one day, whole, with everything that the standard asks of an event.
func TestDates(t *testing.T) {
	t.Parallel()
	f := domain.FitOut{UID: "7d444840-9dc0-11d1-b245-5ffdce74fad2", Code: "WREN-PRESS", Name: "Wren Lane Press; letterpress, bindery"}
	long := strings.Repeat("zwölf Arbeitstage, ", 12)
	got := written(t, f, []lease.Date{{Kind: lease.LastSafeDay, For: lease.BreakDate, On: "2028-12-31", What: "Last safe day", Because: long}})
	want := []property{
		{"BEGIN", "", "VCALENDAR"}, {"VERSION", "", "2.0"}, {"PRODID", "", "-//unpick//dates of a lease//EN"}, {"CALSCALE", "", "GREGORIAN"},
		{"BEGIN", "", "VEVENT"}, {"UID", "", "03cb3cd6-23ed-5dff-97b1-363609dc637a"}, {"DTSTAMP", "", "20261125T143005Z"},
		{"DTSTART", ";VALUE=DATE", "20281231"}, {"DTEND", ";VALUE=DATE", "20290101"},
		{"SUMMARY", "", `Wren Lane Press\; letterpress\, bindery: Last safe day`}, {"DESCRIPTION", "", strings.ReplaceAll(long, ",", `\,`)},
		{"TRANSP", "", "TRANSPARENT"},
	}
	// RFC 5545, 3.3.6 and 3.8.6.3: nine in the morning so many days before the midnight that the day begins with.
	for _, ahead := range [][2]string{{"90", "-P89DT15H"}, {"30", "-P29DT15H"}, {"7", "-P6DT15H"}} {
		want = append(want, property{"BEGIN", "", "VALARM"}, property{"ACTION", "", "DISPLAY"},
			property{"DESCRIPTION", "", `Wren Lane Press\; letterpress\, bindery: Last safe day\, in ` + ahead[0] + " days"}, property{"TRIGGER", "", ahead[1]}, property{"END", "", "VALARM"})
	}
	want = append(want, property{"END", "", "VEVENT"}, property{"END", "", "VCALENDAR"})
	if diff := cmp.Diff(want, got, cmp.AllowUnexported(property{})); diff != "" {
		t.Errorf("dates.ics (-want +got):\n%s", diff)
	}
	if err := reports.Dates(&bytes.Buffer{}, f, nil, stamp); domain.CodeOf(err) != domain.Refused {
		t.Errorf("without a date: %v, want it refused", err)
	}
}

// TestDatesUIDsAreOfOneFitOut: "The UID itself MUST be a globally unique identifier", and must not hold what identifies a user
// or a host (RFC 7986, 5.3). So fit-outs of one code share none, in a database or out of one, and none has a code or an address in it.
func TestDatesUIDsAreOfOneFitOut(t *testing.T) {
	t.Parallel()
	wren := domain.FitOut{Code: "UNIT-7", Name: "x", Premises: domain.Premises{Address: "7 Wren Lane"}, Tenant: "Wren Lane Press", Tenancy: domain.Tenancy{Start: "2024-03-25"}}
	finch, kept, also := wren, wren, wren
	finch.Tenant = "Finch Bindery"
	kept.UID, also.UID = "7d444840-9dc0-11d1-b245-5ffdce74fad2", "6ba7b810-9dad-11d1-80b4-00c04fd430c8"
	dates := []lease.Date{{Kind: lease.Expiry, For: lease.Expiry, On: "2027-01-01"}, {Kind: lease.HandBack, For: lease.Expiry, On: "2027-01-01"}, {Kind: lease.HandBack, For: lease.BreakDate, On: "2026-01-01"}}
	seen := map[string]bool{}
	for _, f := range []domain.FitOut{wren, finch, kept, also} {
		moved := f
		moved.Name, moved.Tenancy.Expiry, moved.Version = "renamed", "2027-02-01", 9
		if diff := cmp.Diff(uidsOf(t, f, dates), uidsOf(t, moved, dates)); diff != "" {
			t.Errorf("another export, other UIDs:\n%s", diff)
		}
		for _, uid := range uidsOf(t, f, dates) {
			if _, err := uuid.Parse(uid); err != nil || len(uid) != 36 || seen[uid] {
				t.Errorf("UID %q is none, or comes twice (%v)", uid, err)
			}
			seen[uid] = true
		}
	}
	if err := reports.Dates(&bytes.Buffer{}, domain.FitOut{Code: "A", UID: "1"}, dates, stamp); err == nil {
		t.Error("an identity that is no UUID was written")
	}
}

func uidsOf(tb testing.TB, f domain.FitOut, dates []lease.Date) []string {
	tb.Helper()
	var out []string
	for _, l := range written(tb, f, dates) {
		if l.name == "UID" {
			out = append(out, l.value)
		}
	}
	return out
}

// TestDatesUIDs: no two dates of one lease share a UID, and a date that moves keeps its own.
func TestDatesUIDs(t *testing.T) {
	t.Parallel()
	r, p := demo(t)
	uids := func(today time.Time) map[string]string {
		out := map[string]string{}
		uid := ""
		for _, l := range written(t, r.FitOut, lease.Of(r, p, today).Dates) {
			switch l.name {
			case "UID":
				if uid = l.value; out[uid] != "" {
					t.Errorf("UID %s twice", uid)
				}
			case "DTSTART":
				out[uid] = l.value
			}
		}
		return out
	}
	before := uids(stamp)
	r.FitOut.Tenancy.ContingencyDays = 10
	moved := 0
	for uid, on := range uids(stamp) {
		if before[uid] == "" {
			t.Errorf("UID %s is new, and nothing but the days in hand changed", uid)
		} else if before[uid] != on {
			moved++
		}
	}
	if moved == 0 || len(before) < 8 {
		t.Errorf("%d of %d dates moved with ten days in hand", moved, len(before))
	}
}

// TestDatesNoAlarmForWhatIsDone: the last day for notice has its alarms until it was served, and says so afterwards under the same
// UID, so that a calendar that has it loses them (RFC 5545, 3.8.4.7: the UID is persistent).
func TestDatesNoAlarmForWhatIsDone(t *testing.T) {
	t.Parallel()
	r, p := demo(t)
	alarms := func() (uid, summary string, n int) {
		in := false
		for _, l := range written(t, r.FitOut, lease.Of(r, p, stamp).Dates) {
			switch {
			case l.name == "UID":
				in = false
				uid = l.value
			case l.name == "SUMMARY" && strings.Contains(l.value, "Notice of the break"):
				in, summary = true, l.value
			case l.name == "TRIGGER" && in:
				n++
			}
			if in && summary != "" && l.name == "END" && l.value == "VEVENT" {
				return uid, summary, n
			}
		}
		t.Fatal("no notice among the dates")
		return "", "", 0
	}
	before, _, n := alarms()
	if n != 3 {
		t.Fatalf("%d alarms before it was served, want 3", n)
	}
	c, err := lease.Give(r, lease.Notice{Notice: domain.BreakNotice, On: "2026-11-20", How: "by hand", By: "A. Wren"}, "2026-11-25")
	if err != nil {
		t.Fatal(err)
	}
	r = r.With(c.Add)
	uid, summary, n := alarms()
	if uid != before || n != 0 || !strings.HasSuffix(summary, `Notice of the break\, served on Fri 20 Nov 2026`) {
		t.Errorf("served: UID %s, before %s, %d alarms, %q", uid, before, n, summary)
	}
}

// TestDatesWords: whatever is typed comes back as it was, line endings as \n and other control characters left out.
func TestDatesWords(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.StringOf(rapid.OneOf(rapid.Rune(), rapid.SampledFrom([]rune("\\;,:\"\n\r\t\x00\x7f äé漢🪚")))).Draw(t, "words")
		var out bytes.Buffer
		if err := reports.Dates(&out, domain.FitOut{Code: words, Name: words}, []lease.Date{{Kind: lease.Expiry, For: lease.Expiry, On: "2027-01-01", What: "x", Because: words}}, stamp); err != nil {
			t.Fatal(err)
		}
		lines, err := parsed(out.String())
		if err != nil {
			t.Fatal(err)
		}
		want := strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(strings.ToValidUTF8(words, "\uFFFD"))
		want = strings.Map(func(c rune) rune {
			if c < ' ' && c != '\t' && c != '\n' || c == 0x7f {
				return -1
			}
			return c
		}, want)
		for _, l := range lines {
			if l.name == "DESCRIPTION" {
				if got, err := text(l.value); err != nil || got != want {
					t.Fatalf("%q came back as %q (%v)", want, got, err)
				}
			}
		}
	})
}
