package issue_test

import (
	"testing"

	"unpick/domain"
	"unpick/domain/issue"
)

// What was signed for between two issues is the reason of the items that shrank by it, and of no other.
func TestSigned(t *testing.T) {
	t.Parallel()
	r := &domain.Register{
		Hosts:    []domain.HostSurface{{Code: "WALL"}, {Code: "SLAB"}},
		Holes:    []domain.Hole{{Code: "H1", Host: "WALL"}, {Code: "H2", Host: "SLAB"}},
		Elements: []domain.Element{{Code: "W1-S1", Assembly: "W1"}, {Code: "W2-S1", Assembly: "W2"}},
		SignOffs: []domain.SignOff{
			{Code: "S-1", Kind: domain.MadeGood, About: []string{"H1"}, By: "R. Mason", On: "2026-11-28", NoPhoto: "no light"},
			{Code: "S-2", Kind: domain.MadeGood, About: []string{"H2"}, By: "R. Mason", On: "2026-11-20", NoPhoto: "no light"},
			{Code: "S-3", Kind: domain.WorkDone, About: []string{"W1-S1"}, By: "R. Mason", On: "2026-11-28"},
			{Code: "S-4", Kind: domain.MadeGood, About: []string{"H1"}, By: "A. Other", On: "2026-11-28", NoPhoto: "taken back"},
			{Code: "S-5", Kind: domain.MadeGood, Withdraws: "S-4"},
		},
	}
	shrank := []issue.FieldChange{{Field: "quantity", Was: "2 hole", Is: "1 hole"}}
	got := []issue.Change{
		{Kind: issue.Changed, Key: "repair:WALL:front:aircrete-fill", Fields: shrank},
		{Kind: issue.Gone, Key: "repair:SLAB:front:concrete-fill-small"},
		{Kind: issue.Changed, Key: "out:W1", Fields: shrank},
		{Kind: issue.Changed, Key: "out:W2", Fields: shrank},
		{Kind: issue.Changed, Key: "repair:WALL:front:other", Fields: []issue.FieldChange{{Field: "rate"}}},
		{Kind: issue.Gone, Key: "finish:WALL", Because: "a record"},
	}
	issue.Signed(got, r, map[string]bool{"S-1": true, "S-3": true, "S-4": true, "S-5": true})
	const filled = "signed for since: H1 made good (R. Mason, 2026-11-28; no photo: no light)"
	for i, want := range []string{filled, "", "signed for since: W1-S1 taken out (R. Mason, 2026-11-28)", "", "", "a record; " + filled} {
		if got[i].Because != want {
			t.Errorf("%s %s: because %q, want %q", got[i].Key, got[i].Kind, got[i].Because, want)
		}
	}
}
