package interp_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/interp"
)

func BenchmarkChanceFit(b *testing.B) {
	for _, n := range []int{30, 60, 120, 500} {
		b.Run(fmt.Sprintf("n=%d", n), func(b *testing.B) {
			counts := counted(rand.New(rand.NewPCG(1, 1)), n)
			for b.Loop() {
				_, err := interp.ChanceModel{Level: 40}.Fit(counts)
				require.NoError(b, err)
			}
		})
	}
}

func BenchmarkChanceAtANode(b *testing.B) {
	for _, n := range []int{30, 60, 120, 500} {
		b.Run(fmt.Sprintf("n=%d", n), func(b *testing.B) {
			over := chances(b, interp.ChanceModel{Level: 40}, counted(rand.New(rand.NewPCG(1, 1)), n)).Over(40)
			for b.Loop() {
				over.Predict(123, 77)
			}
		})
	}
}

// The nodes by which the expected ground of a field is summed up.
func BenchmarkChanceAtNodes(b *testing.B) {
	over := chances(b, interp.ChanceModel{Level: 40}, counted(rand.New(rand.NewPCG(1, 1)), 60)).Over(40)
	for b.Loop() {
		_, err := interp.Fill(b.Context(), over, interp.Lattice{Cell: 20, Cols: 30, Rows: 30}, interp.FillSettings{})
		require.NoError(b, err)
	}
}

func BenchmarkKrigingAtANode(b *testing.B) {
	samples := logarithms(meuse(b))
	for _, k := range []int{16, 32, all} {
		b.Run(fmt.Sprintf("k=%d", k), func(b *testing.B) {
			p := krige(b, interp.OrdinaryKriging{Model: lnSph, Neighbors: k}, samples)
			for b.Loop() {
				p.Predict(180000, 331000)
			}
		})
	}
}

func BenchmarkChanceFitOfMany(b *testing.B) {
	for _, n := range []int{2000, 20000} {
		b.Run(fmt.Sprintf("n=%d", n), func(b *testing.B) {
			counts := counted(rand.New(rand.NewPCG(1, 1)), n)
			for b.Loop() {
				_, err := interp.ChanceModel{Level: 40}.Fit(counts)
				require.NoError(b, err)
			}
		})
	}
}
