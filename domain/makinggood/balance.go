package makinggood

import "unpick/domain"

// Balance holds the totals that must agree: every charged hole face in the register ends in one row, one priced
// item (at a rate or at "no rate") and one sign-off.
type Balance struct {
	Register  int  `json:"holes_in_register"`
	Repaired  int  `json:"holes_in_rows"`
	Priced    int  `json:"holes_priced" jsonschema_description:"holes in rows that carry a rate"`
	NoRate    int  `json:"holes_without_rate"`
	SignOffs  int  `json:"rows_to_sign"`
	Inherited int  `json:"holes_inherited" jsonschema_description:"shown, not charged"`
	Kept      int  `json:"holes_kept" jsonschema_description:"hold what stays: shown, not charged"`
	Done      int  `json:"holes_made_good" jsonschema_description:"no longer owed"`
	Signed    int  `json:"holes_signed" jsonschema_description:"of the made good ones, with a name under them"`
	AtDefects int  `json:"holes_at_defects" jsonschema_description:"in defects of the start: shown, not charged"`
	Apart     int  `json:"holes_not_in_part,omitempty" jsonschema_description:"where only a part of the works is asked for: owed, and not in it"`
	Remnants  int  `json:"remnants"`
	Agrees    bool `json:"agrees"`
}

// balance counts the register one way and the rows another, so that a row lost or doubled shows.
func balance(r *domain.Register, rows []Row) Balance {
	held := r.TallyHoles()
	b := Balance{Register: held.Owed, AtDefects: held.AtDefects, Inherited: held.Inherited, Kept: held.Kept, Done: held.MadeGood, Apart: held.Apart}
	seen, signed := map[string]bool{}, domain.AboutOf(r.Signed(domain.MadeGood))
	free, atDefects := 0, 0
	doubled := false
	for _, row := range rows {
		if row.Remnant != "" {
			b.Remnants++
		}
		if row.Hole == "" {
			if row.Charged {
				b.SignOffs++
			}
			continue
		}
		n, key := int(row.Quantity), row.Hole+" "+row.Defects // a set has one row more for what lies in defects
		doubled = doubled || seen[key]
		seen[key] = true
		if row.Defects != "" {
			atDefects += n
			continue
		}
		if !row.Charged {
			free += n
			if row.NotOwed == MadeGood && signed[row.Hole] {
				b.Signed += n
			}
			continue
		}
		b.SignOffs++
		b.Repaired += n
		if row.RateKnown {
			b.Priced += n
		} else {
			b.NoRate += n
		}
	}
	b.Agrees = !doubled && b.Register == b.Repaired && b.Priced+b.NoRate == b.Repaired && free == b.Inherited+b.Kept+b.Done+b.Apart && atDefects == b.AtDefects && b.Signed <= b.Done
	return b
}
