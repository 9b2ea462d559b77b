package catch_test

import (
	"math"

	"github.com/geocoris/geocoris/interp"
)

// oracle is the chance at every node for one who knows the true mean and
// covariance of the logarithm, and how leaves differ: simple kriging in plain
// arithmetic, apart from the package under test. Nobody who sees the same counts
// can take less ground for the same catch, but for the logarithm's error being
// taken as normal.
func oracle(counts []interp.Count, mean float64, m interp.VariogramModel) []float64 {
	const offset = 0.5 / leaves
	n := len(counts)
	l := make([][]float64, n) // C = L·Lᵀ
	z := make([]float64, n)
	for i, a := range counts {
		l[i] = make([]float64, i+1)
		for j, b := range counts[:i+1] {
			l[i][j] = m.Covariance(math.Hypot(a.X-b.X, a.Y-b.Y))
		}
		l[i][i] += (1/(a.Mean+offset) + 1) / leaves
		for j := range i + 1 {
			for k := range j {
				l[i][j] -= l[i][k] * l[j][k]
			}
			if i == j {
				l[i][i] = math.Sqrt(l[i][i])
			} else {
				l[i][j] /= l[j][j]
			}
		}
		z[i] = math.Log(a.Mean+offset) - mean
	}
	forward(l, z)
	chances := make([]float64, lattice.Len())
	v := make([]float64, n)
	for i := range chances {
		x, y := lattice.Node(i%lattice.Cols, i/lattice.Cols)
		for j, c := range counts {
			v[j] = m.Covariance(math.Hypot(c.X-x, c.Y-y))
		}
		forward(l, v)
		expected, variance := mean, m.Sill()
		for j := range v {
			expected += v[j] * z[j]
			variance -= v[j] * v[j]
		}
		chances[i] = 0.5 * math.Erfc((math.Log(level+offset)-expected)/math.Sqrt(2*max(variance, 1e-12)))
	}
	return chances
}

// forward solves L·x = v in place.
func forward(l [][]float64, v []float64) {
	for i := range l {
		for k := range i {
			v[i] -= l[i][k] * v[k]
		}
		v[i] /= l[i][i]
	}
}
