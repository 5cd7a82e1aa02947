package advice

import (
	"cmp"
	"fmt"
	"strings"

	"unpick/domain"
)

// instead names what serves in place of a fixing that does not come out clean (common practice, no source).
// Anchors that a designer chose are the designer's to change.
var instead = map[string]string{
	"hanger-nail-3-75x30": "use connector screws (connector-screw-5x40) declared for the hanger, one in every hole",
	"gun-nail-3-1x90":     "use two 5 mm wood screws (wood-screw-5) each end",
	"wire-nail-3x50":      "use sheet screws (sheet-screw-4-5x50), heads bare and flush",
	"shot-fired-pin":      "use concrete screws (concrete-screw-6), which leave a clean 6 mm hole",
	"pop-rivet-4-8":       "use a self-drilling screw (self-drill-st4-8)",
	"grab-adhesive":       "screw it with bare heads, or hang it so that it lifts off",
	"pva-floor":           "leave the joints dry and screw every joist (sheet-screw-4-5x50)",
	"tape-double":         "screw it with bare heads, or hang it so that it lifts off",
}

func insteadOf(slug string) string {
	switch {
	case instead[slug] != "":
		return instead[slug]
	case strings.HasPrefix(slug, "wedge-anchor"), strings.HasPrefix(slug, "resin-stud"):
		return "ask the designer for an anchor that unscrews (concrete screw) before the hole is drilled"
	}
	return "use one that unscrews, or say why this one is needed"
}

// alike is a set of added fixings that get one piece of advice between them.
type alike struct {
	codes  []string
	pieces int
	beadMm int
}

type alikeKey struct {
	kind     string
	severity domain.Severity
	slug     string
	assembly string
	reason   string
}

// fixings looks at what kind of fixing was used: does it come out, and what does it spoil.
func (l *look) fixings() {
	var found groups[alikeKey, alike]
	for i := range l.add.Fixings {
		f := &l.add.Fixings[i]
		t, ok := l.register.Catalogue.FixingTypes[f.Type]
		if !ok || !f.InPlace() {
			continue
		}
		l.anchor(f, t)
		kind, severity := harshness(f, t)
		if kind == "" {
			continue
		}
		set := found.at(alikeKey{kind, severity, f.Type, f.Assembly, reasonOf(f)})
		set.codes = append(set.codes, f.Code)
		set.pieces += f.Count
		set.beadMm += f.BeadMm
	}
	for _, k := range found.keys {
		l.say(harshAdvice(k, *found.of[k], l.register.Catalogue.FixingTypes[k.slug]))
	}
}

// harshness says whether a fixing deserves a word. A reason given turns a warning into a note: it is kept for
// the day of the strip-out. Seals and ties are cut by their nature and are not held against anybody.
func harshness(f *domain.Fixing, t domain.FixingType) (kind string, severity domain.Severity) {
	switch {
	case t.Family == "adhesive":
		kind = GluedJoint
	case t.Family == "seal" || t.Family == "service":
		return "", ""
	case t.Release == domain.Destructive || t.Release == domain.CutThrough:
		kind = DestructiveFixing
	default:
		return "", ""
	}
	if reasonOf(f) != "" || t.Release == domain.UndoLeavesResidue {
		return kind, domain.Note
	}
	return kind, domain.Warning
}

func harshAdvice(k alikeKey, set alike, t domain.FixingType) domain.Advice {
	what := fmt.Sprintf("%d of %s", set.pieces, t.Name)
	if set.beadMm > 0 {
		what = fmt.Sprintf("%.1f m of %s", float64(set.beadMm)/1000, t.Name)
	}
	if k.assembly != "" {
		what += " in " + k.assembly
	}
	does := map[domain.ReleaseClass]string{
		domain.Destructive:       "spoils what it holds when it is undone",
		domain.CutThrough:        "is cut to undo it, and part of it stays",
		domain.UndoLeavesResidue: "leaves a residue",
	}[t.Release]
	text := what + " " + does
	if t.Residue != "" {
		text += " (" + t.Residue + ")"
	}
	if k.reason != "" {
		text += "; the reason given: " + k.reason
	}
	return domain.Advice{Kind: k.kind, Severity: k.severity, Codes: set.codes, Text: text, Mend: insteadOf(k.slug)}
}

// anchor stops an expansion anchor in a block that cannot take its pressure.
func (l *look) anchor(f *domain.Fixing, t domain.FixingType) {
	h, ok := l.host(f.IntoHost)
	if !ok || !t.Expands() {
		return
	}
	if kind := l.register.Catalogue.HostKinds[h.Kind]; kind.TakesExpansion() {
		return
	}
	l.say(domain.Advice{
		Kind: ExpansionAnchor, Severity: domain.Stop, Codes: []string{f.Code, h.Code},
		Text: fmt.Sprintf("%s expands, and %s is %s: it crushes or spins instead of holding", t.Name, h.Code, cmp.Or(l.register.Catalogue.HostKinds[h.Kind].Name, h.Kind)),
		Mend: "ask the designer for a plug made for the block, a long frame fixing, or resin with mesh",
	})
}
