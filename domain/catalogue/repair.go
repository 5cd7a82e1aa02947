package catalogue

import (
	"math"
	"slices"
	"strings"
	"unicode"

	"unpick/domain"
)

// Residue is what stays in or on a host surface after the fixing is undone, as far as the repair depends on it.
type Residue string

// The residues, in words that a log or a fixing type may use for them.
const (
	Clean         Residue = "clean"    // an empty hole
	PlugStays     Residue = "plug"     // nylon or wood: drawn, or driven in and filled over
	SleeveStays   Residue = "sleeve"   // sleeve, shell or cone of an anchor
	StudStays     Residue = "stud"     // stud, stub or cured resin that cannot be drawn
	PinStays      Residue = "pin"      // pin, nail or staple, or the spall it left
	AdhesiveStays Residue = "adhesive" // by area
	FilmStays     Residue = "film"     // of a sealant, by the metre
	BruiseStays   Residue = "bruise"   // of a clamp: no hole
	SurfaceOnly   Residue = "surface"  // nothing but the paint: never the answer to a hole
)

// residueWords are tried in this order, since prose names more than one thing: "steel shell stays; plug or cap it"
// is a shell, "spall in concrete; stub in steel" is a pin.
var residueWords = []residueWord{
	{PinStays, []string{"spall", "pin", "nail", "staple"}},
	{StudStays, []string{"stud", "stub", "resin", "rod"}},
	{SleeveStays, []string{"sleeve", "shell", "cone"}},
	{PlugStays, []string{"plug"}},
	{AdhesiveStays, []string{"adhesive", "glue"}},
	{FilmStays, []string{"film", "sealant", "foam", "mastic"}},
	{BruiseStays, []string{"bruise", "dent", "scrape"}},
	{Clean, []string{"none", "nothing", "clean", "empty", "dust", "hole", "swarf"}},
	{SurfaceOnly, []string{"surface"}},
}

type residueWord struct {
	residue Residue
	words   []string
}

func isResidue(r Residue) bool {
	return slices.ContainsFunc(residueWords, func(w residueWord) bool { return w.residue == r })
}

// ResidueOf reads a residue out of words: of a hole as logged, or of a fixing type. Nothing said is a clean hole;
// words that name no residue are not ok, for a guess would choose a repair.
func ResidueOf(text string) (residue Residue, ok bool) {
	if strings.TrimSpace(text) == "" {
		return Clean, true
	}
	words := strings.FieldsFunc(strings.ToLower(text), func(c rune) bool { return !unicode.IsLetter(c) })
	for _, r := range residueWords {
		for _, word := range words {
			if slices.Contains(r.words, word) || slices.Contains(r.words, strings.TrimSuffix(word, "s")) {
				return r.residue, true
			}
		}
	}
	return "", false
}

// RepairFor chooses how a hole of a diameter is made good in a host kind, by what stays in it: the kind's usual
// repair where that takes the diameter and the residue, else the first of its others that does. Not ok where none
// does, where the host kind is unknown, and where the residue says nothing known: then a person decides.
func RepairFor(c *domain.Catalogue, hostKind string, diameterMm float64, residue string) (domain.Repair, bool) {
	h, known := c.HostKinds[hostKind]
	left, clear := ResidueOf(residue)
	if !known || !clear || diameterMm < 0 || math.IsNaN(diameterMm) {
		return domain.Repair{}, false
	}
	for _, slug := range append([]string{h.DefaultRepair}, h.OtherRepairs...) {
		r, ok := c.Repairs[slug]
		if ok && r.FromMm <= diameterMm && diameterMm < r.ToMm && takes(r, left) {
			return r, true
		}
	}
	return domain.Repair{}, false
}

// takes reports whether r makes good what is left. One with no residues listed takes anything: it hands the whole
// matter to an engineer, or swaps the panel.
func takes(r domain.Repair, left Residue) bool {
	return len(r.Residues) == 0 || slices.Contains(r.Residues, string(left))
}

// RepairVolumeMl is the filler or paint to buy for one hole: the volume of the hole, widened and cut to a fixed
// depth where the repair says so, with its waste factor, and never under its least. A repair that is not counted by
// the hole gives 0.
func RepairVolumeMl(r domain.Repair, diameterMm float64, depthMm int) float64 {
	diameter, depth := RepairFills(r, diameterMm, depthMm)
	return max(cylinderMl(diameter, depth)*r.WasteFactor, r.LeastMl)
}

// RepairFills is the round that one hole's repair fills: its diameter and depth. 0, 0 where the filler does not follow
// the volume.
func RepairFills(r domain.Repair, diameterMm float64, depthMm int) (filledMm, filledDepthMm float64) {
	if r.WasteFactor == 0 {
		return 0, 0
	}
	if r.FixedDepthMm > 0 {
		return diameterMm + r.WidenMm, r.FixedDepthMm
	}
	return diameterMm + r.WidenMm, float64(depthMm)
}

// HoleVolumeMl is the empty volume of a round hole.
func HoleVolumeMl(diameterMm, depthMm float64) float64 {
	return cylinderMl(diameterMm, depthMm)
}

// SpallVolumeMl is the filler for the cone that a pulled pin breaks out, with a fifth for waste (common practice, no
// source): the diameter is that of the crater at the face.
func SpallVolumeMl(craterMm float64, depthMm int) float64 {
	return cylinderMl(craterMm, float64(depthMm)) / 3 * 1.2
}

func cylinderMl(diameterMm, depthMm float64) float64 {
	return math.Pi / 4 * diameterMm * diameterMm * depthMm / 1000
}
