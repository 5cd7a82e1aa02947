// Package catalogue owns the trade's tables: what fixings, materials, host surfaces, repairs, wastes, lifts and
// jobs there are, each row with its source and how far that source was confirmed.
//
// The idea: the tables are plain CSV files that a carpenter or a surveyor can read and put right, embedded in the
// program and parsed once into a [domain.Catalogue]. A row without a source is refused. Where no standard says a
// thing, the source says "common practice, no source"; where a value was put right, confirmed says what it was.
// Planners ask the functions here, so that a rule such as "a stub that stays is capped, not filled" is in one place.
//
// Looking for
//
//   - the catalogue in the program, reading another one: catalogue.go
//   - a column of one table: rows.go; the reader and its faults: table.go
//   - references between the tables: links.go
//   - which repair a hole wants, and how much filler: repair.go
//   - what people may lift: lifting.go
//   - a firm's own minutes for a job: rates.go
//   - pilot and clearance holes, what a drill point goes through: holes.go
//   - how much to add when ordering: wastage.go; the least worth keeping of what comes out: keeping.go;
//     how much more room a stack takes than its contents: stacking.go
//   - the values themselves: data/
package catalogue
