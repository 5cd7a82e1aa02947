package catalogue

import (
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"sync"

	"unpick/domain"
)

//go:embed data/*.csv
var embedded embed.FS

// Default is the catalogue in the program: one value, shared by everyone, never to be written to.
func Default() *domain.Catalogue { return inProgram() }

// A test parses the same files, so that a fault in them is found before the program is built.
var inProgram = sync.OnceValue(func() *domain.Catalogue {
	c, err := Parse(tables())
	if err != nil {
		panic(fmt.Sprintf("embedded catalogue: %v", err))
	}
	return c
})

func tables() fs.FS {
	sub, err := fs.Sub(embedded, "data")
	if err != nil {
		panic(fmt.Sprintf("embedded catalogue: %v", err)) // only for a path that is not valid
	}
	return sub
}

// Parse reads the seven tables of a catalogue. Every fault is reported at once, each with its file, line and
// column; a row without a source, a reference to nothing, and a column that is missing or unknown are faults.
func Parse(fsys fs.FS) (*domain.Catalogue, error) {
	c := &domain.Catalogue{}
	err := errors.Join(
		into(&c.FixingTypes, fsys, "fixing_types.csv", fixingColumns, fixingType),
		into(&c.Materials, fsys, "materials.csv", materialColumns, material),
		into(&c.HostKinds, fsys, "host_kinds.csv", hostColumns, hostKind),
		into(&c.Repairs, fsys, "repairs.csv", repairColumns, repair),
		into(&c.WasteCodes, fsys, "waste_codes.csv", wasteColumns, wasteCode),
		into(&c.Handling, fsys, "handling.csv", handlingColumns, handling),
		into(&c.WorkRates, fsys, "work_rates.csv", rateColumns, workRate),
	)
	if err != nil {
		return nil, err
	}
	if err := links(c); err != nil {
		return nil, err
	}
	return c, nil
}
