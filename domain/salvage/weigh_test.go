package salvage_test

import (
	"testing"

	"unpick/domain"
	"unpick/domain/salvage"
)

// A stud of 2400 that is good over its length, by what the firm's list has: 2.4 m at 2.00, or its own length at 6.00, or its
// share of the shortest that it can be cut from, 2400/3000 of 7.50. One price a piece for every length says nothing.
func TestPriceNewByLength(t *testing.T) {
	t.Parallel()
	const stud24 = "material:c16-cls-38x89"
	for _, tt := range []struct {
		name   string
		prices []domain.Price
		want   int64
		known  bool
	}{
		{"a metre", []domain.Price{{Key: stud24, Amount: 200, Unit: "m"}}, 480, true},
		{"its own length", []domain.Price{{Key: stud24 + "/2400", Amount: 600, Unit: "piece"}, {Key: stud24 + "/3000", Amount: 750, Unit: "piece"}}, 600, true},
		{"its own length before a metre", []domain.Price{{Key: stud24, Amount: 200, Unit: "m"}, {Key: stud24 + "/2400", Amount: 600, Unit: "each"}}, 600, true},
		{"a longer one", []domain.Price{{Key: stud24 + "/3000", Amount: 750, Unit: "piece"}, {Key: stud24 + "/4800", Amount: 1400, Unit: "piece"}}, 600, true},
		{"every length at one price", []domain.Price{{Key: stud24, Amount: 600, Unit: "piece"}}, 0, false},
		{"none", nil, 0, false},
	} {
		r := stud()
		r.Prices = tt.prices
		for _, p := range salvage.Take(r).Pieces {
			if p.Code == "S" && (p.NewMinor != tt.want || p.NewKnown != tt.known) {
				t.Errorf("%s: new at %d, known %v; want %d, %v", tt.name, p.NewMinor, p.NewKnown, tt.want, tt.known)
			}
		}
	}
}
