package db_test

import (
	"context"
	"fmt"
	"runtime"
	"slices"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"

	"unpick/db"
	"unpick/db/dbtest"
	"unpick/domain"
)

// BenchmarkLogWall logs a wall of 33 elements and 132 sets of fixings onto a register of 1,000 elements, stored. Design,
// section 11: 50 ms through the API, median.
func BenchmarkLogWall(b *testing.B) {
	d := dbtest.New(b)
	who := firm(b, d)
	var took []time.Duration
	var f domain.FitOut
	for i := 0; b.Loop(); i++ {
		if i%10 == 0 { // the register stays at about 1,000 elements
			b.StopTimer()
			f = imported(b, d, built(fmt.Sprintf("A%d", i), 30, 4))
			b.StartTimer()
		}
		more := wall(fmt.Sprintf("N%d", i), 100+i%10, 4)
		start := time.Now()
		if _, _, err := d.Change(b.Context(), who, f.ID, jo, adding("wall", more)); err != nil {
			b.Fatal(err)
		}
		took = append(took, time.Since(start))
	}
	slices.Sort(took)
	b.ReportMetric(float64(took[len(took)/2].Microseconds())/1000, "median-ms")
}

// BenchmarkRegister loads a register of 1,000 elements and 4,000 sets of fixings.
func BenchmarkRegister(b *testing.B) {
	d := dbtest.New(b)
	f := imported(b, d, built("A1", 30, 4))
	for b.Loop() {
		loaded(b, d, f.ID)
	}
}

// BenchmarkImport100k imports a register of 100,000 sets of fixings, and beside it copies the same rows into bare tables
// with the library's CopyFrom: no key, no constraint, no log. Design, section 11: 60 % of raw COPY. What is compared is
// the best of the pairs, since everything else that runs on the machine only ever slows them down.
func BenchmarkImport100k(b *testing.B) {
	d, url := dbtest.NewURL(b, db.Config{})
	who := firm(b, d)
	conn, err := pgx.Connect(b.Context(), url)
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { conn.Close(context.WithoutCancel(b.Context())) })
	bare := db.NewBareTables(b, conn)
	r := built("A", 253, 12) // 8,349 elements, 100,188 sets of fixings
	var ours, raw []time.Duration
	for i := 0; b.Loop(); i++ {
		runtime.GC() // neither pays for what the other left
		start := time.Now()
		if err := bare.Copy(b.Context(), r.Records()); err != nil {
			b.Fatal(err)
		}
		raw = append(raw, time.Since(start))
		runtime.GC()
		r.FitOut.Code = fmt.Sprintf("A%d", i)
		start = time.Now()
		if _, err := d.Import(b.Context(), who, jo, r); err != nil {
			b.Fatal(err)
		}
		ours = append(ours, time.Since(start))
	}
	o, w := slices.Min(ours), slices.Min(raw)
	b.ReportMetric(float64(o.Milliseconds()), "import-ms")
	b.ReportMetric(float64(w.Milliseconds()), "raw-ms")
	b.ReportMetric(100*float64(w)/float64(o), "%-of-raw")
	b.ReportMetric(0, "ns/op")
}
