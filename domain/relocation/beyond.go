package relocation

import (
	"fmt"
	"time"
)

// sayLease says what a day of giving back that is not the lease's does to the lease. A break that is missed is the dearest
// mistake of a move: what the lease then does, and what whoever stays on owes, is a solicitor's to say.
func (b *pair) sayLease(add func(string, ...any), handBack time.Time) {
	if words := b.dates.lease.beyond(handBack); words != "" {
		add("%s", words)
	}
	end := b.dates.lease.on
	if b.terms.HandBack == "" || end.IsZero() || !b.dates.rentEnds.Before(end) {
		return
	}
	add("Rent here is counted to %s, as asked. It runs to the %s on %s, unless the landlord agrees in writing to take the place back sooner.", words(b.dates.rentEnds), b.dates.lease.name(), words(end))
}

// beyond says what giving back on a day does that the lease has no room for; "" where it is in time.
func (l leaseEnd) beyond(handBack time.Time) string {
	switch {
	case l.on.IsZero() || handBack.IsZero():
		return ""
	case l.vacant && !handBack.Before(l.on):
		return fmt.Sprintf("%s is not before the break on %s, which needs vacant possession: given back then, the break can be lost%s. Have the landlord's agreement in writing and a solicitor's word before that day.", words(handBack), words(l.on), l.runsOn())
	case handBack.After(l.on) && l.broken:
		return fmt.Sprintf("%s is after the break on %s: given back then, the break can be lost%s. Have the landlord's agreement in writing and a solicitor's word before that day.", words(handBack), words(l.on), l.runsOn())
	case handBack.After(l.on):
		return fmt.Sprintf("%s is after the lease ends on %s: staying on without the landlord's agreement in writing can cost more than the rent. Ask before that day.", words(handBack), words(l.on))
	}
	return ""
}

// runsOn is what a lost break leaves.
func (l leaseEnd) runsOn() string {
	if !l.expiry.After(l.on) {
		return ""
	}
	return ", and the lease and its rent run on to " + words(l.expiry)
}

func (l leaseEnd) name() string {
	if l.broken {
		return "break"
	}
	return "end of the lease"
}
