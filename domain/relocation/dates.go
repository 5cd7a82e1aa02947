package relocation

import (
	"fmt"
	"time"

	"unpick/domain"
	"unpick/domain/calendar"
	"unpick/domain/lease"
)

// dates are the two dates that everything runs between, and why they are those.
type dates struct {
	handBack, rentEnds      time.Time // zero where the lease has no end and nobody gives one
	entry                   time.Time // zero where nobody gives one
	delivery                time.Time // zero: with the entry
	notBefore               time.Time
	inHand                  int // working days kept in hand before giving back
	becauseBack, becauseInt string
	lease                   leaseEnd
}

// leaseEnd is the end of the old lease that everything is planned for, whatever day of giving back is asked.
type leaseEnd struct {
	on, handBack time.Time // zero where the lease has no end
	broken       bool      // by a break, and not at expiry
	vacant       bool      // the break needs the place empty before its day
	expiry       time.Time // to which the lease runs where it is not broken; zero where it is not known
}

// datesOf reads the dates: what is typed comes before what the leases say. signed are the notices given of the lease here.
func datesOf(here, there domain.FitOut, t Terms, c calendar.Calendar, today time.Time, signed []domain.SignOff) dates {
	d := dates{notBefore: today, delivery: day(t.Delivery), inHand: here.Tenancy.ContingencyDays}
	if t.NotBefore != "" {
		d.notBefore = day(t.NotBefore)
	}
	d.lease.expiry = day(here.Tenancy.Expiry)
	f := lease.Backwards(here.Tenancy, c, lease.Work{}, today, signed...)
	for _, x := range f.Dates {
		if x.For != f.End {
			continue
		}
		switch x.Kind {
		case lease.HandBack:
			d.lease.handBack, d.becauseBack = day(x.On), x.Because
		case lease.BreakDate, lease.Expiry:
			d.lease.on, d.lease.broken, d.lease.vacant = day(x.On), x.Kind == lease.BreakDate, x.Kind == lease.BreakDate && here.Tenancy.BreakVacant
		}
	}
	d.handBack, d.rentEnds = d.lease.handBack, d.lease.on
	if t.HandBack != "" {
		d.handBack, d.rentEnds, d.becauseBack = c.OnOrBefore(day(t.HandBack)), day(t.HandBack), "as asked"
	}
	switch {
	case t.Entry != "":
		d.entry, d.becauseInt = day(t.Entry), "as asked"
	case there.Tenancy.Start != "":
		d.entry, d.becauseInt = day(there.Tenancy.Start), fmt.Sprintf("the tenancy of %s begins then", there.Name)
	}
	return d
}
