package pages

import (
	"cmp"
	"fmt"
	"slices"

	"unpick/domain"
	"unpick/domain/plan"
)

// look is a register with its plan, as the pages of its records read it.
type look struct {
	r      *domain.Register
	index  *domain.Index
	fitOut domain.FitOut
	plan   *plan.Plan // nil where there is none
}

func (l look) zone(code string) string {
	if i, ok := l.index.Zones[code]; ok {
		return cmp.Or(l.r.Zones[i].Name, code)
	}
	return code
}

func (l look) host(code string) string {
	if i, ok := l.index.Hosts[code]; ok {
		return cmp.Or(l.r.Hosts[i].Name, code)
	}
	if h, ok := hostOf(l.r, code); ok {
		return h.Name + " (struck out)"
	}
	return code
}

func (l look) material(code string) string {
	return cmp.Or(l.r.Catalogue.Materials[code].Name, code)
}

func (l look) fixingType(slug string) string {
	return cmp.Or(l.r.Catalogue.FixingTypes[slug].Name, slug)
}

func (l look) hostKind(slug string) string {
	return cmp.Or(l.r.Catalogue.HostKinds[slug].Name, slug)
}

// address is where a record of any noun is shown; "" for a code that nobody knows.
func (l look) address(code string) string {
	for _, of := range []struct {
		path  string
		index map[string]int
	}{{"pieces", l.index.Elements}, {"fixings", l.index.Fixings}, {"assemblies", l.index.Assemblies}, {"hosts", l.index.Hosts}, {"holes", l.index.Holes}} {
		if _, ok := of.index[code]; ok {
			return at(l.fitOut.Code, of.path, code)
		}
	}
	if _, ok := hostOf(l.r, code); ok {
		return at(l.fitOut.Code, "hosts", code)
	}
	return ""
}

// piece names a piece: "W1-S3, stud".
func (l look) piece(code string) fact {
	text := code
	if i, ok := l.index.Elements[code]; ok {
		e := &l.r.Elements[i]
		text += ", " + cmp.Or(e.Name, kindWords(string(e.Kind)))
	} else if i, ok := l.index.Hosts[code]; ok {
		text += ", " + l.r.Hosts[i].Name
	}
	return fact{Text: text, Link: l.address(code)}
}

// set names a set of fixings: "W1-F3: 8 × concrete screw 6".
func (l look) set(f *domain.Fixing) fact {
	says := fmt.Sprintf("%s: %d × %s", f.Code, f.Count, l.fixingType(f.Type))
	if f.BeadMm > 0 {
		says = fmt.Sprintf("%s: %.1f m of %s", f.Code, float64(f.BeadMm)/1000, l.fixingType(f.Type))
	}
	switch {
	case f.State == domain.FixingUndone:
		says += ", undone"
	case f.Known.Provisional():
		says += ", " + knownWords(f.Known)
	}
	return fact{Text: says, Link: l.address(f.Code)}
}

// between names a set of fixings with what it joins.
func (l look) between(f *domain.Fixing) fact {
	row := l.set(f)
	row.Text += " hold " + f.Holds + " to " + cmp.Or(f.IntoElement, l.host(f.IntoHost))
	return row
}

// mostInPart is how many rows a list on a record's page has.
const mostInPart = 15

// add puts a list on a page, unless it is empty.
func (page *recordPage) add(title string, rows []fact) {
	if len(rows) == 0 {
		return
	}
	p := part{Title: title, Rows: rows}
	if n := len(rows); n > mostInPart {
		p.More, p.Rows = n-mostInPart, rows[:mostInPart]
	}
	page.Parts = append(page.Parts, p)
}

func (page *recordPage) know(label, text string, link ...string) {
	if text == "" {
		return
	}
	f := fact{Label: label, Text: text}
	if len(link) > 0 {
		f.Link = link[0]
	}
	page.Facts = append(page.Facts, f)
}

// order is what the plan says about codes: what has to go first, and what waits for them.
func (l look) order(codes ...string) (first, waiting []fact) {
	if l.plan == nil {
		return nil, nil
	}
	seen := map[string]bool{}
	put := func(to *[]fact, text, code string) {
		if !seen[text] {
			seen[text] = true
			*to = append(*to, fact{Text: text, Link: l.address(code)})
		}
	}
	for _, b := range l.plan.Before {
		in, out := slices.Contains(codes, b.After), slices.Contains(codes, b.Before)
		switch {
		case in && !out:
			put(&first, b.Because, b.Before)
		case out && !in:
			put(&waiting, b.Because, b.After)
		}
	}
	for _, ch := range l.plan.Choices {
		if slices.Contains(codes, ch.After) {
			for i, way := range ch.Ways {
				if len(way) > 0 {
					put(&first, "either "+ch.Because[i], way[0])
				}
			}
		}
	}
	return first, waiting
}

func placeText(p domain.Point) string { return fmt.Sprintf("%d, %d, %d mm", p.X, p.Y, p.Z) }

// linkedAdvice is advice with the records that it is about, each by its name and a link to its page.
type linkedAdvice struct {
	domain.Advice
	About []fact
	More  int
}

// mostAdvised is how many records one piece of advice leads to.
const mostAdvised = 4

func (l look) linked(all []domain.Advice) []linkedAdvice {
	out := make([]linkedAdvice, len(all))
	for i, a := range all {
		out[i].Advice = a
		if code := l.assemblyOf(a.Codes); code != "" {
			out[i].About = append(out[i].About, fact{Text: l.named(code), Link: l.address(code)})
		}
		for k, code := range a.Codes {
			if k == mostAdvised {
				out[i].More = len(a.Codes) - mostAdvised
				break
			}
			out[i].About = append(out[i].About, fact{Text: l.named(code), Link: l.address(code)})
		}
	}
	return out
}

// assemblyOf is the assembly that all of several pieces and fixings belong to; "" where there is no one.
func (l look) assemblyOf(codes []string) string {
	of := ""
	for _, code := range codes {
		its := ""
		if i, ok := l.index.Elements[code]; ok {
			its = l.r.Elements[i].Assembly
		} else if i, ok := l.index.Fixings[code]; ok {
			its = l.r.Fixings[i].Assembly
		}
		if its == "" || of != "" && its != of {
			return ""
		}
		of = its
	}
	return of
}

// named is a record in words, its code behind: "stud (W1-S3)".
func (l look) named(code string) string {
	name := ""
	if i, ok := l.index.Elements[code]; ok {
		name = cmp.Or(l.r.Elements[i].Name, kindWords(string(l.r.Elements[i].Kind)))
	} else if i, ok := l.index.Fixings[code]; ok {
		name = l.fixingType(l.r.Fixings[i].Type)
	} else if i, ok := l.index.Assemblies[code]; ok {
		name = l.r.Assemblies[i].Name
	} else if i, ok := l.index.Holes[code]; ok {
		name = "holes in " + l.host(l.r.Holes[i].Host)
	} else if h, ok := hostOf(l.r, code); ok {
		name = h.Name
	}
	if name == "" || name == code {
		return code
	}
	return name + " (" + code + ")"
}
