package interp

import (
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/stat/distuv"
)

// Invented fields whose true mean per leaf is known everywhere: squares of side
// metres, the level 40.
const (
	inventedSide  = 600.0
	inventedLevel = 40.0
)

// A ground is the true mean per leaf at a place.
type ground func(x, y float64) float64

// An invention makes fields of one kind.
type invention struct {
	name string
	make func(rng *rand.Rand) ground
}

var inventions = []invention{
	{"log-Gaussian, 2 % over", logGaussian(0.02)},
	{"log-Gaussian, 10 % over", logGaussian(0.10)},
	{"log-Gaussian, 30 % over", logGaussian(0.30)},
	{"log-Gaussian, 60 % over", logGaussian(0.60)},
	{"log-Gaussian, stretched", stretched},
	{"sharp patches", sharpPatches(1)},
	{"patches drawn by the wind", sharpPatches(4)},
	{"edges", func(rng *rand.Rand) ground { return edges(rng, 1+rng.IntN(2)) }},
	{"edge, patches, gradient", mixture},
	{"clean", func(rng *rand.Rand) ground { return even(rng, math.Exp(math.Log(0.2)+math.Log(15)*rng.Float64())) }},
	{"over everywhere", func(rng *rand.Rand) ground { return even(rng, 150) }},
}

// quantiles are those of the normal distribution.
func quantile(share float64) float64 { return distuv.UnitNormal.Quantile(share) }

// logGaussian has so much of the ground over the level on average, by a standard
// deviation of 1 to 1.8 and ranges at which the correlation is 0.05 of 120 to
// 500 m, Matérn 3/2 or exponential.
func logGaussian(over float64) func(*rand.Rand) ground {
	return func(rng *rand.Rand) ground {
		sigma := 1 + 0.8*rng.Float64()
		z := drawWaves(rng, 120+380*rng.Float64(), rng.IntN(2) == 0)
		mean := math.Log(inventedLevel) - sigma*quantile(1-over)
		return func(x, y float64) float64 { return math.Exp(mean + sigma*z(x, y)) }
	}
}

// stretched is three to five times as long one way as the other.
func stretched(rng *rand.Rand) ground {
	f, turn, times := logGaussian(0.15)(rng), math.Pi*rng.Float64(), 3+2*rng.Float64()
	sin, cos := math.Sincos(turn)
	return func(x, y float64) float64 { return f((x*cos+y*sin)/times, y*cos-x*sin) }
}

// drawWaves is a Gaussian process with variance 1 by random waves, whose
// frequencies come from the spectrum of the covariance.
func drawWaves(rng *rand.Rand, far float64, smooth bool) ground {
	const count = 300
	var waves [count][3]float64
	for i := range waves {
		scale := 3.0 / far / math.Abs(rng.NormFloat64())
		if smooth {
			scale = 4.74 / far / math.Sqrt(-2*math.Log(1-rng.Float64())+math.Pow(rng.NormFloat64(), 2))
		}
		waves[i] = [3]float64{scale * rng.NormFloat64(), scale * rng.NormFloat64(), 2 * math.Pi * rng.Float64()}
	}
	return func(x, y float64) (z float64) {
		for _, w := range waves {
			z += math.Cos(w[0]*x + w[1]*y + w[2])
		}
		return z * math.Sqrt(2.0/count)
	}
}

// sharpPatches hold 60 to 200 per leaf on ground with 0 to 2, until a twentieth to
// a quarter of it is taken; so many times as long as wide.
func sharpPatches(long float64) func(*rand.Rand) ground {
	return func(rng *rand.Rand) ground {
		type patch struct{ x, y, r, density float64 }
		var patches []patch
		wanted, wind, outside := inventedSide*inventedSide*(0.05+0.2*rng.Float64()), math.Pi*rng.Float64(), 2*rng.Float64()
		for taken := 0.0; taken < wanted; {
			p := patch{inventedSide * rng.Float64(), inventedSide * rng.Float64(), 25 + 55*rng.Float64(), 60 + 140*rng.Float64()}
			taken += math.Pi * p.r * p.r
			patches = append(patches, p)
		}
		sin, cos := math.Sincos(wind)
		stretch := math.Sqrt(long)
		return func(x, y float64) float64 {
			v := outside
			for _, p := range patches {
				dx, dy := x-p.x, y-p.y
				if math.Hypot((dx*cos+dy*sin)/stretch, (dy*cos-dx*sin)*stretch) <= p.r {
					v = max(v, p.density)
				}
			}
			return v
		}
	}
}

// edges were come in over: 100 to 350 per leaf, falling by 1/e in 20 to 60 m.
func edges(rng *rand.Rand, sides int) ground {
	first, peak, fall := rng.IntN(4), 100+250*rng.Float64(), 20+40*rng.Float64()
	front := drawWaves(rng, 250, true)
	return func(x, y float64) (v float64) {
		from := [4]float64{x, y, inventedSide - x, inventedSide - y}
		for side := range sides {
			k := (first + side) % 4
			along := [2]float64{y, x}[k%2]
			v = max(v, peak*math.Exp(-max(0, from[k]+10*front(along, 0))/fall))
		}
		return v + 0.5
	}
}

func mixture(rng *rand.Rand) ground {
	a, b, rise := edges(rng, 1), sharpPatches(1)(rng), 30*rng.Float64()
	return func(x, y float64) float64 { return max(a(x, y), b(x, y)) + rise*x/inventedSide }
}

// even is about one density everywhere.
func even(rng *rand.Rand, density float64) ground {
	z := drawWaves(rng, 200, true)
	return func(x, y float64) float64 { return density * math.Exp(0.3*z(x, y)) }
}

// walked is a walk over a field: 12 to 60 stops at random, one in each cell of a
// net, or on a W; 10 or 20 leaves a stop, numbers on leaves negative binomial
// with k from 0.5 to 2, the places off by 5 m.
func walked(g ground, rng *rand.Rand) (counts []Count) {
	stops, leaves, k := []int{12, 20, 30, 60}[rng.IntN(4)], []int{10, 20}[rng.IntN(2)], 0.5+1.5*rng.Float64()
	way := rng.IntN(3)
	for i := range stops {
		x, y := placed(way, i, stops, rng)
		c := leavesAt(g(x, y), leaves, k, rng)
		c.X, c.Y = x+5*rng.NormFloat64(), y+5*rng.NormFloat64()
		counts = append(counts, c)
	}
	return counts
}

// placed is where a stop of a walk stands.
func placed(way, i, stops int, rng *rand.Rand) (x, y float64) {
	u, v := rng.Float64(), rng.Float64()
	switch way {
	case 1:
		cols := map[int]int{12: 4, 20: 5, 30: 6, 60: 10}[stops]
		u, v = (float64(i%cols)+u)/float64(cols), (float64(i/cols)+v)/float64(stops/cols)
	case 2:
		u = (float64(i) + 0.5) / float64(stops)
		v = 0.05 + 0.9*math.Abs(1-math.Mod(4*u, 2))
	}
	return inventedSide * u, inventedSide * v
}

// leavesAt counts leaves at a place.
func leavesAt(mean float64, leaves int, k float64, rng *rand.Rand) Count {
	src := rand.NewPCG(rng.Uint64(), rng.Uint64())
	var sum, squares float64
	for range leaves {
		m := distuv.Gamma{Alpha: k, Beta: k / mean, Src: src}.Rand()
		n := distuv.Poisson{Lambda: m, Src: src}.Rand()
		if !(m > 1e-12) {
			n = 0
		}
		sum, squares = sum+n, squares+n*n
	}
	mean = sum / float64(leaves)
	return Count{Mean: mean, Units: float64(leaves), Variance: max(0, squares-sum*mean) / float64(leaves-1)}
}
