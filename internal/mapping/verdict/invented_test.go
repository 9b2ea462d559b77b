package verdict_test

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/require"

	"github.com/geocoris/geocoris/geo"
	"github.com/geocoris/geocoris/internal/scouting/plan"
	"github.com/geocoris/geocoris/internal/scouting/survey"
	"github.com/geocoris/geocoris/internal/testkit/given"
)

// A truth is the mean per leaf at a place, metres in the field's frame.
type truth func(x, y float64) float64

// inventedLevel is the threshold of the invented fields: 40 aphids a leaf.
const inventedLevel = 40.0

// inventedKinds are the kinds of invented field, taken in turn. Their shapes and
// numbers are ours; the fall of edges and the sharpness of spots are those that
// extension bulletins describe.
var inventedKinds = []struct {
	name  string
	truth func(size float64, r *rand.Rand) truth
}{
	{"log-Gaussian, 2 % over", logGaussian(0.02, 1)},
	{"log-Gaussian, 10 % over", logGaussian(0.10, 1)},
	{"log-Gaussian, 30 % over", logGaussian(0.30, 1)},
	{"log-Gaussian, 60 % over", logGaussian(0.60, 1)},
	{"sharp round patches", roundPatches},
	{"patches drawn out by the wind", windPatches},
	{"one or two infested edges", infestedEdges},
	{"edge, patches and gradient", mixed},
	{"clean", clean},
	{"over everywhere", overEverywhere},
	{"concave with a hole", logGaussian(0.15, 1)},
	{"stretched in one direction", stretched},
}

const (
	cleanKind   = 8
	concaveKind = 10
)

// waves is a Gaussian process with mean 0, variance 1 and the covariance Matérn 3/2
// of a range, as random waves: their frequencies are drawn from its spectrum, a
// bivariate t distribution with 3 degrees of freedom. Along one direction it is
// drawn out by stretch.
func waves(reach, stretch float64, r *rand.Rand) truth {
	const count = 250
	type wave struct{ kx, ky, phase float64 }
	all := make([]wave, count)
	sin, cos := math.Sincos(math.Pi * r.Float64())
	for i := range all {
		a, b, c := r.NormFloat64(), r.NormFloat64(), r.NormFloat64()
		scale := 1 / (reach * math.Sqrt(a*a+b*b+c*c))
		u, v := scale*r.NormFloat64()/stretch, scale*r.NormFloat64()
		all[i] = wave{u*cos - v*sin, u*sin + v*cos, 2 * math.Pi * r.Float64()}
	}
	return func(x, y float64) (z float64) {
		for _, w := range all {
			z += math.Cos(w.kx*x + w.ky*y + w.phase)
		}
		return z * math.Sqrt(2.0/count)
	}
}

// logGaussian puts a share of the ground over the level: the logarithm has the
// standard deviation 0.8 to 1.6, and correlation 0.05 at 150 to 500 m.
func logGaussian(share, stretch float64) func(float64, *rand.Rand) truth {
	return func(_ float64, r *rand.Rand) truth {
		sigma := 0.8 + 0.8*r.Float64()
		mean := math.Log(inventedLevel) - sigma*math.Sqrt2*math.Erfinv(1-2*share)
		z := waves((150+350*r.Float64())/4.74, stretch, r)
		return func(x, y float64) float64 { return math.Exp(mean + sigma*z(x, y)) }
	}
}

func stretched(size float64, r *rand.Rand) truth {
	return logGaussian(0.1+0.2*r.Float64(), 3+2*r.Float64())(size, r)
}

func clean(_ float64, r *rand.Rand) truth {
	mean, z := math.Log(0.2)+r.Float64()*math.Log(15), waves(60, 1, r) // 0.2 to 3
	return func(x, y float64) float64 { return math.Exp(mean + 0.3*z(x, y)) }
}

func overEverywhere(_ float64, r *rand.Rand) truth {
	z := waves(60, 1, r)
	return func(x, y float64) float64 { return 150 * math.Exp(0.4*z(x, y)) }
}

// roundPatches take 3 to 25 % of a field of 0 to 4 per leaf: radius 25 to 100 m, 60 to
// 300 per leaf.
func roundPatches(size float64, r *rand.Rand) truth {
	return patches(size, r, 0.03+0.22*r.Float64(), 25, 100, 1)
}

// windPatches are drawn out three to six times along the wind of the day, and thin
// out downwind.
func windPatches(size float64, r *rand.Rand) truth {
	return patches(size, r, 0.03+0.22*r.Float64(), 15, 50, 3+3*r.Float64())
}

func patches(size float64, r *rand.Rand, share, least, most, stretch float64) truth {
	type patch struct{ x, y, radius, density float64 }
	var all []patch
	for taken := 0.0; taken < share*size*size; {
		p := patch{size * (r.Float64() - 0.5), size * (r.Float64() - 0.5), least + (most-least)*r.Float64(), 60 + 240*r.Float64()}
		taken += math.Pi * p.radius * p.radius * stretch
		all = append(all, p)
	}
	sin, cos := math.Sincos(2 * math.Pi * r.Float64())
	quiet := 4 * r.Float64()
	return func(x, y float64) float64 {
		v := quiet
		for _, p := range all {
			along, across := ((x-p.x)*cos+(y-p.y)*sin)/stretch, (y-p.y)*cos-(x-p.x)*sin
			if math.Hypot(along, across) > p.radius {
				continue
			}
			thin := 1.0
			if stretch > 1 {
				thin = math.Exp(-0.7 * (1 + along/p.radius)) // to a quarter at its end
			}
			v = max(v, p.density*thin)
		}
		return v
	}
}

// infestedEdges came in over one side or two: 100 to 400 per leaf there, falling by
// 1/e in 20 to 60 m.
func infestedEdges(size float64, r *rand.Rand) truth {
	quiet, turn := 0.5+4.5*r.Float64(), r.IntN(4)
	one := edge(size, turn, r)
	if r.IntN(2) == 0 {
		return func(x, y float64) float64 { return quiet + one(x, y) }
	}
	two := edge(size, (turn+1+r.IntN(3))%4, r)
	return func(x, y float64) float64 { return quiet + max(one(x, y), two(x, y)) }
}

func edge(size float64, turn int, r *rand.Rand) truth {
	peak, fall := 100+300*r.Float64(), 20+40*r.Float64()
	return func(x, y float64) float64 {
		d := size/2 + [...]float64{x, -x, y, -y}[turn]
		return peak * math.Exp(-max(0, d)/fall)
	}
}

func mixed(size float64, r *rand.Rand) truth {
	edge, spots := edge(size, r.IntN(4), r), patches(size, r, 0.02+0.08*r.Float64(), 20, 70, 1)
	steep, z := 1.5*r.Float64(), waves(80, 1, r)
	return func(x, y float64) float64 {
		return 5*math.Exp(2*steep*x/size+0.5*z(x, y)) + edge(x, y) + spots(x, y)
	}
}

// An invented field with its truth and the walk through it.
type invented struct {
	kind, stops, leaves int
	way                 string
	size                float64 // metres, of its box
	field               geo.Field
	frame               geo.Frame
	xy                  orb.MultiPolygon
	truth               truth
	survey              *survey.Survey
	text                string // the table of the walk
	// more adds stops at those that counted at or over the level, the hottest first.
	more func(hot []orb.Point, r *rand.Rand) []orb.Point
}

var inventedStops = []int{12, 16, 20, 30, 45, 60}

// invent makes the field of a number.
func invent(t *testing.T, number int) invented {
	kind := number % len(inventedKinds)
	return draw(t, number, inventedKinds[kind].truth, kind == concaveKind, anyWalk).of(kind)
}

func (f invented) of(kind int) invented {
	f.kind = kind
	return f
}

// anyWalk draws how a field is walked.
func anyWalk(f *invented, r *rand.Rand) {
	f.stops, f.leaves, f.way = inventedStops[r.IntN(len(inventedStops))], 10+10*r.IntN(2), []string{"random", "grid", "W"}[r.IntN(3)]
}

// draw makes a field, walked as walk says.
func draw(t *testing.T, number int, of func(float64, *rand.Rand) truth, concave bool, walk func(*invented, *rand.Rand)) (f invented) {
	r := rand.New(rand.NewPCG(*drawnFrom, uint64(number)))
	walk(&f, r)
	f.size = 450 + 450*r.Float64()
	f.field = geo.Field{Name: fmt.Sprint("field ", number), Boundary: outline(f.size, concave)}
	frame, err := geo.FrameOf(f.field.Boundary)
	require.NoError(t, err)
	f.frame, f.xy = frame, frame.ForwardPolygons(f.field.Boundary)
	f.truth = of(f.size, r)
	f.text = f.table(r)
	f.survey, err = survey.Read(given.Table(f.text), survey.Options{Pest: "sorghum aphid"})
	require.NoError(t, err)
	return f
}

// outline is a square, or one that lacks a corner and has a pond.
func outline(size float64, concave bool) orb.MultiPolygon {
	const degree = 111_320.0 // metres, about
	h := size / 2 / degree
	at := func(x, y float64) orb.Point { return orb.Point{x * h, y * h} }
	if !concave {
		return orb.MultiPolygon{{{at(-1, -1), at(1, -1), at(1, 1), at(-1, 1), at(-1, -1)}}}
	}
	return orb.MultiPolygon{{
		{at(-1, -1), at(1, -1), at(1, 0.2), at(0.1, 0.3), at(0, 1), at(-1, 1), at(-1, -1)},
		{at(-0.5, -0.5), at(-0.5, -0.2), at(-0.2, -0.2), at(-0.2, -0.5), at(-0.5, -0.5)},
	}}
}

// places are where the walk stops, 8 m or more inside, but for those at random.
func (f invented) places(r *rand.Rand) (at []orb.Point) {
	inside := func(p orb.Point, deep float64) bool {
		return geo.Contains(f.xy, p) && geo.DistanceToEdge(f.xy, p) >= deep
	}
	half := f.size / 2
	switch f.way {
	case "random":
		for len(at) < f.stops {
			if p := (orb.Point{f.size*r.Float64() - half, f.size*r.Float64() - half}); inside(p, 4) {
				at = append(at, p)
			}
		}
	case "grid":
		for side := 3; len(at) < f.stops; side++ {
			at = at[:0]
			for i := range side * side {
				if p := (orb.Point{f.size*(float64(i%side)+0.5)/float64(side) - half, f.size*(float64(i/side)+0.5)/float64(side) - half}); inside(p, 8) {
					at = append(at, p)
				}
			}
		}
		r.Shuffle(len(at), func(i, j int) { at[i], at[j] = at[j], at[i] })
		at = at[:f.stops]
	case "spread":
		p, err := plan.Make(f.field, plan.Settings{Stops: f.stops, Spread: true, Seed: r.Uint64()})
		if err != nil {
			panic(err) // no room in an invented field
		}
		for _, s := range p.Stops {
			at = append(at, f.frame.Forward(s.Lonlat))
		}
	default:
		for n := f.stops; len(at) < f.stops; n++ {
			at = at[:0]
			for i := range n {
				s := 4 * (float64(i) + 0.5) / float64(n) // along the four strokes of a W
				x, y := f.size*(0.05+0.9*s/4)-half, math.Abs(math.Mod(s, 2)-1)
				if p := (orb.Point{x, f.size*(0.05+0.9*y) - half}); inside(p, 8) {
					at = append(at, p)
				}
			}
		}
		at = at[:f.stops]
	}
	return at
}

// table is the walk as a table: leaves with negative binomial numbers, in a third
// of the walks estimated by groups, the position off by 5 m, in half of them a row for
// each leaf and else one for each stop.
func (f invented) table(r *rand.Rand) string {
	k, groups, byLeaf := 0.5+1.5*r.Float64(), r.IntN(3) == 0, r.IntN(2) == 0
	var b strings.Builder
	fmt.Fprintln(&b, "stop,longitude,latitude,count,leaves,date,pest,plant,leaf")
	number := 0
	walk := func(at []orb.Point) (found []counted) {
		for _, p := range at {
			number++
			mean := f.truth(p[0], p[1])
			read := f.frame.Inverse(orb.Point{p[0] + 5/math.Sqrt2*r.NormFloat64(), p[1] + 5/math.Sqrt2*r.NormFloat64()})
			total := 0
			for leaf := range f.leaves {
				n := negativeBinomial(mean, k, r)
				if groups && n > 20 { // guessed, and given in tens
					n = 10 * int(math.Round(float64(n)*math.Exp(0.25*r.NormFloat64())/10))
				}
				if total += n; byLeaf {
					fmt.Fprintf(&b, "%d,%.7f,%.7f,%d,1,2026-07-15,sorghum aphid,%d,1\n", number, read[0], read[1], n, leaf+1)
				}
			}
			if !byLeaf {
				fmt.Fprintf(&b, "%d,%.7f,%.7f,%d,%d,2026-07-15,sorghum aphid,,\n", number, read[0], read[1], total, f.leaves)
			}
			found = append(found, counted{p, float64(total) / float64(f.leaves)})
		}
		return found
	}
	found := walk(f.places(r))
	if f.more != nil {
		walk(f.more(hottest(found), r))
	}
	return b.String()
}

// counted is what was counted at a place, per leaf.
type counted struct {
	at    orb.Point
	value float64
}

// hottest are the places at or over the level, the hottest first.
func hottest(found []counted) (at []orb.Point) {
	slices.SortStableFunc(found, func(a, b counted) int { return cmp.Compare(b.value, a.value) })
	for _, c := range found {
		if c.value >= inventedLevel {
			at = append(at, c.at)
		}
	}
	return at
}

// negativeBinomial is a Poisson number whose mean is gamma distributed with shape k.
func negativeBinomial(mean, k float64, r *rand.Rand) int {
	return poisson(mean/k*gamma(k, r), r)
}

// gamma is by Marsaglia & Tsang 2000, ACM Trans. Math. Softw. 26:363–372.
func gamma(shape float64, r *rand.Rand) float64 {
	if shape < 1 {
		return gamma(shape+1, r) * math.Pow(r.Float64(), 1/shape)
	}
	d := shape - 1.0/3
	for {
		x := r.NormFloat64()
		v := math.Pow(1+x/math.Sqrt(9*d), 3)
		if v > 0 && math.Log(1-r.Float64()) < x*x/2+d-d*v+d*math.Log(v) {
			return d * v
		}
	}
}

func poisson(mean float64, r *rand.Rand) (n int) {
	if mean > 100 {
		return max(0, int(math.Round(mean+math.Sqrt(mean)*r.NormFloat64())))
	}
	for p := r.Float64(); p > math.Exp(-mean); p *= r.Float64() {
		n++
	}
	return n
}
