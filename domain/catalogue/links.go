package catalogue

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"unpick/domain"
)

// links reports every row that names a row of another table which is not there, in order of file and key.
func links(c *domain.Catalogue) error {
	var faults []error
	miss := func(file, key, column, want string) {
		faults = append(faults, fmt.Errorf("%s: %s: %s: there is no %q", file, key, column, want))
	}
	for _, code := range slices.Sorted(maps.Keys(c.Materials)) {
		if w := c.Materials[code].WasteCode; w != "" && c.WasteCodes[w].Code == "" {
			miss("materials.csv", code, "waste_code", w)
		}
	}
	for _, slug := range slices.Sorted(maps.Keys(c.HostKinds)) {
		h := c.HostKinds[slug]
		for _, repair := range append([]string{h.DefaultRepair}, h.OtherRepairs...) {
			if c.Repairs[repair].Slug == "" {
				miss("host_kinds.csv", slug, "default_repair or other_repairs", repair)
			}
		}
	}
	for _, slug := range slices.Sorted(maps.Keys(c.Repairs)) {
		if h := c.Repairs[slug].Host; c.HostKinds[h].Slug == "" {
			miss("repairs.csv", slug, "host", h)
		}
	}
	for _, code := range slices.Sorted(maps.Keys(c.WasteCodes)) {
		for _, mirror := range Mirrors(c.WasteCodes[code]) {
			if c.WasteCodes[mirror].Code == "" {
				miss("waste_codes.csv", code, "mirror_of", mirror)
			}
		}
	}
	return errors.Join(faults...)
}

// Mirrors are the codes that a waste may have instead, depending on what it holds: ask before printing either.
func Mirrors(w domain.WasteCode) []string {
	if w.MirrorOf == "" {
		return nil
	}
	return strings.Split(w.MirrorOf, "|")
}
