package issue_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"unpick/domain"
	"unpick/domain/issue"
)

// What is put on top of the items is told where it changed, though no item did and their total stays.
func TestTerms(t *testing.T) {
	t.Parallel()
	was := domain.FitOut{Terms: domain.Terms{ContingencyPercent: 5, TaxName: "VAT", TaxPercent: 20, PricedOn: "2026-09-01"}, Tenancy: domain.Tenancy{BreakDate: "2029-03-24"}}
	if c, ok := issue.Terms(was, was); ok {
		t.Errorf("the same terms changed: %+v", c)
	}
	is := was
	is.Terms.ContingencyPercent, is.Terms.TaxPercent, is.Tenancy.BreakDate = 7.5, 0, "2030-03-24"
	is.Terms.Sums = []domain.ProvisionalSum{{What: "drain survey", Amount: 9500}} // an item of its own
	c, ok := issue.Terms(was, is)
	want := []issue.FieldChange{{Field: "contingency", Was: "5 %", Is: "7.5 %"}, {Field: "tax", Was: "20 %", Is: "none"}, {Field: "break", Was: "2029-03-24", Is: "2030-03-24"}}
	if diff := cmp.Diff(want, c.Fields); diff != "" || !ok || c.Kind != issue.Changed || c.DeltaMinor != 0 {
		t.Errorf("%+v, ok %t (-want +got):\n%s", c, ok, diff)
	}
}
