package domain

import (
	"fmt"
	"time"
)

// Later are the faults of a change that says what nobody can have seen yet: a condition record or a sign-off that is dated after
// today. A day more is let through, because where the work is it may be tomorrow already. What the register holds from before,
// such as an earlier file's records, is told by DatedAfter and refused nowhere. Places are "/on", as every form of one asks.
func Later(before *Register, c Change, today string) Errors {
	var faults Errors
	last := tomorrow(today)
	for _, o := range c.Add.SignOffs {
		if o.On > last {
			faults.Addf(Invalid, "/on", "it is signed for %s, and today is %s: give the day on which it was done or seen", o.On, today)
		}
	}
	had := before.Index().Hosts
	for _, hosts := range [][]HostSurface{c.Add.Hosts, c.Put.Hosts} {
		for _, h := range hosts {
			known := 0
			if at, ok := had[h.Code]; ok {
				known = len(before.Hosts[at].Conditions)
			}
			for _, seen := range h.Conditions[min(known, len(h.Conditions)):] {
				if seen.On > last {
					faults.Addf(Invalid, "/on", "the condition of %s is dated %s, and today is %s: nobody has seen that yet. Give the day on which it was seen", h.Code, seen.On, today)
				}
			}
		}
	}
	return faults
}

// DatedAfter names the condition records and sign-offs that a register holds and that are dated after today.
func DatedAfter(r *Register, today string) []string {
	var out []string
	last := tomorrow(today)
	for i := range r.Hosts {
		for n, c := range r.Hosts[i].Conditions {
			if c.On > last {
				out = append(out, fmt.Sprintf("condition record %d of %s is dated %s, after today, %s", n+1, r.Hosts[i].Code, c.On, today))
			}
		}
	}
	for _, o := range r.SignOffs {
		if o.On > last {
			out = append(out, fmt.Sprintf("sign-off %s is dated %s, after today, %s", o.Code, o.On, today))
		}
	}
	return out
}

func tomorrow(today string) string {
	day, err := time.Parse(time.DateOnly, today)
	if err != nil { // today is a clock's, not a person's
		return today
	}
	return day.AddDate(0, 0, 1).Format(time.DateOnly)
}
