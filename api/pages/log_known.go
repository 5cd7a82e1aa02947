package pages

import (
	"cmp"
	"encoding/json"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"unpick/domain"
	"unpick/domain/recipe"
	"unpick/domain/siting"
)

// known is what the forms of logging offer from: the register, its catalogue, and what the form has sent so far.
type known struct {
	r    *domain.Register
	sent url.Values
}

// nextCode is the first of W1, W2 ... that names nothing yet.
func (k known) nextCode(letters string) string {
	taken := map[string]bool{}
	index := k.r.Index()
	for _, of := range []map[string]int{index.Hosts, index.Assemblies, index.Elements, index.Fixings, index.Holes, index.Zones} {
		for code := range of {
			taken[code] = true
		}
	}
	for _, rel := range k.r.Relations {
		taken[rel.Code] = true
	}
	for _, h := range k.r.StruckHosts {
		taken[h.Code] = true
	}
	for _, x := range k.r.FitOut.Exits {
		taken[x.Code] = true
	}
	for n := 1; ; n++ {
		if code := letters + strconv.Itoa(n); !taken[code] {
			return code
		}
	}
}

// rows is how many rows of a kind the form shows: as many as were sent or asked for, at least so many, at most 20.
func (k known) rows(ask, prefix string, least int) int {
	n, _ := strconv.Atoi(k.sent.Get(ask)) // what is no number asks for none
	n = max(n, least)
	for name := range k.sent {
		if rest, ok := strings.CutPrefix(name, prefix); ok {
			at, _, _ := strings.Cut(rest, "/")
			if i, err := strconv.Atoi(at); err == nil {
				n = max(n, i+1)
			}
		}
	}
	return min(n, mostFormRows)
}

const mostFormRows = 20

// more is the button below the last row of a list, which asks for one more; nil below another row or where there are enough.
func (k known) more(ask, prefix string, least, row int, label string) *moreRows {
	n := k.rows(ask, prefix, least)
	if row != n-1 || n >= mostFormRows {
		return nil
	}
	return &moreRows{ask, label, n + 1}
}

// asked reports whether a row is one that was just asked for.
func (k known) asked(ask string, row int) bool { return k.sent.Get(ask) == strconv.Itoa(row+1) }

// one puts a first choice that stands for nothing chosen before others.
func one(label string, others []option) []option {
	return append([]option{{"", label}}, others...)
}

// hosts are the landlord's surfaces that keep tells to keep, all for nil.
func (k known) hosts(keep func(*domain.HostSurface) bool) []option {
	var out []option
	for i := range k.r.Hosts {
		if h := &k.r.Hosts[i]; keep == nil || keep(h) {
			out = append(out, option{h.Code, strings.TrimSpace(h.Code + " " + h.Name)})
		}
	}
	return out
}

func facesUp(h *domain.HostSurface) bool   { return h.Normal().Z > 0.5 }
func facesDown(h *domain.HostSurface) bool { return h.Normal().Z < -0.5 }

// faces are the upright faces that one can stand in front of.
func (k known) faces(keep func(siting.Face) bool) []option {
	var out []option
	for _, f := range siting.Faces(k.r) {
		if keep == nil || keep(f) {
			out = append(out, option{f.Ref, f.Name})
		}
	}
	return out
}

// assemblies are those that stand, built by one of these recipes; by any for none.
func (k known) assemblies(recipes ...string) []option {
	var out []option
	for _, a := range k.r.Assemblies {
		if !a.Struck && (len(recipes) == 0 || slices.Contains(recipes, a.Recipe)) {
			out = append(out, option{a.Code, strings.TrimSpace(a.Code + " " + a.Name)})
		}
	}
	return out
}

// pieces are the pieces in place, those logged last first: they are what one has in one's hand.
func (k known) pieces() []option {
	var stand []*domain.Element
	for i := range k.r.Elements {
		if e := &k.r.Elements[i]; e.IsInPlace() {
			stand = append(stand, e)
		}
	}
	slices.SortStableFunc(stand, func(a, b *domain.Element) int {
		return cmp.Or(cmp.Compare(b.BuiltOrder, a.BuiltOrder), cmp.Compare(a.Code, b.Code))
	})
	out := make([]option, 0, len(stand))
	for _, e := range stand {
		out = append(out, option{e.Code, e.Code + " " + cmp.Or(e.Name, strings.ReplaceAll(string(e.Kind), "-", " "))})
	}
	return out
}

// materials are those of these kinds that fit, by name.
func (k known) materials(fits func(domain.Material) bool, kinds ...string) []option {
	var out []option
	for _, m := range k.r.Catalogue.Materials {
		if slices.Contains(kinds, m.Kind) && (fits == nil || fits(m)) {
			out = append(out, option{m.Code, m.Name})
		}
	}
	slices.SortFunc(out, func(a, b option) int { return cmp.Or(cmp.Compare(a.Label, b.Label), cmp.Compare(a.Value, b.Value)) })
	return out
}

func isSection(m domain.Material) bool { return m.ThicknessMm > 0 && m.WidthMm > 0 }

// fixings are the types of these families, by name.
func (k known) fixings(families ...string) []option {
	var out []option
	for _, t := range k.r.Catalogue.FixingTypes {
		if slices.Contains(families, t.Family) {
			out = append(out, option{t.Slug, t.Name})
		}
	}
	slices.SortFunc(out, func(a, b option) int { return cmp.Or(cmp.Compare(a.Label, b.Label), cmp.Compare(a.Value, b.Value)) })
	return out
}

func (k known) zones() []option {
	var out []option
	for _, z := range k.r.Zones {
		out = append(out, option{z.Code, strings.TrimSpace(z.Code + " " + z.Name)})
	}
	return out
}

// usualBoard is the board that was put up last, or plain OSB.
func (k known) usualBoard() string {
	for i := len(k.r.Assemblies) - 1; i >= 0; i-- {
		var p recipe.StudWall
		if a := k.r.Assemblies[i]; a.Recipe == "stud-wall" && json.Unmarshal(a.Params, &p) == nil && p.FaceA != nil {
			return p.FaceA.Board
		}
	}
	return "osb3-11-metric"
}

// Short ways to say a field, or the fields of what comes again and again.

// sectionFields are what a piece is cut from: a section as it is sold, or another size of the same timber. usual names the
// one that is taken where none is chosen; "" where one has to be.
func (k known) sectionFields(at, label, usual string) []field {
	of := k.materials(nil, "timber", "metal", "trim", "board")
	if usual != "" {
		of = one(usual, of)
	}
	return []field{pick(at+"/material", label, of, ""), mm(at+"/thickness_mm", label+": thickness", "Empty: as it is sold"), mm(at+"/depth_mm", label+": depth", "Empty: as it is sold")}
}

// designedFields are a set of fixings as somebody decided it: type first, then how many.
func (k known) designedFields(at, label, usual string, families ...string) []field {
	return []field{
		pick(at+"/type", label, one(usual, k.fixings(families...)), ""), digits(at+"/count", label+": how many", "", "Empty: as usual"), mm(at+"/length_mm", label+": length", "Empty: as usual"),
		mm(at+"/end_mm", label+": first one from an end", "Empty: 150"), mm(at+"/depth_mm", label+": depth of the hole", "Empty: the type's own"), said(at+"/reason", label+": reason", ""),
	}
}

func mm(name, label, help string) field {
	return field{Name: name, Label: label, Kind: number, Unit: "mm", Help: help}
}

func digits(name, label, unit, help string) field {
	return field{Name: name, Label: label, Kind: number, Unit: unit, Help: help}
}

func pick(name, label string, options []option, help string) field {
	return field{Name: name, Label: label, Kind: choice, Options: options, Help: help}
}

func said(name, label, help string) field {
	return field{Name: name, Label: label, Kind: words, Help: help}
}

func yes(name, label, help string) field {
	return field{Name: name, Label: label, Kind: tick, Help: help}
}

func (f field) as(value string) field { f.Value = value; return f }
func (f field) coded() field          { f.Codes = true; return f }
func (f field) must() field           { f.Required = true; return f }
