package drawing_test

import (
	"fmt"
	"io"
	"testing"

	"unpick/domain"
	"unpick/reports/drawing"
)

// thousand is the demo's fit-out with copies of its pieces and fixings beside it until there are a thousand pieces.
func thousand(tb testing.TB) *domain.Register {
	tb.Helper()
	r := demo(tb)
	pieces, sets := r.Elements, r.Fixings
	for n := 1; len(r.Elements) < 1000; n++ {
		by := n * 15000
		for _, e := range pieces {
			e.Code = fmt.Sprintf("%s-%d", e.Code, n)
			e.Placement.Origin.X += by
			r.Elements = append(r.Elements, e)
		}
		for _, f := range sets {
			f.Code, f.Holds = fmt.Sprintf("%s-%d", f.Code, n), fmt.Sprintf("%s-%d", f.Holds, n)
			f.Run.Start.X += by
			r.Fixings = append(r.Fixings, f)
		}
	}
	r.Elements = r.Elements[:1000]
	return r
}

// BenchmarkThousandPieces draws a fit-out of a thousand pieces for a page. Its peer is writing as many bytes as the
// plan has, already made.
func BenchmarkThousandPieces(b *testing.B) {
	r := thousand(b)
	for _, v := range []drawing.View{{Kind: drawing.PlanView}, {Kind: drawing.IsometricView}, {Kind: drawing.ElevationView, Assembly: "W1"}, {Kind: drawing.SettingOutView, Assembly: "W1"}} {
		b.Run(string(v.Kind), func(b *testing.B) {
			size := 0
			for b.Loop() {
				raw := drawn(b, view(r, v, drawing.Options{Inline: true, Link: linked}))
				size = len(raw)
			}
			b.ReportMetric(float64(size), "bytes")
		})
	}
	ready := drawn(b, view(r, drawing.View{Kind: drawing.PlanView}, drawing.Options{}))
	b.Run("bytes already made", func(b *testing.B) {
		for b.Loop() {
			if _, err := io.Discard.Write(ready); err != nil {
				b.Fatal(err)
			}
		}
	})
}
