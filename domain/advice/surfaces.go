package advice

import (
	"cmp"
	"fmt"

	"unpick/domain"
)

// drilling is what one set of additions does to one host surface.
type drilling struct {
	holes      []*domain.Hole
	reasonless []string // codes of fixings and holes that give no reason
	reasoned   []string
	reasons    []string
	marking    []string // fixings that make no hole
	count      int
}

// surfaces looks at what the additions do to the landlord's surfaces.
func (l *look) surfaces() {
	var found groups[string, drilling]
	logged := map[string]bool{}
	for i := range l.add.Holes {
		h := &l.add.Holes[i]
		if h.Fixing != "" {
			logged[h.Fixing] = true
		}
		if host, ok := l.host(h.Host); ok && host.New(h) > 0 {
			l.drilled(found.at(h.Host), h, host.New(h))
		}
	}
	for i := range l.add.Fixings {
		f := &l.add.Fixings[i]
		t, ok := l.register.Catalogue.FixingTypes[f.Type]
		if _, known := l.host(f.IntoHost); !known || !ok || !f.InPlace() {
			continue
		}
		switch {
		case !t.MakesHole():
			d := found.at(f.IntoHost)
			d.marking = append(d.marking, f.Code)
		case !logged[f.Code]:
			l.missing(f, t, found.at(f.IntoHost))
		}
	}
	built := l.built(found.of)
	var drilled []string
	for _, code := range found.keys {
		h, _ := l.host(code)
		l.surface(h, found.of[code], built[code])
		if found.of[code].count > 0 && !l.register.Catalogue.HostKinds[h.Kind].HoldsAsbestos() {
			drilled = append(drilled, code)
		}
	}
	l.unseenAsbestos(drilled)
}

// drilled files a set of which so many holes are new, as the licence counts them; its reason may stand at the hole or at the
// fixing that uses it.
func (l *look) drilled(d *drilling, h *domain.Hole, fresh int) {
	d.holes = append(d.holes, h)
	d.count += fresh
	code, reason := h.Code, cmp.Or(h.Reason, h.Note)
	if f, ok := l.fixing(h.Fixing); ok {
		code, reason = f.Code, cmp.Or(reasonOf(f), reason)
	}
	d.file(code, reason)
}

func (d *drilling) file(code, reason string) {
	if reason == "" {
		d.reasonless = append(d.reasonless, code)
		return
	}
	d.reasoned = append(d.reasoned, code)
	for _, r := range d.reasons {
		if r == reason {
			return
		}
	}
	d.reasons = append(d.reasons, reason)
}

func (l *look) missing(f *domain.Fixing, t domain.FixingType, d *drilling) {
	d.file(f.Code, reasonOf(f))
	l.say(domain.Advice{
		Kind: HoleMissing, Severity: domain.Warning, Codes: []string{f.Code, f.IntoHost},
		Text: fmt.Sprintf("%s drills %d holes of %g mm in %s, and no hole is logged with it", f.Code, f.Count, t.HoleInHostMm, f.IntoHost),
		Mend: "log the hole set with the fixing, so that each hole face is counted once",
	})
}

// built is how many holes each touched surface has before the additions.
func (l *look) built(touched map[string]*drilling) map[string]int {
	out := map[string]int{}
	for i := range l.register.Holes {
		h := &l.register.Holes[i]
		if _, ok := touched[h.Host]; ok {
			host, _ := l.host(h.Host)
			out[h.Host] += host.New(h)
		}
	}
	return out
}

func (l *look) surface(h *domain.HostSurface, d *drilling, before int) {
	kind := l.register.Catalogue.HostKinds[h.Kind]
	drilled := d.count+len(d.reasonless)+len(d.reasoned) > 0
	switch {
	case kind.HoldsAsbestos() && drilled:
		l.drillsAsbestos(h, d)
	case h.Rule == domain.Never:
		l.never(h, d, kind)
	case h.Rule == domain.Ask:
		if h.AgreedHoles == 0 && drilled {
			l.say(domain.Advice{
				Kind: AskSurface, Severity: domain.Warning, Codes: with(d.reasonless, d.reasoned, h.Code),
				Text: fmt.Sprintf("%s may be drilled only where the landlord agrees, and no hole in it is agreed%s", h.Code, because(kind.Reason)),
				Mend: "ask the landlord before drilling and enter the agreed count, or hold it without a hole (a clamp, a neighbour, its own weight)",
			})
		}
	}
	l.agreed(h, d, before)
	l.sizes(h, d, kind)
	if kind.Caution != "" && d.count > 0 {
		l.say(domain.Advice{
			Kind: HostCaution, Severity: domain.Note, Codes: []string{h.Code},
			Text: fmt.Sprintf("before drilling %s (%s): %s", h.Code, cmp.Or(kind.Name, h.Kind), kind.Caution),
		})
	}
}

// never stops a hole in a surface that must have none; with a reason it stands as a warning, and so does a
// fixing that only marks the surface.
func (l *look) never(h *domain.HostSurface, d *drilling, kind domain.HostKind) {
	mend := "fix to something else: the frame behind it by a clamp, the wall beside it, the floor"
	if len(d.reasonless) > 0 {
		l.say(domain.Advice{
			Kind: NeverSurface, Severity: domain.Stop, Codes: with(d.reasonless, nil, h.Code),
			Text: fmt.Sprintf("%s must not be drilled%s", h.Code, because(kind.Reason)), Mend: mend + "; or give the reason and who agreed to it",
		})
	}
	if len(d.reasoned) > 0 {
		text := fmt.Sprintf("%s must not be drilled%s; the reason given:", h.Code, because(kind.Reason))
		for _, r := range d.reasons {
			text += " " + r + "."
		}
		l.say(domain.Advice{Kind: NeverSurface, Severity: domain.Warning, Codes: with(d.reasoned, nil, h.Code), Text: text, Mend: mend})
	}
	if len(d.marking) > 0 {
		l.say(domain.Advice{
			Kind: NeverSurface, Severity: domain.Warning, Codes: with(d.marking, nil, h.Code),
			Text: fmt.Sprintf("%s must not be fixed to%s; what is fixed here makes no hole but may mark it", h.Code, because(kind.Reason)), Mend: mend,
		})
	}
}

// agreed compares the holes with the count that the licence allows. An allowed surface without a count is noted
// only: the holes would still be listed as not covered.
func (l *look) agreed(h *domain.HostSurface, d *drilling, before int) {
	after := before + d.count
	if h.Rule == domain.Never || d.count == 0 || after <= h.AgreedHoles || h.Rule == domain.Ask && h.AgreedHoles == 0 {
		return
	}
	a := domain.Advice{Kind: OverAgreed, Severity: domain.Warning, Codes: with(d.reasonless, d.reasoned, h.Code), Mend: "use fewer holes, use holes that are there, or ask the landlord for more before drilling"}
	a.Text = fmt.Sprintf("%s would have %d holes, %d more than the %d agreed", h.Code, after, after-h.AgreedHoles, h.AgreedHoles)
	if h.AgreedHoles == 0 {
		a.Severity, a.Text = domain.Note, fmt.Sprintf("%s may be drilled, but no count is agreed: its holes, %d then, would be listed as not covered", h.Code, after)
		a.Mend = "enter the count that the licence allows"
	}
	l.say(a)
}

// sizes compares each hole with the largest agreed; where no depth is agreed, with what the kind of surface
// usually takes.
func (l *look) sizes(h *domain.HostSurface, d *drilling, kind domain.HostKind) {
	var big, deep, usual []string
	widest, deepest := 0.0, 0
	through := false
	for _, hole := range d.holes {
		code := cmp.Or(hole.Fixing, hole.Code)
		if h.MaxDiameterMm > 0 && hole.DiameterMm > h.MaxDiameterMm {
			big, widest = append(big, code), max(widest, hole.DiameterMm)
		}
		limit := cmp.Or(h.MaxDepthMm, kind.MaxDepthMm)
		if limit > 0 && (hole.Through || hole.DepthMm > limit) {
			deepest, through = max(deepest, hole.DepthMm), through || hole.Through
			if h.MaxDepthMm > 0 {
				deep = append(deep, code)
			} else {
				usual = append(usual, code)
			}
		}
	}
	how := fmt.Sprintf("%d mm deep", deepest)
	if through {
		how = "right through"
	}
	if big != nil {
		l.say(domain.Advice{Kind: TooBig, Severity: domain.Warning, Codes: with(big, nil, h.Code),
			Text: fmt.Sprintf("holes of %g mm in %s: %g mm is the most agreed", widest, h.Code, h.MaxDiameterMm),
			Mend: "use a smaller fixing, or ask the landlord before drilling"})
	}
	if deep != nil {
		l.say(domain.Advice{Kind: TooDeep, Severity: domain.Warning, Codes: with(deep, nil, h.Code),
			Text: fmt.Sprintf("holes %s in %s: %d mm is the most agreed", how, h.Code, h.MaxDepthMm),
			Mend: "use a shorter fixing and set the depth stop, or ask the landlord before drilling"})
	}
	if usual != nil {
		l.say(domain.Advice{Kind: TooDeep, Severity: domain.Note, Codes: with(usual, nil, h.Code),
			Text: fmt.Sprintf("holes %s in %s: %d mm is the usual limit for %s", how, h.Code, kind.MaxDepthMm, cmp.Or(kind.Name, h.Kind)),
			Mend: "use a shorter fixing, or find out what lies below"})
	}
}

func because(reason string) string {
	if reason == "" {
		return ""
	}
	return ": " + reason
}

// with joins codes, drops repeats and puts the host last.
func with(a, b []string, host string) []string {
	var out []string
	seen := map[string]bool{}
	for _, list := range [...][]string{a, b, {host}} {
		for _, code := range list {
			if !seen[code] {
				seen[code] = true
				out = append(out, code)
			}
		}
	}
	return out
}
