package reports

import (
	"fmt"
	"io"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/google/uuid"

	"unpick/domain"
	"unpick/domain/calendar"
	"unpick/domain/lease"
)

// alarmHour is the hour of the morning at which a calendar reminds (common practice, no source).
const alarmHour = 9

// Dates writes the dates of a lease as an iCalendar file (RFC 5545): a whole day each, with the reason. A date keeps its
// UID when it moves, so that a calendar that has it already moves it too. What is warned of has alarms, as many days ahead as the
// pages warn. It is named by what the fit-out is, not by its code, which other firms have too: see identity. There must be a date:
// a calendar without one is against the standard. It has no METHOD, which would have to stand in the content type too (3.7.2),
// and wants an organizer (RFC 5546, 3.2.1): nobody is invited.
func Dates(w io.Writer, f domain.FitOut, dates []lease.Date, stamp time.Time) error {
	if len(dates) == 0 {
		return domain.Errorf(domain.Refused, "the lease has no dates: set its break date or expiry in the settings")
	}
	own, err := identity(f)
	if err != nil {
		return err
	}
	var out strings.Builder
	line := func(name, value string) { fold(&out, name+":"+value) }
	line("BEGIN", "VCALENDAR")
	line("VERSION", "2.0")
	line("PRODID", "-//unpick//dates of a lease//EN")
	line("CALSCALE", "GREGORIAN")
	for _, d := range dates {
		on, ok := calendar.Day(d.On)
		if !ok {
			return fmt.Errorf("writing the date %s of %s: %q is no date", d.Kind, f.Code, d.On)
		}
		line("BEGIN", "VEVENT")
		line("UID", uuid.NewSHA1(own, fmt.Appendf(nil, "%s/%s", d.For, d.Kind)).String())
		line("DTSTAMP", stamp.UTC().Format("20060102T150405Z"))
		line("DTSTART;VALUE=DATE", on.Format("20060102"))
		line("DTEND;VALUE=DATE", on.AddDate(0, 0, 1).Format("20060102")) // the day on which it no longer is
		line("SUMMARY", escaped(f.Name+": "+d.What))
		line("DESCRIPTION", escaped(d.Because))
		line("TRANSP", "TRANSPARENT")
		for _, days := range d.WarnedAhead() { // each some days ahead, never of the day itself
			line("BEGIN", "VALARM")
			line("ACTION", "DISPLAY")
			line("DESCRIPTION", escaped(fmt.Sprintf("%s: %s, in %d days", f.Name, d.What, days)))
			line("TRIGGER", fmt.Sprintf("-P%dDT%dH", days-1, 24-alarmHour)) // counted back from the midnight that a whole day begins with
			line("END", "VALARM")
		}
		line("END", "VEVENT")
	}
	line("END", "VCALENDAR")
	_, err = io.WriteString(w, out.String())
	return err
}

// withoutUID is the namespace of fit-outs that are in no database (RFC 9562, 5.5): a random UUID, once drawn.
var withoutUID = uuid.MustParse("81c1325b-7f5d-4466-b075-f85e6c06841b")

// identity is what the events of a fit-out are named under, so that a UID is unique everywhere, says nothing of who made it,
// and stays the same from one export to the next (RFC 7986, 5.3). A fit-out that is in no database is told by what it
// is: its code, place, parties and the day on which its lease began, none of which the dates depend on.
func identity(f domain.FitOut) (uuid.UUID, error) {
	if f.UID == "" {
		said := fmt.Appendf(nil, "%q %q %q %q %q %q", f.Code, f.Premises.Address, f.Tenant, f.Landlord, f.Firm, f.Tenancy.Start)
		return uuid.NewSHA1(withoutUID, said), nil
	}
	own, err := uuid.Parse(f.UID)
	if err != nil {
		return own, fmt.Errorf("reading the identity of fit-out %s: %w", f.Code, err)
	}
	return own, nil
}

// foldOctets is the longest line of an iCalendar file, its ending left out (RFC 5545, 3.1).
const foldOctets = 75

// fold writes a content line, folded between characters, never within one.
func fold(out *strings.Builder, line string) {
	room := foldOctets
	for len(line) > room {
		cut := room
		for !utf8.RuneStart(line[cut]) {
			cut--
		}
		out.WriteString(line[:cut] + "\r\n ")
		line, room = line[cut:], foldOctets-1 // the space counts
	}
	out.WriteString(line + "\r\n")
}

var icalEscapes = strings.NewReplacer(`\`, `\\`, ";", `\;`, ",", `\,`, "\r\n", `\n`, "\n", `\n`, "\r", `\n`)

// escaped is words as a TEXT value: control characters that the standard has no place for are left out.
func escaped(words string) string {
	words = icalEscapes.Replace(strings.ToValidUTF8(words, "\uFFFD"))
	return strings.Map(func(c rune) rune {
		if c < ' ' && c != '\t' || c == 0x7f {
			return -1
		}
		return c
	}, words)
}
