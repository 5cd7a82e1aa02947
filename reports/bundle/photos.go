package bundle

import (
	"cmp"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"unpick/domain"
	"unpick/domain/fitoutfile"
)

// namings are the entries of the log that first named each photo. Whoever adds a photo leaves its bytes; a fit-out file brings
// names alone, and the log's entry for it has none.
type namings struct {
	added  map[string]int64 // that entry added it: its bytes were kept
	unsure map[string]int64 // that entry has it in a surface that came with an import, and not what stood there before
}

// photosNamed follows what the log's entries say of photos. A surface is logged whole: what it has named more often than
// before was added.
func photosNamed(entries []domain.LogEntry) namings {
	out := namings{map[string]int64{}, map[string]int64{}}
	note := func(in map[string]int64, sum string, entry int64) {
		if _, ok := in[sum]; !ok {
			in[sum] = entry
		}
	}
	hosts, imported := map[string]map[string]int{}, false
	for _, e := range entries {
		var came struct {
			Counts *domain.Counts `json:"imported"`
		}
		var c domain.Change
		if json.Unmarshal(e.Change, &came) != nil {
			continue // told already
		}
		if came.Counts != nil {
			imported = true
			continue
		}
		if json.Unmarshal(e.Change, &c) != nil {
			continue
		}
		for _, o := range slices.Concat(c.Add.SignOffs, c.Put.SignOffs) {
			for _, sum := range o.Photos {
				note(out.added, sum, e.Number)
			}
		}
		for i := range c.Was.Hosts {
			if h := &c.Was.Hosts[i]; hosts[h.Code] == nil {
				hosts[h.Code] = photosOn(h)
			}
		}
		for i := range c.Add.Hosts {
			hosts[c.Add.Hosts[i].Code] = map[string]int{}
		}
		for _, list := range [][]domain.HostSurface{c.Add.Hosts, c.Put.Hosts} {
			for i := range list {
				before, known := hosts[list[i].Code]
				now := photosOn(&list[i])
				for sum, n := range now {
					switch {
					case !known && imported:
						note(out.unsure, sum, e.Number)
					case n > before[sum]:
						note(out.added, sum, e.Number)
					}
				}
				hosts[list[i].Code] = now
			}
		}
	}
	return out
}

// photosOn counts how often the condition records of a surface name each photo.
func photosOn(h *domain.HostSurface) map[string]int {
	out := map[string]int{}
	for _, c := range h.Conditions {
		for _, sum := range c.Photos {
			out[sum]++
		}
	}
	return out
}

// photos holds the log to the photos: each that an entry added is there. What came as a name in a fit-out file was never here,
// and is counted as what nobody can check.
func (r *Report) photos(contents map[string][]byte, entries []domain.LogEntry) {
	there := map[string]bool{}
	for name, content := range contents {
		if strings.HasPrefix(name, photoFolder) {
			there[sumOf(content)] = true
		}
	}
	names := photosNamed(entries)
	for _, sum := range byEntry(names.added) {
		if !there[sum] {
			r.fault("photo gone, entry %d has its hash: %s", names.added[sum], sum)
		}
	}
	for _, sum := range byEntry(names.unsure) {
		if _, told := names.added[sum]; !told && !there[sum] {
			r.Unchecked = append(r.Unchecked, fmt.Sprintf("photo %s is not here: entry %d of the log names it in a surface that came with an import, and whether it came as a name alone the log does not say", sum, names.unsure[sum]))
		}
	}
	never := 0
	for _, sum := range photosIn(contents[registerName]) {
		_, added := names.added[sum]
		_, unsure := names.unsure[sum]
		if !there[sum] && !added && !unsure {
			never++
		}
	}
	if never > 0 {
		r.Limits = append(r.Limits, fmt.Sprintf("%d photos that the register names were never kept here: they came as names in a fit-out file", never))
	}
}

// photosIn are the photos that a register's file names, each once.
func photosIn(text []byte) []string {
	var file fitoutfile.File
	if json.Unmarshal(text, &file) != nil {
		return nil // said already
	}
	var out []string
	for _, h := range slices.Concat(file.Hosts, file.StruckHosts) {
		for _, c := range h.Conditions {
			out = append(out, c.Photos...)
		}
	}
	for _, o := range file.SignOffs {
		out = append(out, o.Photos...)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// byEntry are photos in the order of the log, and of one entry by name.
func byEntry(entries map[string]int64) []string {
	out := make([]string, 0, len(entries))
	for sum := range entries {
		out = append(out, sum)
	}
	slices.SortFunc(out, func(a, b string) int {
		return cmp.Or(cmp.Compare(entries[a], entries[b]), cmp.Compare(a, b))
	})
	return out
}
