package api

import (
	"fmt"
	"io"
	"net/http"
	"slices"
	"syscall"
	"testing"
	"time"
)

// pagesOfHall are the pages of a fit-out, one of each kind, with codes of the hall's.
var pagesOfHall = []string{
	"", "/log", "/log/assembly/stud-wall", "/log/run", "/log/piece", "/log/found", "/log/made/2",
	"/drawings", "/drawings?view=plan", "/drawings?view=plan&step=40", "/drawings?view=elevation/W1", "/drawings?view=setting-out/W1",
	"/strip-out", "/strip-out/1", "/strip-out/9", "/strip-out/programme", "/free", "/free?/code=W1-S4",
	"/register", "/register/pieces", "/register/fixings", "/register/holes", "/register/hosts", "/register/log",
	"/pieces/W1-S4", "/assemblies/W1", "/hosts/SLAB", "/closing-up", "/notices", "/making-good", "/schedule", "/salvage", "/documents", "/settings", "/settings/tenancy",
}

// BenchmarkPages asks for every page of a fit-out of about 1,000 elements over a real connection: 30 walls lined on both
// sides, 990 elements. The plan has been made: it is made once for each head of the log. Reach: 50 ms each. The processor
// time is that of the program, collecting garbage included, Postgres apart; the time elapsed counts on a quiet machine only.
//
// The peer of the same run is the list of fit-outs, which reads one row.
func BenchmarkPages(b *testing.B) {
	s := newSite(b)
	s.want(201, post, base+"/import", hall(b, "HALL", 30))
	s.want(201, post, base+"/HALL/elements", object{"element": loose("B1", 0)})
	s.want(200, get, "/f/HALL/strip-out", nil)
	for _, page := range append([]string{"PEER"}, pagesOfHall...) {
		address, name := "/f/HALL"+page, page
		if page == "PEER" {
			address, name = "/", "fit-outs"
		}
		b.Run("page"+name, func(b *testing.B) {
			var elapsed []time.Duration
			size, before := 0, processorTime()
			for b.Loop() {
				start := time.Now()
				size = page200(b, s.url+address)
				elapsed = append(elapsed, time.Since(start))
			}
			cpu := processorTime() - before
			slices.Sort(elapsed)
			b.ReportMetric(float64(elapsed[len(elapsed)/2].Microseconds())/1000, "median-ms")
			b.ReportMetric(float64(elapsed[0].Microseconds())/1000, "least-ms")
			b.ReportMetric(float64(cpu.Microseconds())/1000/float64(len(elapsed)), "cpu-ms")
			b.ReportMetric(float64(size)/1000, "KB")
			b.ReportMetric(0, "ns/op")
		})
	}
}

// page200 reads a whole page and says how long its text is.
func page200(b *testing.B, address string) int {
	b.Helper()
	r, err := http.NewRequestWithContext(b.Context(), http.MethodGet, address, nil)
	if err != nil {
		b.Fatal(err)
	}
	r.Header.Set("Accept", "text/html")
	answer, err := http.DefaultClient.Do(r)
	if err != nil {
		b.Fatal(err)
	}
	defer answer.Body.Close()
	text, err := io.ReadAll(answer.Body)
	if err != nil || answer.StatusCode != http.StatusOK {
		b.Fatal(fmt.Errorf("%s: status %d, %v: %.500s", address, answer.StatusCode, err, text))
	}
	return len(text)
}

// processorTime is what the program has used so far.
func processorTime() time.Duration {
	var used syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &used); err != nil {
		return 0
	}
	return time.Duration(used.Utime.Nano() + used.Stime.Nano())
}
