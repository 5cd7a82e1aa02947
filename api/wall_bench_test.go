package api

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"slices"
	"testing"
	"time"

	"github.com/google/uuid"
)

// BenchmarkWallOverHTTP logs one recipe wall (33 elements, lined both sides) over a real connection onto a register of
// about 1,000 elements: checked against the contract, expanded, advised on, stored and answered in full. The time runs
// from sending the request to the last byte of the answer. Design, section 11: 50 ms, median.
//
// The peer of the same run is the same request as a dry run, which does all of it but storing.
func BenchmarkWallOverHTTP(b *testing.B) {
	const walls, more = 30, 10
	s := newSite(b)
	var stored, tried []time.Duration
	fitOut := ""
	for i := 0; b.Loop(); i++ {
		if i%more == 0 { // the register stays at about 1,000 elements
			b.StopTimer()
			fitOut = fmt.Sprintf("HALL-%d", i)
			s.want(201, post, base+"/import", hall(b, fitOut, walls))
			b.StartTimer()
		}
		body, err := json.Marshal(object{"assembly": hallWall(walls + i%more)})
		if err != nil {
			b.Fatal(err)
		}
		path := s.url + base + "/" + fitOut + "/assemblies"
		tried = append(tried, posted(b, path+"?dry_run=true", body, http.StatusOK))
		stored = append(stored, posted(b, path, body, http.StatusCreated))
	}
	slices.Sort(stored)
	slices.Sort(tried)
	ms := func(d time.Duration) float64 { return float64(d.Microseconds()) / 1000 }
	b.ReportMetric(ms(stored[len(stored)/2]), "median-ms")
	b.ReportMetric(ms(stored[0]), "least-ms")
	b.ReportMetric(ms(tried[len(tried)/2]), "dry-run-median-ms")
	b.ReportMetric(0, "ns/op")
}

// posted sends a body and reads the whole answer, and says how long that took.
func posted(b *testing.B, url string, body []byte, want int) time.Duration {
	b.Helper()
	start := time.Now()
	r, err := http.NewRequestWithContext(b.Context(), post, url, bytes.NewReader(body))
	if err != nil {
		b.Fatal(err)
	}
	r.Header.Set("Content-Type", "application/json")
	r.Header.Set("Idempotency-Key", uuid.NewString())
	answer, err := http.DefaultClient.Do(r)
	if err != nil {
		b.Fatal(err)
	}
	defer answer.Body.Close()
	text, err := io.ReadAll(answer.Body)
	took := time.Since(start)
	if err != nil || answer.StatusCode != want {
		b.Fatalf("%s: status %d, want %d (%v)\n%.500s", url, answer.StatusCode, want, err, text)
	}
	return took
}

const hallPitchMm = 1500

// hallWall is the n-th of the walls that stand across a hall, one behind the other.
func hallWall(n int) object {
	return object{"code": fmt.Sprintf("W%d", n+1), "name": "Wall across", "recipe": "stud-wall", "params": object{
		"origin": point(0, hallPitchMm*(n+1), 0), "along": point(1, 0, 0), "length_mm": 4200, "height_mm": 2720,
		"face_a": object{"board": "osb3-11-metric"}, "face_b": object{"board": "osb3-11-metric"},
		"foot": object{"host": "SLAB"}, "head": object{"host": "SOFFIT"},
		"start": object{"meets": "host", "code": "WEST"}, "end": object{"meets": "host", "code": "EAST"}}}
}

// hall is a fit-out file: the example with one wall made so long that many walls stand across it.
func hall(b *testing.B, code string, walls int) object {
	b.Helper()
	var file map[string]any
	if err := json.Unmarshal(oneWall(b, code), &file); err != nil {
		b.Fatal(err)
	}
	const lengthMm = 100_000
	for _, h := range file["host_surfaces"].([]any) {
		surface := h.(map[string]any)
		surface["agreed_holes"] = 5_000
		far := surface["origin"].(map[string]any)
		if far["y"].(float64) > 0 {
			far["y"] = lengthMm
		}
		along := "u_mm" // the block walls run along the hall, slab and soffit across it
		if surface["u"].(map[string]any)["y"].(float64) == 0 {
			along = "v_mm"
		}
		surface[along] = lengthMm
	}
	all := make([]any, walls)
	for i := range all {
		all[i] = hallWall(i)
	}
	file["assemblies"] = all
	return file
}
