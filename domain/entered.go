package domain

import (
	"slices"
	"strconv"
	"time"
)

// Entered is when a condition record was entered, as the log has it. The day on which a record says that the surface was
// seen is whoever's word it is; this one anybody can check.
type Entered struct {
	Entry      int64  // of the log
	On         string // the server's day in UTC, ISO 8601
	WithFile   bool   // it came in with the file that the log begins with: about what was before, the log is silent
	AfterHoles bool   // a hole of the tenant's was logged in the surface before it
	AfterIssue string // the newest issue that had gone out by then, in words; "" for none
}

// Late reports whether it was entered on another day than the one on which the surface is said to have been seen. A day is
// let pass, because where the work is it may be yesterday still.
func (e Entered) Late(seen string) bool { return e.On > tomorrow(seen) }

// Flagged reports whether it was entered when somebody had a reason to: after holes were logged in the surface, or after an
// issue went out. It may be honest all the same. Only what is said of the start is looked at so: it decides what is owed.
func (e Entered) Flagged() bool { return !e.WithFile && (e.AfterHoles || e.AfterIssue != "") }

// Words say when a record was entered: "entered 12 Mar 2027, after holes were logged in it and after issue 2 went out". They
// are "" where there is nothing to say. start is a record of the start.
func (e Entered) Words(seen string, start bool) string {
	flagged := start && e.Flagged()
	if e.On == "" || !flagged && !e.Late(seen) {
		return ""
	}
	words := "entered " + dayWords(e.On)
	switch {
	case e.WithFile:
		words += ", with the file that this log begins with"
	case flagged && e.AfterHoles && e.AfterIssue != "":
		words += ", after holes were logged in it and after " + e.AfterIssue + " went out"
	case flagged && e.AfterHoles:
		words += ", after holes were logged in it"
	case flagged:
		words += ", after " + e.AfterIssue + " went out"
	}
	return words
}

// dayWords writes a date as "12 Mar 2027".
func dayWords(date string) string {
	t, err := time.Parse(time.DateOnly, date)
	if err != nil {
		return date
	}
	return t.Format("2 Jan 2006")
}

// EnteredOf is when a record of a surface was entered; false where the register was read without a log.
func (r *Register) EnteredOf(host string, record int) (Entered, bool) {
	all := r.Entered[host]
	if record < 1 || record > len(all) {
		return Entered{}, false
	}
	return all[record-1], true
}

// OfStart reports whether a record stands at the start: it says so, or says nothing and is dated no later than the tenancy
// began.
func (c Condition) OfStart(tenancyStart string) bool {
	return c.Stage == AtStart || c.Stage == "" && tenancyStart != "" && c.On <= tenancyStart
}

// EnteredLate says how the records were entered in which these defects of a surface stand, of those that are flagged:
// "SLAB record 3, dated 1 Apr 2026, was entered 12 Nov 2026, after issue 1 went out". "" where none is.
func (r *Register) EnteredLate(h *HostSurface, defects []int) string {
	words, told := "", 0
	for _, d := range h.Defects() {
		e, ok := r.EnteredOf(h.Code, d.Record)
		if !ok || !e.Flagged() || d.Record == told || !slices.Contains(defects, d.Number) {
			continue
		}
		told = d.Record
		if words != "" {
			words += "; "
		}
		words += h.RecordWords(d.Record, e)
	}
	return words
}

// RecordWords says of a condition record of the start when it is dated and when it was entered.
func (h *HostSurface) RecordWords(record int, e Entered) string {
	c := h.Conditions[record-1]
	return "condition record " + strconv.Itoa(record) + " of " + h.Code + ", dated " + dayWords(c.On) + ", was " + e.Words(c.On, true)
}
