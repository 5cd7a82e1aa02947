package pages

import (
	"bytes"
	"cmp"
	"context"
	"encoding/json"
	"fmt"
	"net/url"
	"slices"
	"strings"

	"unpick/api/service"
	"unpick/domain"
)

var assemblyNoun = noun{"assemblies", "assembly", fillAssembly, amendAssembly, strikeAssembly}

func fillAssembly(l look, page *recordPage) error {
	i, ok := l.index.Assemblies[page.Code]
	if !ok {
		return domain.Errorf(domain.NotFound, "there is no assembly %.60q in this fit-out", page.Code)
	}
	a := l.r.Assemblies[i]
	page.version = a.Version
	page.Title = a.Code + ", " + a.Name
	page.know("What", recipeWords(a.Recipe))
	page.know("Room", l.zone(a.Zone))
	page.know("Licence", cmp.Or(a.Licensed, "not licensed"))
	page.know("Stays by consent", a.LeftBy)
	page.know("Built by", a.Builder)
	page.know("Whose", string(a.Owner))
	page.know("Note", a.Note)
	l.assemblyParts(page, a)
	if a.Struck {
		page.Struck = a.Reason
		return nil
	}
	page.Strike = strikeForm(slices.ContainsFunc(l.r.Holes, func(h domain.Hole) bool { return h.Assembly == a.Code && h.State == domain.HoleInUse }))
	first := group{Fields: []field{said("/name", "Name", "").as(a.Name).must(), {Name: "/licensed", Label: "Item of the licence that allows it", Kind: suggested, Options: licenceOptions(l.r), Value: a.Licensed},
		said("/left_by_consent", "The landlord's letter that it may stay", "Its reference and date. Left empty, it comes out. What stands on something else cannot stay without that").as(a.LeftBy),
		said("/builder", "Built by", "").as(a.Builder), noteField(a.Note)}}
	if a.Recipe != "" {
		how := knownField(a.Known)
		how.Help = "Of all of it: entered from a survey, and seen since? What was said of single pieces stays"
		first.Fields = append(first.Fields, how)
	}
	page.Amend = &form{Groups: []group{first}}
	if sizes := recipeSizes(a.Params); len(sizes) > 0 {
		if !l.r.FitOut.NotBuilt {
			sizes = append(sizes, pick("/how/drilled", "Holes that are not in the new description", []option{{"", "Were they drilled? Asked only if there are any"}, {"yes", "They are drilled, and stay"}, {"no", "They never were"}}, ""))
		}
		page.Amend.Groups = append(page.Amend.Groups, group{Legend: "Described again", Note: "Another size makes other pieces: those that are not there any more are struck, new ones are added, and what was amended by hand stays.",
			Fields: append(sizes, yes("/how/overwrite", "Take back what was amended by hand", ""))})
	}
	return nil
}

// assemblyParts lists what belongs to an assembly.
func (l look) assemblyParts(page *recordPage, a domain.Assembly) {
	var pieces, fixings, holes []fact
	var codes []string
	kg := 0.0
	for i := range l.r.Elements {
		e := &l.r.Elements[i]
		if e.Assembly != a.Code || e.State == domain.Struck {
			continue
		}
		codes = append(codes, e.Code, e.Subassembly)
		row := l.piece(e.Code)
		row.Text += ", " + sizeOf(e)
		pieces = append(pieces, row)
		mass, _ := e.MassOf(l.r.Catalogue.Materials[e.Material])
		kg += mass
	}
	for i := range l.r.Fixings {
		if f := &l.r.Fixings[i]; f.Assembly == a.Code && f.State != domain.FixingStruck {
			fixings = append(fixings, l.between(f))
		}
	}
	for _, h := range l.r.Holes {
		if h.Assembly == a.Code && h.State != domain.HoleStruck {
			holes = append(holes, l.hole(h))
		}
	}
	page.know("In it", fmt.Sprintf("%s, %s of fixings, %.0f kg", plural(len(pieces), "piece", "pieces"), plural(len(fixings), "set", "sets"), kg))
	page.add("Pieces", pieces)
	page.add("Fixings", fixings)
	page.add("Holes in the landlord's surfaces", holes)
	first, waiting := l.orderOutside(codes)
	page.add("What has to go first", first)
	page.add("What waits for it", waiting)
}

// orderOutside is order for many codes.
func (l look) orderOutside(codes []string) (first, waiting []fact) {
	if l.plan == nil {
		return nil, nil
	}
	own := make(map[string]bool, len(codes))
	for _, code := range codes {
		own[code] = code != ""
	}
	for _, b := range l.plan.Before {
		switch {
		case own[b.After] && !own[b.Before]:
			first = append(first, fact{Text: b.Because, Link: l.address(b.Before)})
		case own[b.Before] && !own[b.After]:
			waiting = append(waiting, fact{Text: b.Because, Link: l.address(b.After)})
		}
	}
	return first, waiting
}

// recipeSizes are the plain sizes among a recipe's parameters: lengths, heights, centres.
func recipeSizes(params json.RawMessage) []field {
	decoder := json.NewDecoder(bytes.NewReader(params))
	decoder.UseNumber()
	var root map[string]any
	if decoder.Decode(&root) != nil {
		return nil
	}
	var out []field
	for name, value := range root {
		if size, ok := value.(json.Number); ok && strings.HasSuffix(name, "_mm") {
			label := strings.ReplaceAll(strings.TrimSuffix(name, "_mm"), "_", " ")
			out = append(out, mm("/params/"+name, capital(label), "").below().as(size.String()))
		}
	}
	slices.SortFunc(out, func(a, b field) int { return cmp.Compare(a.Name, b.Name) })
	return out
}

func amendAssembly(ctx context.Context, p *Pages, page *recordPage, sent url.Values) error {
	if sent.Has("/accept_advice") || sent.Has("/reason") {
		page.Amend.Groups = append(page.Amend.Groups, adviceGroup())
		page.Amend.fill(sent)
	}
	b, err := readBuilt(page.Amend, sent)
	if err != nil {
		return err
	}
	var patch map[string]any
	if err := json.Unmarshal(b.patch, &patch); err != nil {
		return fmt.Errorf("reading back a patch: %w", err)
	}
	delete(patch, "reason") // of the advice, not of the assembly
	if b.patch, err = json.Marshal(patch); err != nil {
		return fmt.Errorf("writing a patch: %w", err)
	}
	again := service.Again{Consent: consentFrom(sent), Overwrite: b.how["overwrite"] == true}
	if answer := sent.Get("/how/drilled"); answer != "" {
		drilled := answer == "yes"
		again.Drilled = &drilled
	}
	_, err = p.jobs.AmendAssembly(ctx, whoIs(ctx), page.FitOut.Code, page.Code, b.was, b.patch, again)
	if domain.CodeOf(err) == domain.Refused && !sent.Has("/reason") {
		page.Amend.Groups = append(page.Amend.Groups, adviceGroup())
	}
	err = renamed(err, "query drilled", "/how/drilled")
	return renamed(err, "query overwrite", "/how/overwrite")
}

func strikeAssembly(ctx context.Context, p *Pages, page *recordPage, sent url.Values) error {
	was, reason, drilled, err := struckWith(page.Strike, sent)
	if err != nil {
		return err
	}
	_, err = p.jobs.StrikeAssembly(ctx, whoIs(ctx), page.FitOut.Code, page.Code, was, reason, drilled)
	return err
}

// renamed moves a fault from one place to another.
func renamed(err error, from, to string) error {
	faults := faultsOf(err)
	if len(faults) == 0 {
		return err
	}
	out := make(domain.Errors, len(faults))
	for i, f := range faults {
		again := *f
		if again.Field == from {
			again.Field = to
		}
		out[i] = &again
	}
	return out
}
