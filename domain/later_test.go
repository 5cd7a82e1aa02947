package domain_test

import (
	"strings"
	"testing"

	"unpick/domain"
)

// What is dated after today is refused as it is recorded, a day's grace for time zones apart; what the register held before is told.
func TestNothingIsSeenBeforeItsDay(t *testing.T) {
	t.Parallel()
	const today = "2026-11-30"
	old := domain.Condition{On: "2027-05-01", Stage: domain.AtEnd, Text: "from an earlier file"}
	r := &domain.Register{Hosts: []domain.HostSurface{{Code: "WALL", Conditions: []domain.Condition{old}}}}
	with := func(on string) domain.Change {
		h := r.Hosts[0]
		h.Conditions = []domain.Condition{old, {On: on, Text: "fair"}}
		return domain.Change{Put: domain.Records{Hosts: []domain.HostSurface{h}}, Add: domain.Records{SignOffs: []domain.SignOff{{Code: "S1", On: on}}}}
	}
	for on, faults := range map[string]int{"2026-03-20": 0, today: 0, "2026-12-01": 0, "2026-12-02": 2, "2027-05-01": 2} {
		got := domain.Later(r, with(on), today)
		if len(got) != faults {
			t.Errorf("dated %s: %v, want %d faults", on, got, faults)
		}
		for _, f := range got {
			if f.Field != "/on" || !strings.Contains(f.Text, on) || !strings.Contains(f.Text, today) {
				t.Errorf("dated %s: %+v", on, f)
			}
		}
	}
	r.SignOffs = []domain.SignOff{{Code: "S9", On: "2027-01-01"}, {Code: "S8", On: today}}
	if got := domain.DatedAfter(r, today); len(got) != 2 || !strings.HasPrefix(got[0], "condition record 1 of WALL is dated 2027-05-01") || !strings.HasPrefix(got[1], "sign-off S9") {
		t.Errorf("of the register is told %q", got)
	}
}
