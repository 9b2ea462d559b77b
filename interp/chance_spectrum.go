package interp

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/lapack"
	"gonum.org/v1/gonum/lapack/lapack64"
)

// spectrum is a Gaussian process on y = log(mean + c) for one c and one range,
// under many variances at once. With errors of variance N on a covariance σ²R the
// counts have C = σ²R + N, and whatever σ² is, the eigenvectors of N^−½RN^−½ =
// QΛQᵀ are those of N^−½CN^−½, whose eigenvalues are σ²λ + 1. So one
// decomposition serves every σ², and at a place one product with Q does.
type spectrum struct {
	*observation
	rows    []float64 // QᵀN^−½, row by row
	lambda  []float64
	z, one  []float64 // QᵀN^−½ times y less its shift, and times 1
	members []*member
}

// newSpectrum is nil where there is no decomposition. alike is R, upper triangle.
func newSpectrum(o *observation, alike []float64) *spectrum {
	n := len(o.y)
	s := &spectrum{observation: o, rows: make([]float64, n*n)}
	scale := make([]float64, n)
	for i, v := range o.noise {
		scale[i] = 1 / math.Sqrt(v)
	}
	for i := range n {
		for j := i; j < n; j++ {
			s.rows[i*n+j] = alike[i*n+j] * scale[i] * scale[j]
		}
	}
	if !s.decompose() {
		return nil
	}
	s.z, s.one = make([]float64, n), make([]float64, n)
	for k := range n {
		for i, f := range scale {
			v := s.rows[k*n+i] * f
			s.rows[k*n+i] = v
			s.z[k] += float64(v * (o.y[i] - o.shift))
			s.one[k] += v
		}
	}
	return s
}

// decompose turns the matrix in rows into its eigenvectors, one a row.
func (s *spectrum) decompose() bool {
	n := len(s.y)
	s.lambda = make([]float64, n)
	var size [1]float64
	a := blas64.Symmetric{Uplo: blas.Upper, N: n, Data: s.rows, Stride: n}
	lapack64.Syev(lapack.EVCompute, a, s.lambda, size[:], -1)
	work := make([]float64, int(size[0]))
	if slices.ContainsFunc(s.rows, unusable) || !lapack64.Syev(lapack.EVCompute, a, s.lambda, work, len(work)) {
		return false
	}
	for i := range n {
		s.lambda[i] = max(0, s.lambda[i])
		for j := i + 1; j < n; j++ {
			s.rows[i*n+j], s.rows[j*n+i] = s.rows[j*n+i], s.rows[i*n+j]
		}
	}
	return true
}

func unusable(v float64) bool { return math.IsNaN(v) || math.IsInf(v, 0) }

// member is a process of a spectrum.
type member struct {
	process
	mean, meanError float64 // of y less its shift by generalised least squares, and the variance of its error
	// Of QᵀN^−½r at a place: its weights in the expected y and in the sum of the
	// counts' weights, and of its squares in the variance.
	toMean, toSum, toVariance []float64
}

// add makes the process of a variance, and says what the others foretell of each
// place by it.
func (s *spectrum) add(variance, reach float64) {
	m := &member{process: process{ChanceParameters: s.ChanceParameters}}
	m.Variance, m.Range = variance, reach
	var log, zz, zo, oo float64
	for k, l := range s.lambda {
		d := float64(variance*l) + 1
		log += math.Log(d)
		zz += float64(s.z[k] * s.z[k] / d)
		zo += float64(s.z[k] * s.one[k] / d)
		oo += float64(s.one[k] * s.one[k] / d)
	}
	m.mean, m.meanError = zo/oo, 1/oo
	m.Mean = s.shift + m.mean
	m.likelihood = -(log + math.Log(oo) + zz - float64(zo*m.mean)) / 2
	m.left = s.withoutEach(m)
	s.members = append(s.members, m)
}

// withoutEach is as [system.leaveOneOut], without the own errors of the places.
func (s *spectrum) withoutEach(m *member) []gauss {
	n := len(s.y)
	q, qz, b := make([]float64, n), make([]float64, n), make([]float64, n)
	for k, l := range s.lambda {
		d := float64(m.Variance*l) + 1
		v, z, one := 1/d, (s.z[k]-float64(m.mean*s.one[k]))/d, s.one[k]/d
		for i, r := range s.rows[k*n : k*n+n] {
			q[i] += float64(float64(v*r) * r)
			qz[i] += float64(z * r)
			b[i] += float64(one * r)
		}
	}
	left := make([]gauss, n)
	for i, y := range s.y {
		own := q[i] - float64(float64(b[i]*b[i])*m.meanError)
		left[i] = gauss{y - qz[i]/own, max(0, 1/own-s.noise[i])}
	}
	return left
}

// keep drops the members without weight, and makes the others ready for places.
func (s *spectrum) keep() {
	s.members = slices.DeleteFunc(s.members, func(m *member) bool { return m.Weight == 0 })
	n := len(s.y)
	for _, m := range s.members {
		m.toMean, m.toSum, m.toVariance = make([]float64, n), make([]float64, n), make([]float64, n)
		for k, l := range s.lambda {
			v := m.Variance / (float64(m.Variance*l) + 1)
			m.toMean[k] = v * (s.z[k] - float64(m.mean*s.one[k]))
			m.toSum[k] = v * s.one[k]
			m.toVariance[k] = v * m.Variance
		}
	}
}

// of is what a member says of y at a place for which w is QᵀN^−½r: its expected
// value and variance, the uncertainty of the mean with it.
func (m *member) of(w []float64) gauss {
	var value, sum, known float64
	toMean, toSum, toVariance := m.toMean[:len(w)], m.toSum[:len(w)], m.toVariance[:len(w)]
	for k, v := range w {
		value += float64(toMean[k] * v)
		sum += float64(toSum[k] * v)
		known += float64(toVariance[k] * float64(v*v))
	}
	short := 1 - sum
	return gauss{m.Mean + value, max(0, m.Variance-known+float64(float64(short*short)*m.meanError))}
}
