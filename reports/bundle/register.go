package bundle

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"unpick/domain"
	"unpick/domain/fitoutfile"
)

// state is what the log says that the register holds: the newest text of each record by noun and code, and how many it
// has only from an import, whose file the log knows by its hash alone.
type state struct {
	records  map[string]string // by noun and code
	amended  map[string]bool   // records that were there before the log wrote them: they came with the import
	fitOut   string
	imported *domain.Imported

	firstForms map[string]bool // of those, the ones that the log has as they were imported
	was        domain.Records  // and these
}

// register holds the register to the log: each record is as the log wrote it last; those that nobody amended since they
// were imported have the hash of the import.
func (r *Report) register(text []byte, entries []domain.LogEntry) {
	var file fitoutfile.File
	if err := json.Unmarshal(text, &file); err != nil {
		r.fault("%s cannot be read: %v", registerName, err)
		return
	}
	s, why := stateOf(entries)
	if why != "" {
		r.fault("%s", why)
		return
	}
	have, untouched := recordsOf(file), 0
	altered := 0
	for key, is := range have {
		was, ok := s.records[key]
		switch {
		case !ok && s.imported != nil:
			untouched++
		case !ok:
			altered++
			r.fault("%s: %s was added: the log knows nothing of it", registerName, key)
		case was != is:
			altered++
			r.fault("%s: %s is not as the log wrote it last", registerName, key)
		}
	}
	for key := range s.records {
		if _, ok := have[key]; !ok {
			altered++
			r.fault("%s: %s is gone, and the log does not say why", registerName, key)
		}
	}
	slices.Sort(r.Faults[len(r.Faults)-altered:])
	if s.fitOut != "" && s.fitOut != plainText(file.FitOut) {
		r.fault("%s: the terms of the fit-out are not as the log wrote them last", registerName)
		altered++
	}
	if altered > 0 {
		return
	}
	r.checked("%d records of the register against the log", len(have)-untouched)
	if s.imported != nil {
		r.untouched(file, s, untouched)
	}
}

// untouched holds what was imported to the hash of the import: the records that nobody amended as they are, the others
// as the log has them from before their first change. Logs of older programs lack those: then nothing of the import can be
// held to its hash, and that is said.
func (r *Report) untouched(file fitoutfile.File, s state, untouched int) {
	if len(s.amended) > 0 {
		r.Unchecked = append(r.Unchecked, fmt.Sprintf("%d records of %s that came with the import: %d others were amended by a program that did not keep their first form, so the hash of the import, %s, can only be held to the imported file itself",
			untouched, registerName, len(s.amended), s.imported.RecordsSHA256))
		return
	}
	sum, err := domain.SumRecords(importedOf(file, s))
	if err != nil || sum != s.imported.RecordsSHA256 {
		r.fault("%s: what was imported is not what the log has the hash of", registerName)
		return
	}
	r.checked("%d records as they were imported, by the hash in the log", untouched+len(s.firstForms))
}

// importedOf are the records as they were imported, in order of code as an import sums them.
func importedOf(file fitoutfile.File, s state) domain.Records {
	return domain.Records{
		Zones:      first(file.Zones, s.was.Zones, "zone", s, func(v *domain.Zone) string { return v.Code }),
		Hosts:      first(slices.Concat(file.Hosts, file.StruckHosts), s.was.Hosts, "host surface", s, func(v *domain.HostSurface) string { return v.Code }),
		Assemblies: first(file.Assemblies, s.was.Assemblies, "assembly", s, func(v *domain.Assembly) string { return v.Code }),
		Elements:   first(file.Elements, s.was.Elements, "element", s, func(v *domain.Element) string { return v.Code }),
		Fixings:    first(file.Fixings, s.was.Fixings, "fixing", s, func(v *domain.Fixing) string { return v.Code }),
		Holes:      first(file.Holes, s.was.Holes, "hole", s, func(v *domain.Hole) string { return v.Code }),
		Relations:  first(file.Relations, s.was.Relations, "relation", s, func(v *domain.Relation) string { return v.Code }),
		Prices:     untouchedOf(file.Prices, "price", s, func(v *domain.Price) string { return plainText(*v) }),
		SignOffs:   untouchedOf(file.SignOffs, "sign-off", s, func(v *domain.SignOff) string { return v.Code }),
	}
}

// first are the untouched records of a noun and the first forms of the others, in order of code.
func first[T any](now, was []T, noun string, s state, code func(*T) string) []T {
	out := append(untouchedOf(now, noun, s, code), was...)
	slices.SortFunc(out, func(a, b T) int { return strings.Compare(code(&a), code(&b)) })
	return out
}

func untouchedOf[T any](all []T, noun string, s state, code func(*T) string) []T {
	var out []T
	for i := range all {
		if _, logged := s.records[noun+" "+code(&all[i])]; !logged {
			out = append(out, all[i])
		}
	}
	return out
}

// stateOf follows the log's changes; why says what cannot be read.
func stateOf(entries []domain.LogEntry) (s state, why string) {
	s = state{records: map[string]string{}, amended: map[string]bool{}, firstForms: map[string]bool{}}
	for _, e := range entries {
		var imported struct {
			domain.Imported
			Counts *domain.Counts `json:"imported"`
		}
		if err := json.Unmarshal(e.Change, &imported); err != nil {
			return s, "the log's entry " + e.What + " holds a change that cannot be read"
		}
		if imported.Counts != nil {
			kept := imported.Imported
			s.imported, s.fitOut = &kept, plainText(imported.FitOut)
			continue
		}
		var c domain.Change
		if err := json.Unmarshal(e.Change, &c); err != nil {
			return s, "the log's entry " + e.What + " holds a change that cannot be read"
		}
		if c.FitOut != nil {
			s.fitOut = plainText(*c.FitOut)
		}
		s.write(c.Add, false)
		s.before(c.Was)
		s.write(c.Put, true)
	}
	return s, ""
}

// before takes the first forms of records that no entry wrote yet: they came with the import.
func (s *state) before(r domain.Records) {
	fresh := func(noun, code string) bool {
		key := noun + " " + code
		if _, logged := s.records[key]; logged || s.firstForms[key] {
			return false
		}
		s.firstForms[key] = true
		return true
	}
	s.was.Zones = append(s.was.Zones, kept(r.Zones, func(v *domain.Zone) bool { return fresh("zone", v.Code) })...)
	s.was.Hosts = append(s.was.Hosts, kept(r.Hosts, func(v *domain.HostSurface) bool { return fresh("host surface", v.Code) })...)
	s.was.Assemblies = append(s.was.Assemblies, kept(r.Assemblies, func(v *domain.Assembly) bool { return fresh("assembly", v.Code) })...)
	s.was.Elements = append(s.was.Elements, kept(r.Elements, func(v *domain.Element) bool { return fresh("element", v.Code) })...)
	s.was.Fixings = append(s.was.Fixings, kept(r.Fixings, func(v *domain.Fixing) bool { return fresh("fixing", v.Code) })...)
	s.was.Holes = append(s.was.Holes, kept(r.Holes, func(v *domain.Hole) bool { return fresh("hole", v.Code) })...)
	s.was.Relations = append(s.was.Relations, kept(r.Relations, func(v *domain.Relation) bool { return fresh("relation", v.Code) })...)
}

func kept[T any](all []T, keep func(*T) bool) []T {
	var out []T
	for i := range all {
		if keep(&all[i]) {
			out = append(out, all[i])
		}
	}
	return out
}

func (s *state) write(r domain.Records, put bool) {
	for key, text := range recordsIn(r) {
		if _, known := s.records[key]; put && !known && !s.firstForms[key] {
			s.amended[key] = true
		}
		s.records[key] = text
	}
}

func recordsOf(f fitoutfile.File) map[string]string {
	return recordsIn(domain.Records{Zones: f.Zones, Hosts: slices.Concat(f.Hosts, f.StruckHosts), Assemblies: f.Assemblies, Elements: f.Elements, Fixings: f.Fixings, Holes: f.Holes,
		Relations: f.Relations, Prices: f.Prices, SignOffs: f.SignOffs})
}

// recordsIn are records as compact JSON, by noun and code. A price has no code: its own text stands for it.
func recordsIn(r domain.Records) map[string]string {
	out := map[string]string{}
	into(out, "zone", r.Zones, func(v *domain.Zone) string { return v.Code })
	into(out, "host surface", r.Hosts, func(v *domain.HostSurface) string { return v.Code })
	into(out, "assembly", r.Assemblies, func(v *domain.Assembly) string { return v.Code })
	into(out, "element", r.Elements, func(v *domain.Element) string { return v.Code })
	into(out, "fixing", r.Fixings, func(v *domain.Fixing) string { return v.Code })
	into(out, "hole", r.Holes, func(v *domain.Hole) string { return v.Code })
	into(out, "relation", r.Relations, func(v *domain.Relation) string { return v.Code })
	into(out, "price", r.Prices, func(v *domain.Price) string { return plainText(*v) })
	into(out, "sign-off", r.SignOffs, func(v *domain.SignOff) string { return v.Code })
	return out
}

func into[T any](out map[string]string, noun string, all []T, code func(*T) string) {
	for i := range all {
		out[noun+" "+code(&all[i])] = plainText(all[i])
	}
}

// plainText is a value as compact JSON. Types of the register always have one.
func plainText(v any) string {
	var out bytes.Buffer
	to := json.NewEncoder(&out)
	to.SetEscapeHTML(false)
	if err := to.Encode(v); err != nil {
		return err.Error()
	}
	return string(bytes.TrimSpace(out.Bytes()))
}
