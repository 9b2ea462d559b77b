package catch_test

import (
	"math"
	"math/rand/v2"

	"github.com/geocoris/geocoris/interp"
)

// An invented field: a square of 49 ha, its true mean per leaf known at every
// node, the level 40 per leaf.
const (
	side   = 700.0 // metres
	nodes  = 64    // along a side
	level  = 40.0
	leaves = 20 // looked at on a stop
)

var lattice = interp.Lattice{X0: side / nodes / 2, Y0: side / nodes / 2, Cell: side / nodes, Cols: nodes, Rows: nodes}

// truth is the mean per leaf at a place.
type truth func(x, y float64) float64

// A kind of field makes one from a number; model is what is true of its
// logarithm where that is a Gaussian process, else its kind is 0.
type kind struct {
	name string
	make func(number int, rng *rand.Rand) (t truth, mean float64, model interp.VariogramModel)
}

var kinds = []kind{
	{"log-Gaussian", logGaussian},
	{"sharp patches", sharpPatches},
	{"edge infestation", edgeInfestation},
}

// sigma is the standard deviation of the logarithm; with it a mean of
// log 40 − 0.954 σ puts 17 % of the ground over 40.
const sigma = 1.5

// logGaussian takes the nine settings in turn: three kinds of covariance with
// three ranges, given as the distance at which the correlation is 0.05.
func logGaussian(number int, rng *rand.Rand) (truth, float64, interp.VariogramModel) {
	mean := math.Log(level) - 0.954*sigma
	far := []float64{200, 350, 550}[number%3]
	model := interp.VariogramModel{PartialSill: sigma * sigma}
	switch number / 3 % 3 {
	case 0:
		model.Kind, model.Range = interp.Exponential, far/3.00
	case 1:
		model.Kind, model.Range = interp.Matern32, far/4.74
	case 2:
		model.Kind, model.Range = interp.Gaussian, far/1.73
	}
	z := waves(model, rng)
	return func(x, y float64) float64 { return math.Exp(mean + sigma*z(x, y)) }, mean, model
}

// waves is a Gaussian process with variance 1 by random waves: frequencies drawn
// from the spectrum of the covariance, which for Matérn covariances of smoothness
// ν is a bivariate t distribution with 2ν degrees of freedom.
func waves(m interp.VariogramModel, rng *rand.Rand) truth {
	const count = 500
	type wave struct{ kx, ky, phase float64 }
	all := make([]wave, count)
	for i := range all {
		scale := 1 / m.Range
		switch m.Kind {
		case interp.Exponential:
			scale /= math.Abs(rng.NormFloat64())
		case interp.Matern32:
			a, b, c := rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()
			scale /= math.Sqrt(a*a + b*b + c*c)
		case interp.Gaussian:
			scale *= math.Sqrt2
		}
		all[i] = wave{scale * rng.NormFloat64(), scale * rng.NormFloat64(), 2 * math.Pi * rng.Float64()}
	}
	return func(x, y float64) (z float64) {
		for _, w := range all {
			z += math.Cos(w.kx*x + w.ky*y + w.phase)
		}
		return z * math.Sqrt(2.0/count)
	}
}

// sharpPatches are round ones on a clean field, 60 to 200 per leaf inside, until
// a tenth to a quarter of the ground is taken.
func sharpPatches(_ int, rng *rand.Rand) (truth, float64, interp.VariogramModel) {
	type patch struct{ x, y, r, density float64 }
	var patches []patch
	wanted := side * side * (0.10 + 0.15*rng.Float64())
	for taken := 0.0; taken < wanted; {
		p := patch{side * rng.Float64(), side * rng.Float64(), 40 + 70*rng.Float64(), 60 + 140*rng.Float64()}
		taken += math.Pi * p.r * p.r
		patches = append(patches, p)
	}
	return func(x, y float64) (v float64) {
		for _, p := range patches {
			if math.Hypot(x-p.x, y-p.y) <= p.r {
				v = max(v, p.density)
			}
		}
		return v
	}, 0, interp.VariogramModel{}
}

// edgeInfestation came in over one side: 150 to 400 per leaf there, falling by
// 1/e in 40 to 70 m, from a front that wanders.
func edgeInfestation(_ int, rng *rand.Rand) (truth, float64, interp.VariogramModel) {
	peak, fall := 150+250*rng.Float64(), 40+30*rng.Float64()
	front := waves(interp.VariogramModel{Kind: interp.Gaussian, PartialSill: 1, Range: 150}, rng)
	turn := rng.IntN(4)
	return func(x, y float64) float64 {
		d, along := x, y
		switch turn {
		case 1:
			d = side - x
		case 2:
			d, along = y, x
		case 3:
			d, along = side-y, x
		}
		return min(peak, peak*math.Exp(-(d+20*front(along, 0))/fall))
	}, 0, interp.VariogramModel{}
}

// walk lays one stop at random into each cell of a net over the field.
func walk(stops int, rng *rand.Rand) (places [][2]float64) {
	cols := map[int]int{30: 5, 60: 6, 120: 10}[stops]
	rows := stops / cols
	for i := range stops {
		x := (float64(i%cols) + rng.Float64()) / float64(cols)
		y := (float64(i/cols) + rng.Float64()) / float64(rows)
		places = append(places, [2]float64{side * x, side * y})
	}
	return places
}

// count looks at leaves at a place. Numbers on leaves of one place follow the
// geometric distribution, the negative binomial with variance m + m².
func count(t truth, at [2]float64, rng *rand.Rand) interp.Count {
	var sum, squares float64
	if m := t(at[0], at[1]); m > 0 {
		step := math.Log1p(1 / m)
		for range leaves {
			n := math.Floor(rng.ExpFloat64() / step)
			sum += n
			squares += n * n
		}
	}
	mean := sum / leaves
	return interp.Count{X: at[0], Y: at[1], Mean: mean, Units: leaves, Variance: max(0, squares-leaves*mean*mean) / (leaves - 1)}
}
