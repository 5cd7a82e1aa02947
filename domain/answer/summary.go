package answer

import (
	"unpick/domain"
	"unpick/domain/schedule"
)

// Summary is what stands between the parties. Every item is in exactly one of its states, and the sums by the tenant's
// figure over all of them are the total of the schedule as the tenant stands.
type Summary struct {
	Items    int `json:"items"`
	Proposed int `json:"proposed"`
	Answered int `json:"answered"`
	Agreed   int `json:"agreed"`
	Disputed int `json:"disputed"`
	Done     int `json:"done"`
	// AgreedMinor is the sum of what both stand at, done items included, of which DoneMinor.
	AgreedMinor int64 `json:"agreed_minor"`
	DoneMinor   int64 `json:"done_minor"`
	// The disputed and the open (proposed or answered) items, by each party's figures. The landlord's are those given:
	// WithoutLandlord counts the items of both that the landlord gave none for.
	DisputedTenantMinor   int64 `json:"disputed_tenant_minor"`
	DisputedLandlordMinor int64 `json:"disputed_landlord_minor"`
	OpenTenantMinor       int64 `json:"open_tenant_minor"`
	OpenLandlordMinor     int64 `json:"open_landlord_minor"`
	WithoutLandlord       int   `json:"without_landlord_figure"`
	// WithoutTenant counts the items that are not agreed and have no rate: no sum has them.
	WithoutTenant int `json:"without_rate"`
	// TenantMinor is the whole schedule as the tenant stands: agreed, disputed and open.
	TenantMinor int64 `json:"tenant_minor"`
	// From what was scheduled to the sum as agreed so far, and on to where the tenant stands: each is the one before and a
	// difference. What has no rate was scheduled at nothing.
	ScheduledMinor        int64 `json:"scheduled_minor"`
	AgreedDifferenceMinor int64 `json:"agreed_difference_minor"`
	AsAgreedMinor         int64 `json:"as_agreed_minor"`
	TenantDifferenceMinor int64 `json:"tenant_difference_minor"`
}

// Summarise adds up where the items stand.
func Summarise(positions []Position) Summary {
	s := Summary{Items: len(positions)}
	for i := range positions {
		p := &positions[i]
		s.ScheduledMinor += p.Line.AmountMinor
		switch p.State {
		case Proposed:
			s.Proposed++
		case Answered:
			s.Answered++
		case Agreed:
			s.Agreed++
		case Disputed:
			s.Disputed++
		case Done:
			s.Done++
			s.DoneMinor += p.AgreedMinor
		}
		if p.Settled() {
			s.AgreedMinor += p.AgreedMinor
			s.AgreedDifferenceMinor += p.AgreedMinor - p.Line.AmountMinor
			continue
		}
		tenant, known := p.Figure(Tenant)
		if !known {
			s.WithoutTenant++
		}
		landlord, given := p.Figure(Landlord)
		if !given {
			s.WithoutLandlord++
		}
		if p.State == Disputed {
			s.DisputedTenantMinor, s.DisputedLandlordMinor = s.DisputedTenantMinor+tenant, s.DisputedLandlordMinor+landlord
		} else {
			s.OpenTenantMinor, s.OpenLandlordMinor = s.OpenTenantMinor+tenant, s.OpenLandlordMinor+landlord
		}
	}
	s.TenantMinor = s.AgreedMinor + s.DisputedTenantMinor + s.OpenTenantMinor
	s.AsAgreedMinor = s.ScheduledMinor + s.AgreedDifferenceMinor
	s.TenantDifferenceMinor = s.TenantMinor - s.AsAgreedMinor
	return s
}

// AsAgreed is what items come to as agreed so far, with contingency and tax as the fit-out has them; nil where nothing is agreed.
func AsAgreed(positions []Position, f domain.FitOut) *schedule.AsAgreed {
	items, agreed := make([]schedule.Item, len(positions)), map[int]int64{}
	for i := range positions {
		p := &positions[i]
		items[i] = schedule.Item{Number: p.Line.Number, Group: p.Line.Group, AsBuilt: p.Line.What, AmountMinor: p.Line.AmountMinor, RateKnown: p.Line.RateKnown, Free: p.Line.Free}
		if p.Settled() {
			agreed[p.Line.Number] = p.AgreedMinor
		}
	}
	return schedule.Agree(items, agreed, f)
}
