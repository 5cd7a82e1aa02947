package pages

import (
	"fmt"
	"html/template"
	"math"
	"net/url"
	"strings"
	"time"

	"github.com/google/uuid"

	"unpick/api/service"
	"unpick/domain"
)

// functions are what every template may call.
func (p *Pages) functions() template.FuncMap {
	return template.FuncMap{
		"units": domain.UnitWords,
		"money": domain.FormatMoney, "escape": url.PathEscape, "at": at, "thousands": thousands, "hours": hours, "stepAt": stepAddress,
		"whole":  func(v float64) string { return thousands(int(math.Round(v))) },
		"plural": plural, "out": outWords, "sums": newSums, "figure": figureWords, "when": when, "priced": pricedName, "short": short, "day": day, "daysleft": daysLeft, "moment": moment, "key": newKey, "labelled": labelled, "add": func(a, b int) int { return a + b }, "lower": strings.ToLower, "first": firstFaults, "capital": capital, "did": didWords,
		"asset": func(name string) (string, error) {
			a, ok := p.assets[name]
			if !ok {
				return "", fmt.Errorf("there is no asset %s", name)
			}
			return a.address(), nil
		},
	}
}

// newKey is a key for one sending of one form, so that it is done once however often it arrives.
func newKey() (string, error) {
	key, err := uuid.NewV7()
	return key.String(), err
}

// capital is words as a sentence or a heading begins.
func capital(words string) string {
	if words == "" {
		return ""
	}
	return strings.ToUpper(words[:1]) + words[1:]
}

// thousands writes 5488 as "5,488".
func thousands(n int) string {
	if n < 0 {
		return "-" + thousands(-n)
	}
	if n < 1000 {
		return fmt.Sprint(n)
	}
	return thousands(n/1000) + fmt.Sprintf(",%03d", n%1000)
}

// hours writes minutes as people say them: "45 min", "2 h 30 min".
func hours(minutes int) string {
	h, m := minutes/60, minutes%60
	switch {
	case h == 0:
		return fmt.Sprintf("%d min", m)
	case m == 0:
		return fmt.Sprintf("%d h", h)
	}
	return fmt.Sprintf("%d h %d min", h, m)
}

// plural is "1 hole", "3 holes".
func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return thousands(n) + " " + many
}

// day writes an ISO 8601 date as "Mon 14 Mar 2026"; what is no date stays as it is.
func day(date string) string {
	t, err := time.Parse(time.DateOnly, date)
	if err != nil {
		return date
	}
	return t.Format("Mon 2 Jan 2006")
}

// didWords say what a visit by a link did.
func didWords(did string) string {
	switch did {
	case service.DidFile:
		return "took a file"
	case service.DidNotTaken:
		return "sent an answer that was not taken"
	}
	return did
}

// moment writes a log entry's time in UTC to the minute.
func moment(serverTime string) string {
	t, err := time.Parse(domain.LogTime, serverTime)
	if err != nil {
		return serverTime
	}
	return t.Format("2 Jan 2006, 15:04") + " UTC"
}

// daysLeft is "in 12 days", "today", "3 days ago".
func daysLeft(days int) string {
	switch {
	case days < 0:
		return plural(-days, "day", "days") + " ago"
	case days == 0:
		return "today"
	}
	return "in " + plural(days, "day", "days")
}

// figureWords writes a figure that a party gave, "" where it gave none.
func figureWords(minor *int64, currency string) string {
	if minor == nil {
		return ""
	}
	return domain.FormatMoney(*minor, currency)
}

// when writes a moment in UTC to the minute.
func when(t time.Time) string { return t.UTC().Format("2 Jan 2006, 15:04") + " UTC" }

// short is the beginning of a hash, enough to tell two apart at a glance.
func short(hash string) string { return hash[:min(len(hash), 16)] }
