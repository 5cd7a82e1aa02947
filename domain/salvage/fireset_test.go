package salvage_test

import (
	"strings"
	"testing"

	"unpick/domain"
	"unpick/domain/catalogue"
	"unpick/domain/salvage"
)

// fireDoor is a frame, a leaf and, where the case says so, a seal and hinges, all logged as parts of a tested set.
func fireDoor(seal, hinges bool, more ...domain.Fixing) *domain.Register {
	part := func(code string, kind domain.ElementKind, material string, length, width, thickness int) domain.Element {
		return domain.Element{Code: code, Kind: kind, Material: material, LengthMm: length, WidthMm: width, ThicknessMm: thickness, Assembly: "D1", FireRated: true,
			Placement: domain.Placement{Along: domain.Direction{Z: 1}, Across: domain.Direction{X: 1}}}
	}
	r := &domain.Register{FitOut: domain.FitOut{Currency: "GBP"}, Catalogue: catalogue.Default(),
		Elements: []domain.Element{part("DL", domain.DoorLining, "lining-sw-32x138", 2000, 138, 32), part("LEAF", domain.DoorLeaf, "door-leaf-fd30-838", 1981, 838, 44)},
		Prices:   []domain.Price{{Key: "material:door-leaf-fd30-838", Amount: 13900, Unit: "piece"}, {Key: domain.ShareDowngraded, Amount: 35, Unit: "percent"}},
		Fixings:  more}
	if seal {
		r.Elements = append(r.Elements, part("SL", domain.Seal, "seal-intumescent-bead", 1981, 10, 10))
	}
	if hinges {
		r.Fixings = append(r.Fixings, domain.Fixing{Code: "H", Type: "door-hinge", Count: 3, Holds: "LEAF", IntoElement: "DL"})
	}
	return r
}

// BS 8214 and EN 1634-1 (from memory): a fire door is what was tested, frame, leaf, seals and ironmongery together. A
// leaf whose set is not whole is worth what the firm gives a downgraded piece: 35 % of 139.00.
func TestAFireDoorCountsOnlyAsItsSet(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name     string
		register *domain.Register
		want     salvage.Condition
		value    int64
		because  string
	}{
		{"all four on record", fireDoor(true, true), salvage.Whole, 13900, ""},
		{"no seals", fireDoor(false, true), salvage.Downgraded, 4865, "no seals"},
		{"no ironmongery", fireDoor(true, false), salvage.Downgraded, 4865, "no ironmongery"},
		{"the frame is glued in", fireDoor(true, true, domain.Fixing{Code: "G", Type: "grab-adhesive", Count: 1, Holds: "DL"}), salvage.Downgraded, 4865, "DL does not come out"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			leaf := pieceOf(t, salvage.Take(tt.register), "LEAF")
			if leaf.Expected != tt.want || leaf.ValueMinor != tt.value || !strings.Contains(strings.Join(leaf.Because, "; "), tt.because) {
				t.Errorf("leaf: %s, worth %d, because %q; want %s, %d, because %q", leaf.Expected, leaf.ValueMinor, leaf.Because, tt.want, tt.value, tt.because)
			}
		})
	}
}

// Used cable goes for its metal, List of Waste 17 04 11, and is worth no new price.
func TestCableIsNotUsedAgain(t *testing.T) {
	t.Parallel()
	r := &domain.Register{FitOut: domain.FitOut{Currency: "GBP"}, Catalogue: catalogue.Default(),
		Elements: []domain.Element{{Code: "V", Kind: domain.Cable, Material: "cable-twin-2-5", LengthMm: 5600, WidthMm: 12, ThicknessMm: 6}},
		Prices:   []domain.Price{{Key: "material:cable-twin-2-5", Amount: 105, Unit: "m"}}}
	if v := pieceOf(t, salvage.Take(r), "V"); v.Goes != salvage.Recycling || v.ValueMinor != 0 || v.WasteCode != "17 04 11" {
		t.Errorf("cable goes to %s as %s, worth %d; want recycling, 17 04 11, 0", v.Goes, v.WasteCode, v.ValueMinor)
	}
}
