package db_test

import (
	"testing"

	gocmp "github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"unpick/db"
	"unpick/db/dbtest"
	"unpick/domain"
)

// TestConditionsOnlyGrow: a condition record is added to by another, and never changed or taken away, also past the program.
func TestConditionsOnlyGrow(t *testing.T) {
	t.Parallel()
	d := dbtest.New(t)
	f := imported(t, d, built("A1", 1, 1))
	put := func(records ...domain.Condition) error {
		_, _, err := d.Change(t.Context(), firm(t, d), f.ID, jo, func(r *domain.Register) (domain.Change, error) {
			h := r.Hosts[0]
			h.Conditions = records
			return domain.Change{Kind: domain.Amend, What: "condition", Put: domain.Records{Hosts: []domain.HostSurface{h}}}, nil
		})
		return err
	}
	start := domain.Condition{On: "2026-03-20", Stage: domain.AtStart, Text: "old plug by the door",
		Defects: []domain.Defect{{Kind: domain.OldPlug, UMm: 100, VMm: 50, WidthMm: 8, DepthMm: 50}}}
	had := loaded(t, d, f.ID).Hosts[0].Conditions
	if err := put(append(had, start)...); err != nil {
		t.Fatal(err)
	}
	end := domain.Condition{On: "2026-10-24", Stage: domain.AtEnd, Text: "as at the start"}
	if err := put(append(had, start, end)...); err != nil {
		t.Errorf("a second record: %v", err)
	}
	mended := start
	mended.Text = "no defects"
	for name, records := range map[string][]domain.Condition{"changed": append(had, mended, end), "taken away": append(had, start), "in another order": append(had, end, start)} {
		if err := put(records...); domain.CodeOf(err) != domain.Refused {
			t.Errorf("a record %s: %v, want refused", name, err)
		}
	}
	if diff := gocmp.Diff(append(had, start, end), loaded(t, d, f.ID).Hosts[0].Conditions, cmpopts.EquateEmpty()); diff != "" {
		t.Errorf("records (-want +got):\n%s", diff)
	}
}

// TestHolesKeepTheirNumbers: holes logged later get the next ones, an amended set keeps its own, and nobody gives one another.
func TestHolesKeepTheirNumbers(t *testing.T) {
	t.Parallel()
	d, url := dbtest.NewURL(t, db.Config{})
	f := imported(t, d, built("A1", 2, 2))
	before := map[string][]int{}
	for _, h := range loaded(t, d, f.ID).Holes {
		before[h.Code] = h.Numbers
	}
	if _, _, err := d.Change(t.Context(), firm(t, d), f.ID, jo, adding("wall W9", wall("W9", 9, 3))); err != nil {
		t.Fatal(err)
	}
	note := func(change func(h *domain.Hole)) error {
		_, _, err := d.Change(t.Context(), firm(t, d), f.ID, jo, func(r *domain.Register) (domain.Change, error) {
			h := r.Holes[0]
			change(&h)
			return domain.Change{Kind: domain.Amend, What: "note", Put: domain.Records{Holes: []domain.Hole{h}}}, nil
		})
		return err
	}
	if err := note(func(h *domain.Hole) { h.Note = "seen" }); err != nil {
		t.Fatal(err)
	}
	if err := note(func(h *domain.Hole) { h.Numbers = []int{901, 902, 903, 904} }); domain.CodeOf(err) != domain.Refused {
		t.Errorf("other numbers: %v, want refused", err)
	}
	other, err := db.Open(t.Context(), url, db.Config{})
	if err != nil {
		t.Fatal(err)
	}
	defer other.Close()
	given := map[string]map[int]bool{}
	for _, h := range loaded(t, other, f.ID).Holes {
		if diff := gocmp.Diff(before[h.Code], h.Numbers); before[h.Code] != nil && diff != "" {
			t.Errorf("numbers of %s (-before +after):\n%s", h.Code, diff)
		}
		if len(h.Numbers) < h.Count {
			t.Errorf("%s has %d holes and the numbers %v", h.Code, h.Count, h.Numbers)
		}
		for _, n := range h.Numbers {
			if given[h.Host] == nil {
				given[h.Host] = map[int]bool{}
			}
			if given[h.Host][n] {
				t.Errorf("number %d of %s is given twice", n, h.Host)
			}
			given[h.Host][n] = true
		}
	}
}
