package fieldstats

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"github.com/geocoris/geocoris/internal/geometry/nearby"
)

// Neighbours are, for each place, the numbers of those it is compared with.
type Neighbours [][]int

// mostLinks bounds what neighbours may take: a thousand permutations over them are a
// few seconds.
const mostLinks = 1_000_000

// Within makes neighbours of all places no farther apart than a distance in metres,
// but of none with itself; nil where that makes more than a million links, as of
// thousands of stops on one place.
func Within(stops []Stop, metres float64) Neighbours {
	at := make([][2]float64, len(stops))
	for i, stop := range stops {
		at[i] = [2]float64{stop.X, stop.Y}
	}
	cells := nearby.Of(at, metres)
	n, links := make(Neighbours, len(stops)), 0
	for i, p := range at {
		for j := range cells.Near(p[0], p[1], metres) {
			dx, dy := p[0]-at[j][0], p[1]-at[j][1]
			if j == i || !(float64(dx*dx)+float64(dy*dy) <= float64(metres*metres)) {
				continue
			}
			n[i] = append(n[i], j)
			if links++; links > mostLinks {
				return nil
			}
		}
		slices.Sort(n[i])
	}
	return n
}

// Autocorrelation says whether near places are alike.
type Autocorrelation struct {
	I        float64 // Moran's
	Expected float64 // where the values are scattered at random
	Variance float64 // under randomisation
	Z        float64
	P        float64 // one-sided, by permutation: the chance of so large an I by accident
	Lonely   int     // places without neighbours; they tell nothing
}

// Moran computes Moran's I with rows of weights that add up to one, its moments
// under randomisation (Cliff & Ord 1981, Spatial Processes; from memory), and p from
// seeded permutations. Fewer than four values, values all alike, and places of
// which none has a neighbour are errors.
func (s Settings) Moran(v []float64, near Neighbours) (Autocorrelation, error) {
	w, err := newWeights(v, near)
	if err != nil {
		return Autocorrelation{}, err
	}
	z := centred(v)
	a := w.moments(z)
	a.I = w.moran(z)
	a.Z = StandardScore(a.I, a.Expected, a.Variance)
	draws := s.draws(usualPermutations)
	if a.farOut(draws) {
		a.P = 1 / float64(draws+1)
		return a, nil
	}
	rng := s.generator(permutationStream)
	// Rounding must not decide between arrangements of the same I.
	atLeast, line := 0, a.I-1e-12*math.Abs(a.I)
	for range draws {
		rng.Shuffle(len(z), func(i, j int) { z[i], z[j] = z[j], z[i] })
		if w.moran(z) >= line {
			atLeast++
		}
	}
	a.P = float64(atLeast+1) / float64(draws+1)
	return a, nil
}

// farOut reports that no more than one arrangement in draws + 1 has so large an I, whatever
// the values: of the mean and the variance of all of them that is Cantelli's inequality,
// 1/(1 + z²). So many draws show no less than that.
func (a Autocorrelation) farOut(draws int) bool { return a.Z > 0 && float64(a.Z*a.Z) >= float64(draws) }

// StandardScore is (value − expected)/√variance.
func StandardScore(value, expected, variance float64) float64 {
	return (value - expected) / math.Sqrt(variance)
}

// weights are row-standardised: each place's neighbours share one between them.
type weights struct {
	near   Neighbours
	s0     float64 // sum of the weights
	lonely int
}

func newWeights(v []float64, near Neighbours) (weights, error) {
	w := weights{near: near}
	if len(v) < 4 || len(near) != len(v) {
		return w, fmt.Errorf("autocorrelation of %d values with %d lists of neighbours: want four values or more, and a list for each", len(v), len(near))
	}
	named := make([]int, len(v)) // by which place last, from 1
	for i, list := range near {
		for _, j := range list {
			if j < 0 || j >= len(v) || j == i || named[j] == i+1 {
				return w, fmt.Errorf("place %d cannot have neighbour %d, or not twice", i, j)
			}
			named[j] = i + 1
		}
		if len(list) == 0 {
			w.lonely++
		}
	}
	if w.s0 = float64(len(v) - w.lonely); w.s0 == 0 {
		return w, errors.New("no place has a neighbour")
	}
	if !(Variance(v) > 0) {
		return w, errors.New("all values are the same: autocorrelation has no meaning")
	}
	return w, nil
}

func centred(v []float64) []float64 {
	m := Mean(v)
	z := make([]float64, len(v))
	for i, x := range v {
		z[i] = x - m
	}
	return z
}

func (w weights) moran(z []float64) float64 {
	var cross, squares float64
	for i, list := range w.near {
		squares += float64(z[i] * z[i])
		var lag float64
		for _, j := range list {
			lag += z[j]
		}
		if len(list) > 0 {
			cross += float64(z[i] * (lag / float64(len(list))))
		}
	}
	return float64(len(z)) / w.s0 * cross / squares
}

// moments are expectation and variance under randomisation, in Cliff and Ord's
// notation: S1 = ½ Σ (w_ij + w_ji)², S2 = Σ (w_i. + w_.i)², and b2 the kurtosis.
func (w weights) moments(z []float64) Autocorrelation {
	n := float64(len(z))
	naming := make([][]int, len(z)) // the places that name each
	column := make([]float64, len(z))
	for i, list := range w.near {
		for _, j := range list {
			naming[j] = append(naming[j], i)
			column[j] += w.share(i)
		}
	}
	var s1, s2 float64
	back := make([]float64, len(z)) // the weight of the place at hand among those of each
	for i, list := range w.near {
		for _, j := range naming[i] {
			back[j] = w.share(j)
		}
		row, here := 0.0, w.share(i)
		for _, j := range list {
			// Each pair is met from both sides where both name it: half of S1 each.
			both := float64((here + back[j]) * (here + back[j]))
			if back[j] == 0 {
				both *= 2
			}
			s1 += both / 2
			row += here
		}
		s2 += float64((row + column[i]) * (row + column[i]))
		for _, j := range naming[i] {
			back[j] = 0
		}
	}
	var m2, m4 float64
	for _, x := range z {
		m2, m4 = m2+float64(x*x), m4+float64(x*x)*float64(x*x)
	}
	b2 := (m4 / n) / float64((m2/n)*(m2/n))
	s0s := float64(w.s0 * w.s0)
	e := -1 / (n - 1)
	top := n*((n*n-3*n+3)*s1-n*s2+3*s0s) - b2*((n*n-n)*s1-2*n*s2+6*s0s)
	return Autocorrelation{Expected: e, Variance: top/((n-1)*(n-2)*(n-3)*s0s) - e*e, Lonely: w.lonely}
}

// share is the weight of each neighbour of a place.
func (w weights) share(i int) float64 { return 1 / float64(len(w.near[i])) }
