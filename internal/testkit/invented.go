package testkit

import (
	"math"
	"math/rand/v2"
)

// Invented fields are squares of 49 ha, InventedSide metres wide, whose density is
// known at every place. They are made up: no field was measured for them.
const InventedSide = 700.0

// Density is the true number on a leaf, the same over each cell of a net of
// InventedCells × InventedCells from the south-west corner, row by row.
type Density []float64

// InventedCells is the number of cells along a side.
const InventedCells = 70

// densityOf takes a function of metres at the middles of the cells.
func densityOf(f func(x, y float64) float64) Density {
	d := make(Density, InventedCells*InventedCells)
	const cell = InventedSide / InventedCells
	for i := range d {
		d[i] = f(cell*(float64(i%InventedCells)+.5), cell*(float64(i/InventedCells)+.5))
	}
	return d
}

// At is the density at a place, in metres from the south-west corner.
func (d Density) At(at [2]float64) float64 {
	cell := func(v float64) int { return max(0, min(InventedCells-1, int(v/InventedSide*InventedCells))) }
	return d[cell(at[1])*InventedCells+cell(at[0])]
}

// Mean is that of a function of the density over the field.
func (d Density) Mean(of func(density float64) float64) float64 {
	sum := 0.0
	for _, v := range d {
		sum += of(v)
	}
	return sum / float64(len(d))
}

// Scaled is the density at the height at which the mean of a rising function of it
// is the value, by bisection of the logarithm.
func (d Density) Scaled(value float64, of func(density float64) float64) Density {
	low, high := -15.0, 15.0
	for range 24 {
		at := (low + high) / 2
		if f := math.Exp(at); d.Mean(func(v float64) float64 { return of(f * v) }) < value {
			low = at
		} else {
			high = at
		}
	}
	out := make(Density, len(d))
	for i, v := range d {
		out[i] = v * math.Exp(low)
	}
	return out
}

// An Invented kind of field makes one from random numbers.
type Invented struct {
	Name string
	Make func(*rand.Rand) Density
}

// InventedFields are the kinds: without form, log-Gaussian ones, sharp patches,
// patches drawn out by the wind, a gradient from one side to the other, and an
// infested edge. Densities are about 1 to 200.
func InventedFields() []Invented {
	return []Invented{
		{"random", func(rng *rand.Rand) Density { return grains(rng, .8) }},
		{"log-Gaussian", func(rng *rand.Rand) Density { return logWaves(rng, 1.2, 1) }},
		{"patches", func(rng *rand.Rand) Density { return patches(rng, 1) }},
		{"wind-drawn patches", func(rng *rand.Rand) Density { return patches(rng, 4) }},
		{"gradient", gradient},
		{"edge", edge},
	}
}

// grains are cells that have nothing to do with one another.
func grains(rng *rand.Rand, sigma float64) Density {
	return densityOf(func(float64, float64) float64 { return 20 * math.Exp(sigma*rng.NormFloat64()) })
}

// logWaves is the exponential of a Gaussian process by random waves, 100 to 200 m
// long, stretched along a direction.
func logWaves(rng *rand.Rand, sigma, stretch float64) Density {
	const count = 120
	z, length, turn := [count][3]float64{}, 40+40*rng.Float64(), 2*math.Pi*rng.Float64()
	sin, cos := math.Sincos(turn)
	for i := range z {
		// Matérn 3/2: frequencies of a t distribution with 3 degrees of freedom.
		a, b, c := rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()
		scale := math.Sqrt(3) / length / math.Sqrt(a*a+b*b+c*c)
		u, v := scale*rng.NormFloat64()/stretch, scale*rng.NormFloat64()
		z[i] = [3]float64{u*cos - v*sin, u*sin + v*cos, 2 * math.Pi * rng.Float64()}
	}
	return densityOf(func(x, y float64) float64 {
		sum := 0.0
		for _, w := range z {
			sum += math.Cos(w[0]*x + w[1]*y + w[2])
		}
		return 15 * math.Exp(sigma*sum*math.Sqrt(2.0/count))
	})
}

// patches are sharp ones on 10 to 40 % of the field, 60 to 200 inside and 1
// outside, so many times as long as wide.
func patches(rng *rand.Rand, long float64) Density {
	type patch struct{ x, y, r, density float64 }
	var all []patch
	sin, cos := math.Sincos(2 * math.Pi * rng.Float64())
	root := math.Sqrt(long)
	wanted := InventedSide * InventedSide * (0.1 + 0.3*rng.Float64())
	for taken := 0.0; taken < wanted; {
		p := patch{InventedSide * rng.Float64(), InventedSide * rng.Float64(), 40 + 70*rng.Float64(), 60 + 140*rng.Float64()}
		taken += math.Pi * p.r * p.r
		all = append(all, p)
	}
	return densityOf(func(x, y float64) float64 {
		v := 1.0
		for _, p := range all {
			dx, dy := x-p.x, y-p.y
			if math.Hypot((dx*cos+dy*sin)/root, (dy*cos-dx*sin)*root) <= p.r {
				v = max(v, p.density)
			}
		}
		return v
	})
}

// gradient falls from one of the four sides to the other, to a tenth or less.
func gradient(rng *rand.Rand) Density {
	side, steep := fromSide(rng), 2.3+2*rng.Float64()
	return densityOf(func(x, y float64) float64 { return 100 * math.Exp(-steep*side(x, y)/InventedSide) })
}

// edge falls off within 20 to 60 m of one side.
func edge(rng *rand.Rand) Density {
	side, fall := fromSide(rng), 20+40*rng.Float64()
	return densityOf(func(x, y float64) float64 { return 1 + 200*math.Exp(-side(x, y)/fall) })
}

// fromSide is the distance from one of the four sides.
func fromSide(rng *rand.Rand) func(x, y float64) float64 {
	switch rng.IntN(4) {
	case 0:
		return func(x, _ float64) float64 { return x }
	case 1:
		return func(x, _ float64) float64 { return InventedSide - x }
	case 2:
		return func(_, y float64) float64 { return y }
	}
	return func(_, y float64) float64 { return InventedSide - y }
}

// LeafCounts draws the total on so many leaves about a density: negative binomial
// with k, which is a Poisson number about a gamma one.
func LeafCounts(rng *rand.Rand, density, k float64, leaves int) (counts []float64) {
	for range leaves {
		counts = append(counts, poisson(rng, density*gamma(rng, k)/k))
	}
	return counts
}

// gamma is that of Marsaglia & Tsang 2000, ACM Trans. Math. Softw. 26:363–372.
func gamma(rng *rand.Rand, shape float64) float64 {
	if shape < 1 {
		return gamma(rng, shape+1) * math.Pow(1-rng.Float64(), 1/shape)
	}
	d := shape - 1.0/3
	for {
		x := rng.NormFloat64()
		v := math.Pow(1+x/math.Sqrt(9*d), 3)
		if v > 0 && math.Log(1-rng.Float64()) < x*x/2+d-d*v+d*math.Log(v) {
			return d * v
		}
	}
}

// poisson draws small numbers one by one and takes large ones for normal, which is
// near enough for leaves.
func poisson(rng *rand.Rand, mean float64) float64 {
	if mean > 60 {
		return max(0, math.Round(mean+math.Sqrt(mean)*rng.NormFloat64()))
	}
	n, limit := 0.0, math.Exp(-mean)
	for p := rng.Float64(); p > limit; p *= rng.Float64() {
		n++
	}
	return n
}

// Walks are ways of walking an invented field at n stops, at least 8 m from its
// edge, by name: at random, a grid row by row from a side drawn at random, a W from
// end to end, and a road along one side.
func Walks() map[string]func(rng *rand.Rand, n int) [][2]float64 {
	return map[string]func(*rand.Rand, int) [][2]float64{"random": randomWalk, "grid": gridWalk, "W": wWalk, "road": roadWalk}
}

const fromEdge = 8.0

func randomWalk(rng *rand.Rand, n int) (at [][2]float64) {
	wide := InventedSide - 2*fromEdge
	for range n {
		at = append(at, [2]float64{fromEdge + wide*rng.Float64(), fromEdge + wide*rng.Float64()})
	}
	return at
}

func gridWalk(rng *rand.Rand, n int) (at [][2]float64) {
	rows := int(math.Round(math.Sqrt(float64(n))))
	turn, shift := rng.IntN(4), [2]float64{rng.Float64(), rng.Float64()}
	for r := range rows {
		first, last := n*r/rows, n*(r+1)/rows
		for c := range last - first {
			u, v := (float64(c)+shift[0])/float64(last-first), (float64(r)+shift[1])/float64(rows)
			if r%2 == 1 {
				u = 1 - u
			}
			at = append(at, turned(u, v, turn))
		}
	}
	return at
}

func wWalk(rng *rand.Rand, n int) (at [][2]float64) {
	turn := rng.IntN(4)
	for i := range n {
		s := 4 * (float64(i) + .5) / float64(n)
		up := math.Abs(math.Mod(s, 2) - 1)
		at = append(at, turned(s/4, up, turn))
	}
	return at
}

func roadWalk(rng *rand.Rand, n int) (at [][2]float64) {
	turn := rng.IntN(4)
	for range n {
		at = append(at, turned(rng.Float64(), .1*rng.Float64(), turn))
	}
	return at
}

// turned is a place of the unit square, turned by quarters, in the field.
func turned(u, v float64, quarters int) [2]float64 {
	for range quarters {
		u, v = 1-v, u
	}
	wide := InventedSide - 2*fromEdge
	return [2]float64{fromEdge + wide*u, fromEdge + wide*v}
}
