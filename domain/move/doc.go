// Package move plans the next premises out of what comes out of this one: which salvaged piece becomes which new piece,
// what is left to buy, how much goes on which van, and what that costs beside other ways.
//
// The idea: the next premises are a register like any other, described with the same recipes and not built yet. Its pieces
// are the demand, what the strip-out saves is the stock, and the cutting of each section and sheet size says what becomes
// what. Whole assemblies that fit as they stand go first; without any salvage the same plan is the first order of a
// fit-out not yet built.
//
// Looking for
//
//   - making one, and what it holds: move.go; the terms that a person sets: terms.go
//   - assemblies that go up again as they stood: whole.go, where each piece goes: stands.go, what is carried as one: carried.go
//   - what is asked for and what there is, split by section, sheet and unit: demand.go, stock.go
//   - cutting them: cut.go, cutlengths.go, cutsheets.go; ends cut at an angle: ends.go; rectangles in outlines: outline.go;
//     what merchants sell for a section: product.go; what cannot be made, and what to do: cannot.go; what is left: left.go
//   - what to buy: buying.go; over the cutting, by class: allowance.go; fixings: fixings.go; reading prices: prices.go
//   - loads, first up last in: loads.go; who lifts what: hands.go; where the layout does not fit: fits.go; hours of cutting and putting up: build.go;
//     what it is put up from, and its hire: access.go
//   - the ways side by side: compare.go; what the old place takes in them: oldplace.go
//   - sizes near those of the layout that buy less: sizes.go, differ.go, sizewords.go; two at once: pairs.go; what is cut twice cut once: saw.go
//   - the JSON Schema of what is computed: schema.go
package move
