package catalogue

import (
	"fmt"
	"strings"
	"sync"

	"unpick/domain"
)

const wastageColumns = "stuff,percent,least_percent,covers,reason,source,confirmed"

// Wastage is how much to add to a buying list for one kind of stuff. It is never added to the register.
type Wastage struct {
	Stuff        string // sawn, joinery, cls, sheet, plasterboard, deck, trim, insulation, screws, sealant
	Percent      float64
	LeastPercent float64 // where lengths suit
	Covers       string
	Reason       string
	domain.Sourced
}

var wastages = sync.OnceValue(func() map[string]Wastage {
	var out map[string]Wastage
	err := into(&out, tables(), "wastage.csv", wastageColumns, func(r row) Wastage {
		return Wastage{r.text("stuff"), r.positive("percent"), r.positive("least_percent"), r.must("covers"), r.must("reason"), r.sourced()}
	})
	if err != nil {
		panic(fmt.Sprintf("embedded catalogue: %v", err))
	}
	return out
})

// WastageOf is the row of one kind of stuff, "screws" among them.
func WastageOf(stuff string) (Wastage, bool) {
	w, ok := wastages()[stuff]
	return w, ok
}

// WastageFor is what to add when a material is bought new. Not ok for what is bought by the piece.
func WastageFor(m domain.Material) (Wastage, bool) {
	stuff := m.Kind
	switch m.Kind {
	case "timber":
		stuff = timberClass(m.Code)
	case "board":
		stuff = "sheet"
		switch {
		case strings.HasPrefix(m.Code, "pb-"):
			stuff = "plasterboard"
		case strings.HasSuffix(m.Code, "-tg"):
			stuff = "deck"
		}
	case "metal":
		if len(m.StockLengthsMm) > 0 {
			stuff = "cls" // engineered lengths, as straight and as clean to cut
		}
	case "adhesive":
		stuff = "sealant"
	}
	return WastageOf(stuff)
}

// timberClass is what is done with timber before it is sold: sawn and picked over by who buys it, planed for joinery, or
// planed or glued straight.
func timberClass(code string) string {
	switch {
	case strings.Contains(code, "-cls-"), strings.HasPrefix(code, "gl"), strings.Contains(code, "-ply-"), strings.HasPrefix(code, "packer-"):
		return "cls"
	case strings.Contains(code, "-par-"), strings.HasPrefix(code, "lining-"):
		return "joinery"
	}
	return "sawn"
}
