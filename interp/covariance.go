package interp

import (
	"math"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/lapack"
	"gonum.org/v1/gonum/lapack/lapack64"
)

// maxCondition bounds the condition number of a covariance matrix: beyond it
// fewer than two digits of a prediction are sure (gonum gives up at 1e16).
const maxCondition = 1e14

// observed is what a Gaussian process was seen to do: places, values, and the
// variance of each value's own error beside the model's nugget.
type observed struct {
	xs, ys, zs []float64
	noise      []float64 // nil is none
}

func (o *observed) len() int { return len(o.xs) }

func (o *observed) distance(i, j int) float64 {
	dx, dy := o.xs[i]-o.xs[j], o.ys[i]-o.ys[j]
	return math.Sqrt(float64(dx*dx) + float64(dy*dy))
}

// system is a covariance matrix C = UᵀU with what follows from it for the values
// z and for a mean of 1: with a = U⁻ᵀz and b = U⁻ᵀ1, the mean by generalised
// least squares is a·b / b·b. It can be built anew in the same memory.
type system struct {
	model  VariogramModel
	block  *block // what is predicted; nil is the value at a place
	seen   observed
	apart  []float64 // distances in metres, upper triangle; nil works them out
	matrix []float64
	factor blas64.Triangular
	a, b   blas64.Vector
	v      blas64.Vector // scratch of one prediction
	ab, bb float64
	shift  float64 // taken from the values, so that sums stay small
	half   float64 // sum of the logarithms of U's diagonal, half of log|C|
}

// grow gives the system space for n places, whose values the caller fills in.
func (s *system) grow(n int, noisy bool) {
	s.seen.xs, s.seen.ys, s.seen.zs = resized(s.seen.xs, n), resized(s.seen.ys, n), resized(s.seen.zs, n)
	if noisy {
		s.seen.noise = resized(s.seen.noise, n)
	}
	s.resize(n)
}

func (s *system) resize(n int) {
	s.matrix = resized(s.matrix, n*n)
	for _, v := range []*blas64.Vector{&s.a, &s.b, &s.v} {
		*v = blas64.Vector{N: n, Data: resized(v.Data, n), Inc: 1}
	}
}

func resized(v []float64, n int) []float64 {
	if cap(v) < n {
		return make([]float64, n)
	}
	return v[:n]
}

// fill writes the covariance matrix, upper triangle.
func (s *system) fill() blas64.Symmetric {
	n := s.seen.len()
	for i := range n {
		row := s.matrix[i*n : i*n+n]
		row[i] = s.model.Sill()
		if s.seen.noise != nil {
			row[i] += s.seen.noise[i]
		}
		for j := i + 1; j < n; j++ {
			if s.apart != nil {
				row[j] = s.apart[i*n+j]
			} else {
				row[j] = s.seen.distance(i, j)
			}
			row[j] = s.model.Covariance(row[j])
		}
	}
	return blas64.Symmetric{Uplo: blas.Upper, N: n, Data: s.matrix, Stride: n}
}

// solve factors the matrix and solves for the values and the mean; ok is false
// where the matrix is not positive definite.
func (s *system) solve() (ok bool) {
	if s.factor, ok = lapack64.Potrf(s.fill()); !ok {
		return false
	}
	n := s.seen.len()
	s.half = 0
	for i := range n {
		s.half += math.Log(s.matrix[i*n+i])
		s.b.Data[i] = 1
		s.a.Data[i] = s.seen.zs[i] - s.shift
	}
	blas64.Trsv(blas.Trans, s.factor, s.a)
	blas64.Trsv(blas.Trans, s.factor, s.b)
	s.ab, s.bb = blas64.Dot(s.a, s.b), blas64.Dot(s.b, s.b)
	return s.bb > 0 && !math.IsInf(s.half+s.ab+s.bb, 0) && !math.IsNaN(s.half+s.ab)
}

// newSystem factors the covariance matrix of all that was seen. ok is false
// where the matrix is not positive definite or its condition number, estimated
// in the 1-norm, is beyond maxCondition.
func newSystem(m VariogramModel, seen *observed, shift float64) (s *system, ok bool) {
	s = &system{model: m, seen: *seen, shift: shift}
	n := seen.len()
	s.resize(n)
	norm := lapack64.Lansy(lapack.MaxColumnSum, s.fill(), make([]float64, n))
	if !s.solve() {
		return nil, false
	}
	factored := blas64.Symmetric{Uplo: blas.Upper, N: n, Data: s.matrix, Stride: n}
	reciprocal := lapack64.Pocon(factored, norm, make([]float64, 3*n), make([]int, n))
	return s, reciprocal*maxCondition >= 1
}

// mean is that of the process, by generalised least squares.
func (s *system) mean() float64 { return s.shift + s.ab/s.bb }

// predict returns the expected value at a place and its variance: of a value seen
// there without error, nugget included, the uncertainty of the mean with it. With
// a block both are of the mean over the block around the place. v is scratch for as many numbers as there are places.
func (s *system) predict(x, y float64, v blas64.Vector) (value, variance float64) {
	own := s.model.Sill()
	if s.block != nil {
		own = s.block.within
	}
	for i, sx := range s.seen.xs {
		dx, dy := sx-x, s.seen.ys[i]-y
		if s.block != nil {
			v.Data[i] = s.block.covariance(dx, dy)
		} else {
			v.Data[i] = s.model.Covariance(math.Sqrt(float64(dx*dx) + float64(dy*dy)))
		}
	}
	blas64.Trsv(blas.Trans, s.factor, v)
	left := 1 - blas64.Dot(s.b, v) // what the weights fall short of 1
	value = s.shift + blas64.Dot(s.a, v) + float64(s.ab/s.bb*left)
	variance = own - blas64.Dot(v, v) + float64(left*left/s.bb)
	return value, max(0, variance)
}

// leaveOneOut returns what the other values say of each one, with the variance
// of the difference from it, all from one inverse (Dubrule 1983, Math. Geol.
// 15:687–699): with Q = C⁻¹ − C⁻¹11ᵀC⁻¹/(1ᵀC⁻¹1) the error is (Qz)ᵢ/Qᵢᵢ and its
// variance 1/Qᵢᵢ. It spends the factor: nothing else can be asked afterwards.
func (s *system) leaveOneOut() (values, variances []float64) {
	n := s.seen.len()
	blas64.Trsv(blas.NoTrans, s.factor, s.a)
	blas64.Trsv(blas.NoTrans, s.factor, s.b) // now C⁻¹z and C⁻¹1
	inverse, _ := lapack64.Potri(s.factor)   // fails on a zero diagonal only, which solve refuses
	values, variances = make([]float64, n), make([]float64, n)
	for i := range n {
		b := s.b.Data[i]
		q := inverse.Data[i*inverse.Stride+i] - float64(b*b/s.bb)
		qz := s.a.Data[i] - float64(b*s.ab/s.bb)
		values[i], variances[i] = s.seen.zs[i]-qz/q, 1/q
	}
	return values, variances
}
