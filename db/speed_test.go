package db_test

import (
	"fmt"
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

// BenchmarkImport100k imports a register of 100,000 sets of fixings, and beside it copies the same rows into bare tables:
// no key, no constraint, no log. Design, section 11: 60 % of raw COPY.
func BenchmarkImport100k(b *testing.B) {
	d, url := dbtest.NewURL(b, db.Config{})
	who := firm(b, d)
	conn, err := pgx.Connect(b.Context(), url)
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { conn.Close(b.Context()) })
	bare := db.NewBareTables(b, conn)
	r := built("A", 253, 12) // 8,349 elements, 100,188 sets of fixings
	var ours, raw []time.Duration
	for i := 0; b.Loop(); i++ {
		start := time.Now()
		if err := bare.Copy(b.Context(), r.Records()); err != nil {
			b.Fatal(err)
		}
		raw = append(raw, time.Since(start))
		r.FitOut.Code = fmt.Sprintf("A%d", i)
		start = time.Now()
		if _, err := d.Import(b.Context(), who, jo, r); err != nil {
			b.Fatal(err)
		}
		ours = append(ours, time.Since(start))
	}
	slices.Sort(ours)
	slices.Sort(raw)
	o, w := ours[len(ours)/2], raw[len(raw)/2]
	b.ReportMetric(float64(o.Milliseconds()), "import-ms")
	b.ReportMetric(float64(w.Milliseconds()), "raw-ms")
	b.ReportMetric(100*float64(w)/float64(o), "%-of-raw")
}
