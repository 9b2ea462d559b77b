package interp_test

import (
	"math/rand/v2"
	"testing"

	"github.com/geocoris/geocoris/interp"
)

func BenchmarkAllStops(b *testing.B) {
	benchmarkFill(b, 2000, interp.IDW{Neighbors: all}, interp.Lattice{Cell: 5, Cols: 200, Rows: 200})
}

// The same over 1,000 × 1,000 nodes, where what is far is taken together.
func BenchmarkAllStopsFarField(b *testing.B) {
	benchmarkFill(b, 2000, interp.IDW{Neighbors: all}, interp.Lattice{Cell: 1, Cols: 1000, Rows: 1000})
}

func BenchmarkNearest12(b *testing.B) {
	benchmarkFill(b, 100_000, interp.IDW{}, interp.Lattice{Cell: 5, Cols: 200, Rows: 200})
}

// Stops 56 m apart on cells of 10 m: part of 100,000 on 314 km².
func BenchmarkSwarm(b *testing.B) {
	rng := rand.New(rand.NewPCG(7, 8))
	benchmarkFillOf(b, interp.IDW{}, cloud(rng, 100_000, func() (x, y float64) { return 17725 * rng.Float64(), 17725 * rng.Float64() }),
		interp.Lattice{X0: 5000, Y0: 9000, Cell: 10, Cols: 200, Rows: 200})
}

func BenchmarkMorning(b *testing.B) {
	benchmarkFill(b, 60, interp.IDW{}, interp.Lattice{Cell: 5, Cols: 150, Rows: 150})
}

// What leave-one-out costs every map, and --tune as many times over.
func BenchmarkLeaveOneOut(b *testing.B) {
	rng := rand.New(rand.NewPCG(7, 8))
	samples := cloud(rng, 2000, func() (x, y float64) { return 1000 * rng.Float64(), 1000 * rng.Float64() })
	for name, s := range map[string]interp.IDW{"nearest12": {}, "all": {Neighbors: all}} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if _, err := s.LeaveOneOut(samples); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func benchmarkFill(b *testing.B, n int, s interp.IDW, l interp.Lattice) {
	rng := rand.New(rand.NewPCG(7, 8))
	benchmarkFillOf(b, s, cloud(rng, n, func() (x, y float64) { return 1000 * rng.Float64(), 1000 * rng.Float64() }), l)
}

func benchmarkFillOf(b *testing.B, s interp.IDW, samples []interp.Sample, l interp.Lattice) {
	p := fit(b, s, samples)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := interp.Fill(b.Context(), p, l, interp.FillSettings{}); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(l.Len())*float64(b.N)/b.Elapsed().Seconds(), "nodes/s")
}
